package drawing

import (
	"fmt"
	"io"
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
	if err := d.f.Output(w); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}
