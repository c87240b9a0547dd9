package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
)

// drawingAsked is one drawing as asked for.
type drawingAsked struct {
	family           *joint.Family
	blank            joint.Values
	file, kind, view string
	template         bool
	paper            drawing.Paper
}

// draw writes a drawing or a full-size template to a file.
func draw(_ context.Context, t terminal, args []string) error {
	a, err := askedDrawing(t, args)
	if err != nil {
		return err
	}
	content, err := a.content()
	var name *drawing.NameError
	switch {
	case errors.As(err, &name):
		return wrongUse("%s has no view %s%s", a.family.ID, name.Name, meant(name.Name, name.Known))
	case err != nil:
		return usage(err)
	}
	if err := os.WriteFile(a.file, content, 0o644); err != nil {
		return fmt.Errorf("write the drawing: %w", err)
	}
	return nil
}

// askedDrawing reads the command line.
func askedDrawing(t terminal, args []string) (drawingAsked, error) {
	var a drawingAsked
	flags := newFlags("draw")
	flags.StringVar(&a.file, "o", "", "the file to write: .svg or .pdf")
	flags.StringVar(&a.view, "view", "", "one view or figure by its name, instead of all views")
	flags.BoolVar(&a.template, "template", false, "full size, to glue to the wood")
	paper := flags.String("paper", drawing.A4.Name, "the paper of a .pdf: A4 or Letter")
	var words words
	if err := parse(t, "draw", flags, args, words.add); err != nil {
		return a, err
	}
	var err error
	if a.family, err = words.family(); err != nil {
		return a, err
	}
	if a.blank, err = readBlank(words.values, a.family); err != nil {
		return a, err
	}
	var ok bool
	if a.paper, ok = drawing.PaperNamed(*paper); !ok {
		return a, wrongUse("-paper %s: there are %s and %s", *paper, drawing.A4.Name, drawing.Letter.Name)
	}
	a.kind = strings.ToLower(filepath.Ext(a.file))
	switch {
	case a.file == "":
		return a, wrongUse("say where to write it: -o FILE.svg or -o FILE.pdf")
	case a.kind != ".svg" && a.kind != ".pdf":
		return a, wrongUse("-o %s: the name must end in .svg or .pdf", a.file)
	case a.template && a.view != "":
		return a, wrongUse("a template shows the wood’s faces, so -view has no place beside -template")
	}
	return a, nil
}

func (a drawingAsked) content() ([]byte, error) {
	title := a.family.Title
	if a.view != "" && a.kind == ".svg" {
		v, err := drawing.OneView(a.family, a.blank, a.view)
		return []byte(v.File()), err
	}
	pages, err := a.pages()
	if err != nil {
		return nil, err
	}
	if a.kind == ".svg" {
		return []byte(pages[0].SVG(title)), nil
	}
	d := drawing.NewPDF(title)
	for _, p := range pages {
		d.Add(p)
	}
	var b bytes.Buffer
	err = d.Write(&b)
	return b.Bytes(), err
}

// pages are those of a .pdf, or the one page of an .svg.
func (a drawingAsked) pages() ([]*drawing.Page, error) {
	if a.template {
		return a.templatePages()
	}
	if a.kind == ".svg" {
		a.paper.H = 0 // one page, as high as it must be
	}
	plate := drawing.Plate{Family: a.family, Blank: a.blank, Method: drawing.FirstAngle, View: a.view}
	return plate.Pages(a.paper)
}

func (a drawingAsked) templatePages() ([]*drawing.Page, error) {
	flats, err := drawing.Flats(a.family, a.blank)
	if err != nil {
		return nil, err
	}
	if len(flats) == 0 {
		return nil, fmt.Errorf("%s has no face that a template could be glued to", a.family.ID)
	}
	head := drawing.TemplateHead{
		Title: "Template: " + a.family.Title, Who: a.sizes(),
		Says: "Measure the blank before you glue. The shop’s rules and your instructor have the last word at saw and bench.",
	}
	if a.kind == ".svg" {
		p, _ := drawing.TemplateRoll(head, flats)
		return []*drawing.Page{p}, nil
	}
	return drawing.TemplatePages(a.paper, head, flats), nil
}

// sizes names the wood by the sizes that can be measured on it.
func (a drawingAsked) sizes() string {
	var sizes []string
	for _, p := range a.family.Parameters {
		if p.Measured {
			sizes = append(sizes, fmt.Sprintf("%s %g", strings.ToLower(p.Name), a.blank[p.ID]))
		}
	}
	return strings.Join(sizes, ", ")
}
