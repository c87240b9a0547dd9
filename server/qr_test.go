package server

import (
	"fmt"
	"strings"
	"testing"

	"github.com/skip2/go-qrcode"
)

// The path covers exactly the dark modules of the code, drawn back on a grid.
func TestQRPicture(t *testing.T) {
	const text = "https://book.example/card/abcdefghijklmnopqrstuvwxyz012345"
	picture, err := qrPicture(text)
	if err != nil {
		t.Fatal(err)
	}
	code, err := qrcode.New(text, qrcode.Medium)
	if err != nil {
		t.Fatal(err)
	}
	want := code.Bitmap()
	got := make([][]bool, len(want))
	for y := range got {
		got[y] = make([]bool, len(want))
	}
	_, path, _ := strings.Cut(string(picture), ` d="`)
	path, _, _ = strings.Cut(path, `"`)
	for run := range strings.SplitSeq(strings.TrimPrefix(path, "M"), "M") {
		var x, y, w, back int
		if n, err := fmt.Sscanf(run, "%d %dh%dv1h-%dz", &x, &y, &w, &back); n != 4 || err != nil || w != back {
			t.Fatalf("run %q: %v", run, err)
		}
		for i := range w {
			got[y][x+i] = true
		}
	}
	for y := range want {
		for x := range want[y] {
			if got[y][x] != want[y][x] {
				t.Fatalf("module %d, %d = %v, want %v", x, y, got[y][x], want[y][x])
			}
		}
	}
	for i := range want { // the quiet zone
		for edge := range 4 {
			if want[edge][i] || want[i][edge] {
				t.Fatal("no quiet zone of four modules")
			}
		}
	}
}
