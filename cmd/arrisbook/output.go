package main

import (
	"encoding/json"
	"fmt"
	"io"
	"text/tabwriter"

	"arrisbook/geom/joint"
)

// printJSON prints one compact object on one line.
func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// errorLine stands in the place of a line that failed.
type errorLine struct {
	Error string `json:"error"`
}

// printLineError tells people that a line failed and, as JSON, in its place.
func printLineError(t terminal, asJSON bool, err error) error {
	if _, failed := fmt.Fprintln(t.stderr, err); failed != nil {
		return failed
	}
	if asJSON {
		return printJSON(t.stdout, errorLine{err.Error()})
	}
	return nil
}

// table prints aligned columns. Nothing appears before flush.
type table struct{ w *tabwriter.Writer }

func newTable(w io.Writer) table { return table{tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)} }

func (t table) line(format string, args ...any) { fmt.Fprintf(t.w, format+"\n", args...) }

// number prints a value with its unit and what it is.
func (t table) number(id string, value float64, unit joint.Unit, name string) {
	t.line("  %s\t%s\t%s", id, amount(value, unit), name)
}

func (t table) flush() error { return t.w.Flush() }

// amount is a value for people: to a thousandth, with its unit.
func amount(value float64, unit joint.Unit) string {
	return fmt.Sprintf("%.3f%s", value+0, unitWords[unit]) // nothing has no sign
}

var unitWords = map[joint.Unit]string{joint.MM: " mm", joint.Deg: "°", joint.MM2: " mm²", joint.One: ""}
