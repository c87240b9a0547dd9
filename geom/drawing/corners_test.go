package drawing

import (
	"math"
	"testing"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// unrolling is where a corner of a part appears on a flat, in millimetres of
// the paper's x and y up: nowhere, once, or on several faces.
type unrolling struct {
	flat, part string
	on         func(l joint.Layout, v geom.Vec) []pt
	// runsOff says that lines run off the paper, where no corner is.
	runsOff bool
}

const cornerNear = 1e-6 // a face's own corners lie this near it, in millimetres

func onPlane(x, want float64) bool { return math.Abs(x-want) < cornerNear }

// facesOf lists a corner's places on faces that follow each other across folds.
func facesOf(candidates ...placeIf) []pt {
	var out []pt
	for _, c := range candidates {
		if c.holds {
			out = append(out, c.at)
		}
	}
	return out
}

type placeIf struct {
	holds bool
	at    pt
}

var unrollings = map[string][]unrolling{
	"through-dovetail": dovetailUnrolled,
	"lapped-dovetail":  dovetailUnrolled,
	"angled-lap": {
		{"piece-a", "piece A", func(l joint.Layout, v geom.Vec) []pt {
			w := l.Parameters["width_a"]
			return facesOf(placeIf{onPlane(v.Z, 0), pt{v.X, v.Y}}, placeIf{onPlane(v.Y, 0), pt{v.X, v.Z}}, placeIf{onPlane(v.Y, w), pt{v.X, w - v.Z}})
		}, false},
		{"piece-b", "piece B", func(l joint.Layout, v geom.Vec) []pt {
			w, sin, cos := l.Parameters["width_b"], math.Sin(l.Parameters["crossing_angle"]*radian), math.Cos(l.Parameters["crossing_angle"]*radian)
			s, t, up := v.X*cos+v.Y*sin, v.X*sin-v.Y*cos, v.Z+l.Parameters["thickness"]
			return facesOf(placeIf{onPlane(up, 0), pt{s, t}}, placeIf{onPlane(t, 0), pt{s, -up}}, placeIf{onPlane(t, w), pt{s, w + up}})
		}, false},
	},
	"unequal-mitre": {
		{"board-a", "board a", func(_ joint.Layout, v geom.Vec) []pt { return []pt{{v.X, v.Y}} }, false},
		{"board-b", "board b", func(l joint.Layout, v geom.Vec) []pt {
			sin, cos := math.Sin(l.Parameters["corner_angle"]*radian), math.Cos(l.Parameters["corner_angle"]*radian)
			return []pt{{-(v.X*cos + v.Y*sin), v.X*sin - v.Y*cos}}
		}, false},
	},
	"angled-tenon": {{"front-shoulder", "rail", onRail, true}, {"back-shoulder", "rail", onRail, true}},
	"head-v-joint": {
		{"neck", "neck", func(l joint.Layout, v geom.Vec) []pt {
			w, t := l.Parameters["width"], l.Parameters["thickness"]
			y := v.Y + w/2
			return facesOf(placeIf{onPlane(v.Z, 0), pt{v.X, y}}, placeIf{onPlane(y, 0), pt{v.X, v.Z}},
				placeIf{onPlane(y, w), pt{v.X, w - v.Z}}, placeIf{onPlane(v.Z, -t), pt{v.X, -t - y}})
		}, false},
		{"head", "head", func(l joint.Layout, v geom.Vec) []pt {
			sin, cos := math.Sin(l.Parameters["head_angle"]*radian), math.Cos(l.Parameters["head_angle"]*radian)
			along, up, y := v.X*cos-v.Z*sin, v.X*sin+v.Z*cos, v.Y+l.Parameters["width"]/2
			return facesOf(placeIf{onPlane(up, 0), pt{along, y}}, placeIf{onPlane(along, 0), pt{up, y}})
		}, false},
	},
}

var dovetailUnrolled = []unrolling{
	{"tail-board", "tail board", func(l joint.Layout, v geom.Vec) []pt {
		t, long := l.Parameters["tail_thickness"], l.Quantities["tail_baseline"]
		return facesOf(placeIf{onPlane(v.Z, 0), pt{v.Y, v.X - long}}, placeIf{onPlane(v.X, long), pt{v.Y, -v.Z}}, placeIf{onPlane(v.Z, -t), pt{v.Y, t + long - v.X}})
	}, false},
	{"pin-board", "pin board", func(l joint.Layout, v geom.Vec) []pt {
		t, end := l.Parameters["pin_thickness"], v.Z+l.Parameters["tail_thickness"]
		return facesOf(placeIf{onPlane(v.X, 0), pt{v.Y, -end}}, placeIf{onPlane(end, 0), pt{v.Y, v.X}}, placeIf{onPlane(v.X, t), pt{v.Y, t + end}})
	}, false},
}

// onRail is where a corner of the rail's top, or of a tenon's, lies seen from
// above.
func onRail(l joint.Layout, v geom.Vec) []pt {
	if !onPlane(v.Z, 0) && !onPlane(v.Z, -l.Parameters["leg"]/3) {
		return nil
	}
	sin, cos := math.Sin(l.Quantities["splay_angle"]*radian), math.Cos(l.Quantities["splay_angle"]*radian)
	x, y := v.X-l.Parameters["leg"]/2, v.Y-(l.Parameters["front_width"]-l.Parameters["leg"])/2 // from the front leg's middle
	return []pt{{x*cos - y*sin, x*sin + y*cos}}
}

// The lines to saw on a template run between corners of the wood: the solids
// are cut from the blank by planes, the templates are drawn from the layout's
// numbers. On two hundred shipped blanks a family every end of every such line
// lies where a corner of the part comes to lie when its faces are unrolled, to
// 0.01 mm.
func TestTemplateLinesEndAtCornersOfTheWood(t *testing.T) {
	for _, f := range joint.All() {
		for _, u := range unrollings[f.ID] {
			t.Run(f.ID+"/"+u.flat, func(t *testing.T) {
				for _, blank := range shippedBlanks(t, f) {
					l, err := f.Layout(blank)
					if err != nil {
						t.Fatal(err)
					}
					drawn, corners := sawnEnds(t, f, blank, u), unrolledCorners(t, f, l, u)
					if miss := misfit(drawn, corners); miss > 0.01 {
						t.Fatalf("blank %v: a line ends %.3g mm from the nearest corner", blank, miss)
					}
				}
			})
		}
	}
}

// sawnEnds are the ends of a flat's wide lines, in millimetres, y up.
func sawnEnds(t *testing.T, f *joint.Family, blank joint.Values, u unrolling) []pt {
	t.Helper()
	flats, err := Flats(f, blank)
	if err != nil {
		t.Fatal(err)
	}
	var out []pt
	for _, flat := range flats {
		if flat.ID != u.flat {
			continue
		}
		for _, i := range flat.items {
			if s, ok := i.(stroke); ok && s.kind == visible {
				for _, st := range s.steps {
					p := st.p.times(1 / fullSize)
					inside := math.Min(math.Min(p.x, flat.W-p.x), math.Min(p.y, flat.H-p.y))
					if inside > 0.01 || !u.runsOff {
						out = append(out, pt{p.x, -p.y})
					}
				}
			}
		}
	}
	if len(out) < 2 {
		t.Fatalf("flat %s has no lines to saw", u.flat)
	}
	return out
}

func unrolledCorners(t *testing.T, f *joint.Family, l joint.Layout, u unrolling) []pt {
	t.Helper()
	parts, err := f.Pieces(l.Parameters)
	if err != nil {
		t.Fatal(err)
	}
	var out []pt
	for _, p := range parts {
		if p.Name != u.part {
			continue
		}
		for _, s := range p.Pieces {
			for _, v := range s.Vertices() {
				out = append(out, u.on(l, v)...)
			}
		}
	}
	return out
}

// misfit is how far the worst of the drawn points lies from the nearest corner
// when the drawing is moved to where it fits best; a template has no origin of
// its own.
func misfit(drawn, corners []pt) float64 {
	best := math.Inf(1)
	for _, c := range corners {
		by := c.sub(drawn[0])
		worst := 0.0
		for _, p := range drawn {
			near := math.Inf(1)
			for _, q := range corners {
				near = math.Min(near, p.add(by).to(q))
			}
			if worst = math.Max(worst, near); worst >= best {
				break
			}
		}
		best = math.Min(best, worst)
	}
	return best
}

// TestMisfitSees proves that the check can fail.
func TestMisfitSees(t *testing.T) {
	corners := []pt{{0, 0}, {40, 0}, {33, 18}, {7, 18}}
	for _, tc := range []struct {
		name  string
		drawn []pt
		want  float64
	}{
		{"moved", []pt{{5, 5}, {45, 5}, {38, 23}}, 0},
		{"one corner off", []pt{{5, 5}, {45, 5}, {38.5, 23}}, 0.5},
	} {
		if got := misfit(tc.drawn, corners); math.Abs(got-tc.want) > 1e-9 {
			t.Errorf("%s: misfit = %v, want %v", tc.name, got, tc.want)
		}
	}
}
