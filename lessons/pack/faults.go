package pack

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"arrisbook/lessons"
)

// faults collects what is wrong with a file.
type faults struct{ all []*lessons.Error }

func (f *faults) add(file string, line int, format string, args ...any) {
	f.all = append(f.all, &lessons.Error{File: file, Line: max(line, 1), Msg: fmt.Sprintf(format, args...)})
}

// decode reads one JSON value; ok is false where a fault was added instead.
func (f *faults) decode(file string, body []byte, into any) bool {
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	if err == nil {
		if _, more := d.Token(); !errors.Is(more, io.EOF) {
			f.add(file, lineAt(body, d.InputOffset()), "there is something behind the end")
			return false
		}
		return true
	}
	at := d.InputOffset()
	msg := strings.TrimPrefix(err.Error(), "json: ")
	if e, ok := errors.AsType[*json.SyntaxError](err); ok {
		at = e.Offset
	}
	if e, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		at, msg = e.Offset, fmt.Sprintf("%s cannot be %s", e.Field, e.Value)
	}
	if name, ok := strings.CutPrefix(msg, "unknown field "); ok {
		f.add(file, lineOf(body, name), "the key %s is not known here", name)
		return false
	}
	f.add(file, lineAt(body, at), "this is not what it should be: %s", msg)
	return false
}

// known refuses files of another format, or of a later version of it.
func (f *faults) known(file string, body []byte, format, want string, version int) bool {
	switch {
	case format != want:
		f.add(file, lineOf(body, `"format"`), "the format is %.40q; %q is read here", format, want)
	case version < 1 || version > formatVersion:
		f.add(file, lineOf(body, `"format_version"`), "the format has version %d; versions up to %d are read here", version, formatVersion)
	default:
		return true
	}
	return false
}

// lineAt gives the line of an offset.
func lineAt(body []byte, offset int64) int {
	return 1 + bytes.Count(body[:min(max(offset, 0), int64(len(body)))], []byte("\n"))
}

// lineOf gives the line of the first place where a text stands; 1: nowhere.
func lineOf(body []byte, text string) int {
	return lineAt(body, int64(bytes.Index(body, []byte(text))))
}
