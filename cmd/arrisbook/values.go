package main

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// family finds a joint family, or says which one was probably meant.
func family(id string) (*joint.Family, error) {
	if f, ok := joint.Lookup(id); ok {
		return f, nil
	}
	ids := []string{}
	for _, f := range joint.All() {
		ids = append(ids, f.ID)
	}
	return nil, wrongUse("%s is not a joint family%s", id, meant(id, ids))
}

// assignment is one id=value as written.
type assignment struct{ id, text string }

func splitAssignment(arg string) (assignment, error) {
	id, text, ok := strings.Cut(arg, "=")
	if !ok || id == "" || text == "" {
		return assignment{}, wrongUse("%q is not of the form id=value", arg)
	}
	return assignment{id, text}, nil
}

// read turns assignments into values in the units of their ids. An id given
// twice is refused: only one of the two can be meant.
func read(given []assignment, units []unitOf) (joint.Values, error) {
	known := map[string]joint.Unit{}
	ids := []string{}
	for _, u := range units {
		known[u.id] = u.unit
		ids = append(ids, u.id)
	}
	values := joint.Values{}
	for _, a := range given {
		unit, ok := known[a.id]
		if !ok {
			return nil, wrongUse("%s is not known here%s", a.id, meant(a.id, ids))
		}
		if _, twice := values[a.id]; twice {
			return nil, wrongUse("%s is given twice", a.id)
		}
		v, err := readValue(a, unit)
		if err != nil {
			return nil, &usageError{err}
		}
		values[a.id] = v
	}
	return values, nil
}

// exponent is a number as programs print very small and very large ones. On
// paper nobody writes them so, and [grading.Read] refuses them.
var exponent = regexp.MustCompile(`^[-+]?[0-9]+(\.[0-9]+)?[eE][-+]?[0-9]+$`)

func readValue(a assignment, unit joint.Unit) (float64, error) {
	if exponent.MatchString(a.text) {
		v, err := strconv.ParseFloat(a.text, 64)
		if err != nil {
			return 0, fmt.Errorf("%s=%s: the number is too large", a.id, a.text)
		}
		return v, nil
	}
	r, err := grading.Read(a.text, unit, grading.Millimetres, nil)
	if err != nil {
		return 0, inputError(a, err)
	}
	return r.Value, nil
}

// readBlank is read for a family's parameters, all of which it wants.
func readBlank(given []assignment, f *joint.Family) (joint.Values, error) {
	values, err := read(given, parameterUnits(f))
	if err != nil {
		return nil, err
	}
	missing := []string{}
	for _, p := range f.Parameters {
		if _, ok := values[p.ID]; !ok {
			missing = append(missing, p.ID)
		}
	}
	if len(missing) > 0 {
		return nil, wrongUse("missing: %s", strings.Join(missing, ", "))
	}
	return values, nil
}

// inputError names the value in the words of the command line.
func inputError(a assignment, err error) error {
	var in *grading.InputError
	if errors.As(err, &in) {
		return &grading.InputError{Field: a.id + "=" + a.text, Text: a.text, Reason: in.Reason}
	}
	return err
}

// unitOf is an id with its unit.
type unitOf struct {
	id   string
	unit joint.Unit
}

func parameterUnits(f *joint.Family) []unitOf {
	units := []unitOf{}
	for _, p := range f.Parameters {
		units = append(units, unitOf{p.ID, p.Unit})
	}
	return units
}

func quantityUnits(f *joint.Family) []unitOf {
	units := []unitOf{}
	for _, q := range f.Quantities {
		units = append(units, unitOf{q.ID, q.Unit})
	}
	return units
}

// usage turns a catalogue's complaint about an id into a wrong use.
func usage(err error) error {
	var id *joint.IDError
	if errors.As(err, &id) {
		return &usageError{err}
	}
	return err
}
