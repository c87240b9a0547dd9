package lessons

import (
	"bytes"
	"sort"
	"strings"
)

// source is a stretch of a file with the number of its first line, so that a
// fault inside a block still names the line of the file.
type source struct {
	text   []byte
	first  int   // the file's line of the first byte
	breaks []int // offsets of the line feeds
}

func newSource(text []byte, first int) source {
	s := source{text: text, first: first}
	for i, c := range text {
		if c == '\n' {
			s.breaks = append(s.breaks, i)
		}
	}
	return s
}

// line gives the file's line of an offset.
func (s source) line(offset int) int {
	return s.first + sort.SearchInts(s.breaks, offset)
}

// splitFront parts the front matter, between two lines of three hyphens, from
// the body. ok is false where the file has none.
func splitFront(text []byte) (front, body source, ok bool) {
	text = bytes.TrimPrefix(text, []byte("\uFEFF"))
	lines := strings.SplitAfter(string(text), "\n")
	if strings.TrimRight(lines[0], " \r\n") != "---" {
		return source{}, newSource(text, 1), false
	}
	at := len(lines[0])
	for i, l := range lines[1:] {
		if strings.TrimRight(l, " \r\n") == "---" {
			return newSource(text[len(lines[0]):at], 2), newSource(text[at+len(l):], i+3), true
		}
		at += len(l)
	}
	return source{}, newSource(text, 1), false
}
