package lessons

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
)

// Error is one fault of a module, or a warning.
type Error struct {
	File string
	Line int // from 1
	Msg  string
	// Warning says that the module can be used all the same.
	Warning bool
}

func (e *Error) Error() string {
	if e.Warning {
		return fmt.Sprintf("%s:%d: warning: %s", e.File, e.Line, e.Msg)
	}
	return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Msg)
}

// Faults leaves the warnings out of a list.
func Faults(list []*Error) []*Error {
	return slices.DeleteFunc(slices.Clone(list), func(e *Error) bool { return e.Warning })
}

// faults collects what is wrong in a set of modules.
type faults struct {
	list []*Error
}

func (f *faults) add(file string, line int, format string, args ...any) {
	f.list = append(f.list, &Error{File: file, Line: max(line, 1), Msg: fmt.Sprintf(format, args...)})
}

func (f *faults) warn(file string, line int, format string, args ...any) {
	f.list = append(f.list, &Error{File: file, Line: max(line, 1), Msg: fmt.Sprintf(format, args...), Warning: true})
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
