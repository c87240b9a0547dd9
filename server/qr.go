package server

import (
	"fmt"
	"html/template"
	"strings"

	"github.com/skip2/go-qrcode"
)

// qrPicture draws a QR code as one path, one unit a module. The quiet zone of
// four modules that ISO/IEC 18004 asks for belongs to the picture.
func qrPicture(text string) (template.HTML, error) {
	code, err := qrcode.New(text, qrcode.Medium)
	if err != nil {
		return "", fmt.Errorf("draw a QR code: %w", err)
	}
	bitmap := code.Bitmap()
	var path strings.Builder
	for y, row := range bitmap {
		for x := 0; x < len(row); x++ {
			start := x
			for x < len(row) && row[x] {
				x++
			}
			if x > start {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", start, y, x-start, x-start)
			}
		}
	}
	// Numbers and fixed letters only: nothing of the text itself.
	return template.HTML(fmt.Sprintf(
		`<svg class="qr" role="img" aria-label="QR code" viewBox="0 0 %d %d" shape-rendering="crispEdges"><path d="%s"/></svg>`,
		len(bitmap), len(bitmap), path.String())), nil
}
