package drawing

import (
	"errors"
	"fmt"
	"slices"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// Every family's parts are pictured from a corner, as they stand together and
// pulled apart the way they slide home.
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
	title := f.Title + ", put together"
	if name == apartBy {
		parts = pulled(parts, ways(f.ID, parts, l))
		title = f.Title + ", the parts pulled apart"
	}
	cam := corner(35, 28)
	s := stage{cam, scale{k: roomFor(parts, cam, 318, 300)}}
	c := &canvas{}
	c.surface(s, parts)
	for _, part := range named(parts) {
		c.nameOut(s.on(frontOf(part, cam)), pt{1, -1}, part.Name)
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

// frontOf is a point in the middle of the largest face of a part that looks
// toward the reader.
func frontOf(part joint.Part, cam camera) geom.Vec {
	best, at := 0.0, centreOf(part)
	for _, s := range part.Pieces {
		for _, f := range s.Faces() {
			if seen := geom.Dot(f.Plane.N, cam.toward) * f.Corners.Area(); seen > best {
				best, at = seen, middleOf(f.Corners)
			}
		}
	}
	return at
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

// pictureNames are the pictures of a family's parts. Rafters that stand clear
// of each other are not pulled apart.
func pictureNames(f *joint.Family) []string {
	if f.ID == "hip-rafter" {
		return []string{together}
	}
	return []string{together, apartBy}
}

func hasPicture(f *joint.Family, name string) bool { return slices.Contains(pictureNames(f), name) }

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
