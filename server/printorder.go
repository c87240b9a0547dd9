package server

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/skip2/go-qrcode"

	"arrisbook/geom/drawing"
	"arrisbook/grading"
	"arrisbook/server/paper"
	"arrisbook/server/store"
)

// printing is what pages about the paper of one assignment work from.
type printing struct {
	class      store.Class
	assignment store.Assignment
	exercise   *grading.Exercise
	rows       []store.RoomRow // by bench
	large      map[int]bool    // students who read large print
	address    string          // where the server is reached, for the squares
	now        time.Time
}

// printing loads it.
func (s *server) printing(ctx context.Context, class store.Class, a store.Assignment, ex *grading.Exercise, address string) (printing, error) {
	p := printing{class: class, assignment: a, exercise: ex, large: map[int]bool{}, address: address, now: s.now()}
	var err error
	if p.rows, err = s.store.Room(ctx, class.ID, a.No); err != nil {
		return p, err
	}
	students, err := s.store.Students(ctx, class.ID)
	for _, st := range students {
		p.large[st.No] = st.LargePrint
	}
	return p, err
}

// order puts a PDF together of the sheets of some students; nil: of all.
func (p printing) order(parts paper.Parts, students []int) (paper.Order, error) {
	o := paper.Order{
		Class: paperClass(p.class), Title: p.assignment.Title,
		Date: p.now.In(zoneOf(p.class)).Format("2 Jan 2006"), Exercise: p.exercise, Parts: parts,
	}
	states := map[int]roomLine{}
	for _, l := range arrange(seats(p.rows, p.exercise, 0), zoneOf(p.class)) {
		states[l.Seat.Sheet] = l
	}
	for _, r := range p.rows {
		if students != nil && !slices.Contains(students, r.StudentNo) {
			continue
		}
		sheet, err := p.sheet(r, states[r.SheetNo])
		if err != nil {
			return o, err
		}
		o.Sheets = append(o.Sheets, sheet)
	}
	return o, nil
}

// paperClass is what a class has settled about its paper.
func paperClass(class store.Class) paper.Class {
	c := paper.Class{Name: class.Name, Units: unitsOf(class), Method: drawing.Angle(class.Projection)}
	var ok bool
	if c.Paper, ok = drawing.PaperNamed(class.Paper); !ok {
		c.Paper = drawing.A4
	}
	return c
}

// sheet is one row of the room as paper needs it.
func (p printing) sheet(r store.RoomRow, l roomLine) (paper.Sheet, error) {
	code := sheetCode(p.class.ID, r.SheetNo)
	link, err := square(p.address + "/p/" + code)
	if err != nil {
		return paper.Sheet{}, err
	}
	s := paper.Sheet{
		No: r.SheetNo, Bench: r.Bench, Student: r.Name, Sheet: r.Sheet(), Measured: r.OnWood != nil,
		Code: sheetCodeGroups(code), Link: link, Large: p.large[r.StudentNo],
		Released: released(p.assignment, r.ClearedAt != nil, p.now),
		State:    paper.State{Says: l.State.Word, Attempts: r.Attempts, Verdicts: map[string]grading.Verdict{}},
	}
	if r.ClearedAt != nil && r.ClearedName != nil {
		s.Cleared = fmt.Sprintf("%s, %s", *r.ClearedName, r.ClearedAt.In(zoneOf(p.class)).Format("2 Jan 15:04"))
	}
	if l.State.Word == "working" && !l.Seat.Stale {
		s.State.Says = l.Note
	}
	if r.Result != nil && !l.Seat.Stale {
		for _, st := range r.Result.Steps {
			s.State.Verdicts[st.ID] = st.Verdict
		}
	}
	return s, nil
}

// square draws a QR code as rows of modules, with the quiet zone that ISO/IEC
// 18004 asks for.
func square(text string) ([][]bool, error) {
	code, err := qrcode.New(text, qrcode.Medium)
	if err != nil {
		return nil, fmt.Errorf("draw a QR code: %w", err)
	}
	return code.Bitmap(), nil
}

// unprintable lists the students whose names the lettering of paper cannot
// write: their sheets have room to write them by hand.
func (p printing) unprintable() []string {
	var names []string
	for _, r := range p.rows {
		if !drawing.Printable(r.Name) {
			names = append(names, r.Name)
		}
	}
	return names
}

// templates counts the sheets that may have a template.
func (p printing) templates() int {
	n := 0
	for _, r := range p.rows {
		if r.ClearedAt != nil || released(p.assignment, false, p.now) {
			n++
		}
	}
	return n
}
