package paper

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"arrisbook/geom/drawing"
)

// ErrNothing says that an order has no page: no sheets, or no part of them.
var ErrNothing = errors.New("there is nothing to print")

// Compose makes the PDF. tell, if any, hears after each sheet how many of all
// are done. The error is that of ctx when it ends first, or ErrNothing.
func Compose(ctx context.Context, o Order, tell func(done, of int)) ([]byte, error) {
	pdf := drawing.NewPDF(o.Title + ", " + o.Class.Name)
	add := func(pages []*drawing.Page) {
		for _, p := range pages {
			pdf.Add(p)
		}
	}
	if o.Parts.Overview && len(o.Sheets) > 0 {
		add(o.overview())
	}
	if o.Parts.Key && len(o.Sheets) > 0 {
		add(o.key())
	}
	for n, s := range o.Sheets {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		pages, err := o.student(s)
		if err != nil {
			return nil, fmt.Errorf("print sheet %d: %w", s.No, err)
		}
		add(pages)
		if tell != nil {
			tell(n+1, len(o.Sheets))
		}
	}
	if pdf.Pages() == 0 {
		return nil, ErrNothing
	}
	var b bytes.Buffer
	err := pdf.Write(&b)
	return b.Bytes(), err
}

// student is one student's pages.
func (o Order) student(s Sheet) ([]*drawing.Page, error) {
	var pages []*drawing.Page
	if o.Parts.Sheets {
		sheet, err := o.sheet(s)
		if err != nil {
			return nil, err
		}
		pages = append(pages, sheet...)
	}
	if o.Parts.Templates && s.MayHaveTemplate() && o.hasDrawing() {
		flats, err := drawing.Flats(o.Exercise.Family, s.Sheet.Parameters)
		if err != nil {
			return nil, err
		}
		pages = append(pages, drawing.TemplatePages(o.Class.Paper, o.templateHead(s), flats)...)
	}
	return pages, nil
}

func (o Order) templateHead(s Sheet) drawing.TemplateHead {
	says := "Measure the blank before you glue. "
	if s.Cleared == "" {
		says += "Only the instructor clears you to cut. "
	} else {
		says += "Cleared to cut: " + s.Cleared + ". "
	}
	return drawing.TemplateHead{
		Title: "Template: " + o.Title,
		Who:   fmt.Sprintf("%s, bench %d, sheet %d", o.named(s), s.Bench, s.No),
		Says:  says + "The shop’s rules and your instructor have the last word at saw and bench.",
	}
}
