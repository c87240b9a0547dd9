package drawing

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"arrisbook/geom"
	"arrisbook/geom/joint"

	"gonum.org/v1/gonum/spatial/r3"
)

// Every family's parts are pictured from a corner: as they stand together,
// pulled apart the way they slide home, and one by one.
const (
	together = "together"
	apartBy  = "apart"
)

// picture draws the parts of a joint from a corner.
func picture(f *joint.Family, l joint.Layout, name string) (View, error) {
	parts, err := f.Pieces(l.Parameters)
	if err != nil {
		return View{}, fmt.Errorf("draw %s: %w", f.ID, err)
	}
	parts, title := shownIn(f, l, shortened(f.ID, parts, l), name)
	cam := corner(35, 28)
	s := stage{cam, scale{k: roomFor(parts, cam, 318, 300)}}
	c := &canvas{}
	c.surface(s, parts)
	w := newWood(parts, cam)
	for _, part := range named(parts) {
		c.nameOut(s.on(w.frontOf(part)), pt{1, -1}, part.Name)
	}
	v := c.view("figure-"+name, "", "seen from a corner")
	v.Title = title
	v.Desc = "The parts: " + listed(parts) + "."
	return v, nil
}

// named are the parts that a picture names: all of a few, none of many that
// are alike.
func named(parts []joint.Part) []joint.Part {
	if len(parts) > mostNamed {
		return nil
	}
	return parts
}

// mostNamed is how many parts a picture has room to name.
const mostNamed = 4

// listed names the parts, or says how many there are.
func listed(parts []joint.Part) string {
	if len(parts) > mostNamed {
		return fmt.Sprintf("%s to %s, all alike", parts[0].Name, parts[len(parts)-1].Name)
	}
	names := ""
	for i, p := range parts {
		names += []string{"", ", "}[min(i, 1)] + p.Name
	}
	return names
}

// frontOf is a point on a face of a part that nothing hides from the reader,
// in the largest face that has one; the middle of the part where none has.
func (w *wood) frontOf(part joint.Part) geom.Vec {
	best, at := 0.0, centreOf(part)
	for _, s := range part.Pieces {
		for _, f := range s.Faces() {
			size := geom.Dot(f.Plane.N, w.cam.toward) * f.Corners.Area()
			if size <= best {
				continue
			}
			if p, ok := w.openOn(f.Corners); ok {
				best, at = size, p
			}
		}
	}
	return at
}

// openOn looks for a point of a face that nothing hides: its middle, else
// toward one of its corners.
func (w *wood) openOn(g geom.Polygon) (geom.Vec, bool) {
	mid := middleOf(g)
	if w.open(mid) {
		return mid, true
	}
	for _, far := range [...]float64{0.5, 0.75} {
		for _, v := range g {
			if p := geom.Along(mid, far, r3.Sub(v, mid)); w.open(p) {
				return p, true
			}
		}
	}
	return geom.Vec{}, false
}

// open says that nothing lies between a point and the reader, nor right
// beside that line.
func (w *wood) open(p geom.Vec) bool {
	return len(w.behind(-1, geom.Along(p, -0.5, w.cam.right), geom.Along(p, 0.5, w.cam.right))) == 0
}

func middleOf(g geom.Polygon) geom.Vec {
	var sum geom.Vec
	for _, v := range g {
		sum = geom.Along(sum, 1/float64(len(g)), v)
	}
	return sum
}

// pulled moves each part its way.
func pulled(parts []joint.Part, ways []geom.Vec) []joint.Part {
	out := make([]joint.Part, len(parts))
	for i, p := range parts {
		out[i] = joint.Part{Name: p.Name}
		for _, s := range p.Pieces {
			out[i].Pieces = append(out[i].Pieces, s.Moved(ways[i]))
		}
	}
	return out
}

// pictureNames are the pictures of a family's parts: together, apart where
// they do not stand clear of each other already, and each part by itself.
func pictureNames(f *joint.Family) []string {
	names := []string{together, apartBy}
	if f.ID == "hip-rafter" {
		names = names[:1]
	}
	for _, part := range shownParts[f.ID] {
		names = append(names, partPicture(part))
	}
	return names
}

func hasPicture(f *joint.Family, name string) bool { return slices.Contains(pictureNames(f), name) }

// partPicture is the name of a part's own picture: "part-tail-board".
func partPicture(part string) string {
	return "part-" + strings.ReplaceAll(strings.ToLower(part), " ", "-")
}

// shownParts holds one line a family: the parts that have a picture of their
// own, one of those that are alike.
var shownParts = map[string][]string{
	"through-dovetail": {"tail board", "pin board"},
	"lapped-dovetail":  {"tail board", "pin board"},
	"angled-lap":       {"piece A", "piece B"},
	"unequal-mitre":    {"board a", "board b"},
	"angled-tenon":     {"rail"},
	"head-scarf":       {"neck", "head piece"},
	"head-v-joint":     {"neck", "head"},
	"splayed-leg":      {"leg", "stretcher"},
	"splayed-box":      {"side 1"},
	"coopered-vessel":  {"stave 1"},
	"hip-rafter":       {"hip", "common rafter"},
}

// shownIn is what a picture shows of parts, in the way it shows them, and its
// title.
func shownIn(f *joint.Family, l joint.Layout, parts []joint.Part, name string) ([]joint.Part, string) {
	switch name {
	case together:
		return parts, f.Title + ", put together"
	case apartBy:
		return pulled(parts, ways(f.ID, parts, l)), f.Title + ", the parts pulled apart"
	}
	for i, part := range parts {
		if partPicture(part.Name) == name {
			return parts[i : i+1], f.Title + ", the " + part.Name + " by itself"
		}
	}
	return parts, f.Title
}

// sheetFigure makes a family's sheet views its lesson figures too, by their ids.
func sheetFigure(sheet func(l joint.Layout, s Sheet) []sheetView) func(f *joint.Family, l joint.Layout, name string) (View, error) {
	return func(f *joint.Family, l joint.Layout, name string) (View, error) {
		for _, v := range sheet(l, Sheet{Given: labels(f, l)}) {
			if v.View.ID == name {
				v.View.ID, v.View.Letter = "figure-"+name, ""
				return v.View, nil
			}
		}
		return View{}, errors.New("there is no view " + name)
	}
}
