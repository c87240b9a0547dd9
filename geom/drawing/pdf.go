package drawing

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"arrisbook/geom/drawing/fonts"
)

// PDF is a document in the making, page by page. The same pages give the same
// bytes. It is not for several goroutines at once.
type PDF struct {
	f    *fpdf.Fpdf
	w    pdfWriter
	long int
}

// someDay stands as the day of making in every document, so that the same
// pages give the same bytes; a page that needs a date shows it.
var someDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// NewPDF starts a document. The title is what a reader's window shows.
func NewPDF(title string) *PDF {
	f := fpdf.New("P", "mm", "A4", "")
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetCatalogSort(true)
	f.SetCreationDate(someDay)
	f.SetModificationDate(someDay)
	f.SetProducer("Arrisbook", true)
	f.SetTitle(title, true)
	f.SetLang("en")
	// The reader shows the page as large as it is: scaling is a slip that the
	// check bars are there for.
	f.SetDisplayMode("real", "continuous")
	f.AddUTF8FontFromBytes(sans, "", fonts.Regular)
	f.AddUTF8FontFromBytes(sans, "B", fonts.Bold)
	return &PDF{f: f}
}

// sans is the name of the lettering inside a document.
const sans = "sans"

// Add puts a page at the end.
func (d *PDF) Add(p *Page) {
	d.f.AddPageFormat("P", fpdf.SizeType{Wd: p.Paper.W, Ht: p.Paper.H})
	d.w = pdfWriter{f: d.f}
	d.w.items(p.items)
	d.long++
}

// Pages is how many pages there are.
func (d *PDF) Pages() int { return d.long }

// Write ends the document and writes it out; nothing may be added after it. A
// document without a page is an error.
func (d *PDF) Write(w io.Writer) error {
	if d.long == 0 {
		return fmt.Errorf("write PDF: it has no page")
	}
	var b bytes.Buffer
	if err := d.f.Output(&b); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	if _, err := w.Write(unscaled(b.Bytes())); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

// unscaled asks print dialogs not to fit pages to the paper unless they are
// told to (ISO 32000-1, 12.2: viewer preference PrintScaling). The library
// cannot say it, so it goes into the catalogue, which is the last object: only
// the place of the table after it moves.
func unscaled(pdf []byte) []byte {
	catalog := []byte("/Type /Catalog\n")
	i := bytes.LastIndex(pdf, catalog)
	j := bytes.LastIndex(pdf, []byte("startxref\n"))
	if i < 0 || j < i {
		return pdf
	}
	j += len("startxref\n")
	digits := bytes.IndexByte(pdf[j:], '\n')
	table, err := strconv.Atoi(string(pdf[j : j+digits]))
	if err != nil || table < i {
		return pdf
	}
	prefer := []byte("/ViewerPreferences <</PrintScaling /None>>\n")
	out := append(pdf[:i:i], catalog...)
	out = append(append(out, prefer...), pdf[i+len(catalog):j]...)
	out = strconv.AppendInt(out, int64(table+len(prefer)), 10)
	return append(out, pdf[j+digits:]...)
}
