package server

import (
	"context"
	"fmt"
	"net/http"
	"sync/atomic"
	"testing"

	"arrisbook/server/store"
)

// raceRounds is how often each of the four sheets is raced for.
const raceRounds = 50

// Leave to cut and new numbers, or another measuring of the wood, at the same
// moment: whichever comes first, no leave stands for anything but the newest
// numbers on the wood as it is.
func TestClearAgainstChange(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	// As many sheets as races, of students who are all still there.
	var sheets []int
	for i := range 4 {
		st := s.harness.students(s.class, s.instructor, fmt.Sprintf("Racer %c", 'A'+i))
		s.give(s.class, s.instructor, s.work.exercise.ID, st, uint64(400+i), nil)
		sheets = append(sheets, s.sheetOf(s.class, st[0].No))
	}
	var first, second atomic.Int64
	for i, sheet := range sheets {
		t.Run(fmt.Sprint("sheet ", sheet), func(t *testing.T) {
			t.Parallel()
			r := racer{school: s, t: t, sheet: sheet, staff: s.staffToken(s.instructor.ID)}
			r.pupil = s.studentToken(s.class, queryStudent(s, sheet), false)
			for round := range raceRounds {
				r.round(round, i%2 == 0 && round%5 == 4)
			}
			first.Add(int64(r.first))
			second.Add(int64(r.second))
		})
	}
	t.Cleanup(func() {
		t.Logf("%d rounds: leave came first %d times, too late %d times", len(sheets)*raceRounds, first.Load(), second.Load())
	})
}

func queryStudent(s *school, sheet int) int {
	sh, err := s.Store.Sheet(context.Background(), s.class.ID, sheet)
	s.must(err)
	return sh.StudentNo
}

// racer runs the races for one sheet.
type racer struct {
	*school
	t            *testing.T
	sheet        int
	staff, pupil string
	first        int // leave was given, and ended by what came after
	second       int // leave was refused
}

// now is the sheet as it stands.
func (r *racer) now() store.Sheet {
	sheet, err := r.Store.Sheet(context.Background(), r.class.ID, r.sheet)
	if err != nil {
		r.t.Fatal(err)
	}
	return sheet
}

func (r *racer) round(round int, wood bool) {
	attempt := r.complete(r.work, r.sheet)
	base := fmt.Sprintf("%s/sheets/%d", classPath(r.class, ""), r.sheet)
	clear := call{Method: http.MethodPost, Token: r.staff, Path: base + "/clear", Body: fields("attempt", fmt.Sprint(attempt)).Encode()}
	change := r.change(base, wood)
	calls := []call{clear, change}
	if round%2 == 1 {
		calls = []call{change, clear}
	}
	answers := r.together(calls)
	if round%2 == 1 {
		answers[0], answers[1] = answers[1], answers[0]
	}
	switch answers[0].Status {
	case http.StatusSeeOther:
		r.first++
	case http.StatusConflict:
		r.second++
	default:
		r.t.Fatalf("clear = %d:\n%s", answers[0].Status, answers[0].text())
	}
	if answers[1].Status != http.StatusSeeOther {
		r.t.Fatalf("%s = %d, want 303:\n%s", change.Path, answers[1].Status, answers[1].text())
	}
	all, err := r.Store.Clearances(context.Background(), r.class.ID, r.sheet)
	if err != nil {
		r.t.Fatal(err)
	}
	sheet := r.now()
	for _, c := range all {
		if c.Stands() {
			r.t.Fatalf("round %d: leave stands for attempt %d on wood %d; the sheet is at attempt %d on wood %d", round, c.AttemptNo, c.Wood, sheet.Attempts, sheet.Wood)
		}
	}
	if len(all) != r.first {
		r.t.Fatalf("round %d: %d clearances are kept, %d were given", round, len(all), r.first)
	}
}

// change is what the student sends at the same moment.
func (r *racer) change(base string, wood bool) call {
	sheet := r.now()
	if !wood {
		form := []string{"key", newKey(), "wood", fmt.Sprint(sheet.Wood)}
		for id, text := range r.rightTexts(r.work, sheet) {
			form = append(form, fieldOf(id), text)
		}
		return call{Method: http.MethodPost, Token: r.pupil, Path: base + "/attempts", Body: fields(form...).Encode()}
	}
	return call{Method: http.MethodPost, Token: r.pupil, Path: base + "/wood", Body: fields(measured(r.work, sheet, 0.1*float64(1+sheet.Wood%9))...).Encode()}
}

// Four instructors clear a bench at once: one gives leave, and the others are
// told that it was given.
func TestClearTogether(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	var staff []string
	for i := range 4 {
		p := s.account(fmt.Sprintf("i%d", i), true)
		s.member(s.class, p, "instructor", true)
		staff = append(staff, s.staffToken(p.ID))
	}
	for round := range 20 {
		attempt := s.complete(s.work, s.sheet)
		var calls []call
		for _, token := range staff {
			calls = append(calls, call{
				Method: http.MethodPost, Token: token, Path: fmt.Sprintf("%s/sheets/%d/clear", classPath(s.class, ""), s.sheet),
				Body: fields("attempt", fmt.Sprint(attempt)).Encode(),
			})
		}
		got := map[int]int{}
		for _, p := range s.together(calls) {
			inspect(t, s.harness, p)
			got[p.Status]++
		}
		all, err := s.Store.Clearances(context.Background(), s.class.ID, s.sheet)
		s.must(err)
		if got[http.StatusSeeOther] != 1 || got[http.StatusConflict] != len(staff)-1 || len(all) != round+1 || !all[0].Stands() || all[0].AttemptNo != attempt {
			t.Fatalf("round %d: answers %v, %d clearances, want one given and one row more", round, got, len(all))
		}
	}
}
