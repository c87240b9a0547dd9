package server

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"unicode"

	"github.com/labstack/echo/v4"
)

// csvTable is a table that leaves the server as a file.
type csvTable struct {
	Name string // of the file, without its ending
	Head []string
	Rows [][]string
}

// sendCSV sends a table as RFC 4180 has it: commas, quotes where needed, lines
// ended with CR LF, UTF-8.
func sendCSV(c echo.Context, t csvTable) error {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = harmless(cell)
		}
		// Writing into memory fails for no cell.
		if err := w.Write(safe); err != nil {
			return fmt.Errorf("write %s: %w", t.Name, err)
		}
	}
	w.Flush()
	c.Response().Header().Set(echo.HeaderContentDisposition, `attachment; filename="`+t.Name+`.csv"`)
	return c.Blob(http.StatusOK, "text/csv; charset=utf-8; header=present", b.Bytes())
}

// harmless keeps a spreadsheet from working a cell out: one that begins like a
// formula gets an apostrophe before it. Numbers stay numbers.
func harmless(cell string) string {
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	rest := strings.TrimLeftFunc(cell, unicode.IsSpace)
	first := strings.IndexFunc(rest, func(r rune) bool { return strings.ContainsRune("=+-@＝＋－＠", r) })
	if first == 0 || strings.HasPrefix(cell, "\t") || strings.HasPrefix(cell, "\r") || strings.HasPrefix(cell, "\n") {
		return "'" + cell
	}
	return cell
}
