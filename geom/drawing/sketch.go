package drawing

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"arrisbook/geom/joint"
)

// A sketch is a lesson figure with no joint behind it: a tool, a mark, a way
// to measure. It is drawn from a few sizes that have its own names.
type sketch struct {
	// house are the sizes it is drawn from where the lesson gives no others;
	// all that it uses are there.
	house joint.Values
	draw  func(c *canvas, v joint.Values) View
}

var sketches = map[string]sketch{
	"marks":             {joint.Values{"width": 67.5, "thickness": 24}, marksSketch},
	"winding":           {nil, windingSketch},
	"stock-positions":   {joint.Values{"width": 67.5, "thickness": 24}, stockSketch},
	"reversal":          {joint.Values{"spread": 0.6, "reach": 140}, reversalSketch},
	"unrolled":          {joint.Values{"width": 67.5, "thickness": 24, "misclose": 0.4}, unrolledSketch},
	"inch-parts":        {nil, inchSketch},
	"zero-error":        {joint.Values{"reading": 24.35, "zero": 0.1, "size": 24.25}, zeroSketch},
	"running-and-chain": {joint.Values{"width": 157, "tails": 3, "pin": 6, "half_pin": 7}, runningSketch},
	"targets":           {nil, targetsSketch},
	"offsets":           {joint.Values{"along": 160, "angle": 17.5, "across": 50.45}, offsetsSketch},
	"three-readings":    {joint.Values{"angle": 17.5}, readingsSketch},
	"bevel-reversal":    {joint.Values{"along": 160, "angle": 17.5, "spread": 100.9}, bevelReversalSketch},
	"end-and-edge":      {joint.Values{"slope_angle": 6.34, "bevel_from_end": 83.66}, endAndEdgeSketch},
	"gap-words":         {nil, gapWordsSketch},
	"contact-marks":     {nil, contactSketch},
	"travel":            {joint.Values{"half_angle": 25.89, "gap": 0.18, "travel": 0.41}, travelSketch},
	"end-grain":         {nil, endGrainSketch},
}

// SketchNames lists the sketches in the order of the alphabet.
func SketchNames() []string { return slices.Sorted(maps.Keys(sketches)) }

// Sketch draws a sketch from the sizes it knows among those given, in
// millimetres and degrees, and its own for the rest. Where given has a text
// for a size it stands at the size's place, else the size by itself.
func Sketch(name string, sizes joint.Values, given map[string]string) (View, error) {
	s, ok := sketches[name]
	if !ok {
		return View{}, fmt.Errorf("there is no sketch %q; the sketches are %s", name, strings.Join(SketchNames(), ", "))
	}
	v, say := joint.Values{}, map[string]string{}
	for id, x := range s.house {
		if own, has := sizes[id]; has {
			x = own
		}
		v[id] = x
		say[id] = strconv.FormatFloat(hundredth(x), 'f', -1, 64)
		if strings.Contains(id, "angle") || strings.HasPrefix(id, "bevel") {
			say[id] = degrees(x)
		}
		if words := given[id]; words != "" {
			say[id] = words
		}
	}
	view := s.draw(&canvas{sheet: Sheet{Given: say}}, v)
	view.ID = "sketch-" + name
	return view, nil
}

// SketchSizes lists the sizes that a sketch is drawn from; none for a name that
// is no sketch.
func SketchSizes(name string) []string { return slices.Sorted(maps.Keys(sketches[name].house)) }

// words is what stands at a dimension that a sketch names by itself.
func words(s string) tag { return tag{text: s} }

// bar draws the outline of an upright rectangle between two corners.
func (c *canvas) bar(kind layer, a, b pt) { c.outline(kind, rectangle(a, b)...) }

func rectangle(a, b pt) []pt { return []pt{a, {b.x, a.y}, b, {a.x, b.y}} }

// degrees writes an angle as a sketch names it by itself.
func degrees(a float64) string {
	return strconv.FormatFloat(hundredth(a), 'f', -1, 64) + "°"
}
