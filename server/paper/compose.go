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
		pages = append(pages, o.templates(s)...)
	}
	return pages, nil
}

// templates are one student's, or a page that says why there is none: nobody
// should look for one among the sheets of others.
func (o Order) templates(s Sheet) []*drawing.Page {
	head := o.templateHead(s)
	flats, err := drawing.Flats(o.Exercise.Family, s.Sheet.Parameters)
	if err == nil {
		return drawing.TemplatePages(o.Class.Paper, head, flats)
	}
	p := drawing.NewPage(o.Class.Paper)
	p.Write(filing, margin+6, drawing.Lettering{Points: 12, Bold: true}, head.Title)
	p.Write(filing, margin+13, drawing.Lettering{Points: 10}, head.Who)
	p.Paragraph(filing, margin+24, o.Class.Paper.W-2*filing, drawing.Lettering{Points: 10},
		"There is no template for this wood: it cannot be drawn as it was measured. Work from the numbers.")
	return []*drawing.Page{p}
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
