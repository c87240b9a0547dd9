package lessons

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
)

// Error is one fault of a module.
type Error struct {
	File string
	Line int // from 1
	Msg  string
}

func (e *Error) Error() string { return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Msg) }

// faults collects what is wrong in a set of modules.
type faults struct {
	list []*Error
}

func (f *faults) add(file string, line int, format string, args ...any) {
	f.list = append(f.list, &Error{File: file, Line: max(line, 1), Msg: fmt.Sprintf(format, args...)})
}

// sorted gives the faults by file and line; what is said twice is said once.
func (f *faults) sorted() []*Error {
	slices.SortStableFunc(f.list, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
	})
	return slices.CompactFunc(f.list, func(a, b *Error) bool { return *a == *b })
}

// join makes one error of all faults, or nil where there are none.
func join(list []*Error) error {
	errs := make([]error, len(list))
	for i, e := range list {
		errs[i] = e
	}
	return errors.Join(errs...)
}
