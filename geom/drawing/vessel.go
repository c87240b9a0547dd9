package drawing

import (
	"math"

	"arrisbook/geom"
	"arrisbook/geom/joint"
)

// The coopered vessel: a ring of tapered staves whose ends are square to
// their faces.
var vesselPainter = painter{
	sheet:    vesselSheet,
	fit:      vesselFit,
	figures:  []string{"section", "stave", "joint", "plan", "last-joint"},
	figure:   hoopFigures{vesselSheet, newVesselHoop, "staves", "edge_bevel"}.draw,
	problems: needsParts([]string{"stave_length", "top_width", "bottom_width", "edge_bevel"}),
	scale:    func(l joint.Layout) float64 { return hoopFitScale(l.Parameters["thickness"]) },
	template: vesselTemplate,
}

func newVesselHoop(l joint.Layout) (hoopCorner, bool) {
	h, ok := newHoop("coopered-vessel", l, l.Quantities["lean"], l.Parameters["staves"])
	if !ok {
		return hoopCorner{}, false
	}
	return h.corner()
}

func vesselSheet(l joint.Layout, s Sheet) []sheetView {
	k, ok := newVesselHoop(l)
	if !ok {
		return nil
	}
	joined := k.cornerView(s, "C", "edge_bevel", "")
	joined.View.ID, joined.View.Title = "joint", "A joint between two staves, cut square to it"
	joined.View.Caption = s.said("a joint, cut square to its line", k.cornerK(s))
	joined.View.Desc = "Two staves meet in a joint. The edge bevel is counted from square to a stave’s outside face."
	return []sheetView{
		k.vesselSection(s, l.Parameters), k.staveView(s, l.Quantities["taper_angle"]*radian),
		joined,
	}
}

// vesselSection is view A: the vessel cut upright through its axis.
func (h hoop) vesselSection(s Sheet, p joint.Values) sheetView {
	c := &canvas{sheet: s}
	rest, faces := section(h.parts, geom.Plane{N: geom.Vec{Y: -1}})
	m := scale{k: s.scaled(math.Min(200/p["top_diameter"], 300/p["height"]))}
	st := stage{fromEdge, m}
	c.hatchFaces(st, faces)
	c.surface(st, rest)
	foot, top := m.at(p["bottom_diameter"]/2, 0), m.at(p["top_diameter"]/2, p["height"])
	up := pt{0, -1}
	c.line(centre, m.at(0, p["height"]).add(pt{0, -10}), m.at(0, 0).add(pt{0, 10}))
	c.measure(ruler{from: pt{-top.x, top.y}, to: top, along: pt{1, 0}, out: up, off: 26}, "top_diameter")
	c.measure(ruler{from: pt{-foot.x, foot.y}, to: foot, along: pt{1, 0}, out: pt{0, 1}, off: 30}, "bottom_diameter")
	c.measure(ruler{from: pt{-foot.x, foot.y}, to: pt{-top.x, top.y}, along: up, out: pt{-1, 0}, off: 24}, "height")
	c.spread(opening{corner: top, a: -pi / 2, b: -pi/2 - h.lean, sideB: top.to(foot), r: math.Max(0.6*top.to(foot), 25/h.lean)}, "lean")
	other := h.counted(c, m.at(0.15*p["bottom_diameter"], p["height"]), pt{1, -1}, "staves", "staves")
	v := c.view("section", "A", s.said("the vessel cut upright through its axis", m.k)+other)
	v.Title = "The vessel cut upright through its axis"
	v.Desc = "Diameters are outside, from the middle of a flat to the middle of the opposite one. The staves lean outward."
	return sheetView{c, v}
}

// staveView is view B: a stave's outside face, its narrow end at the foot.
func (h hoop) staveView(s Sheet, taper float64) sheetView {
	c := &canvas{sheet: s}
	cam := h.sideFace()
	m := scale{k: s.scaled(roomFor(h.parts[:1], cam, 180, 330))}
	st := stage{cam, m}
	c.surface(st, h.parts[:1])
	low, high := [2]pt{st.on(h.lowLeft), st.on(h.lowRight)}, [2]pt{st.on(h.highLeft), st.on(h.highRight)}
	c.line(centre, high[0].mid(high[1]).sub(pt{0, 12}), low[0].mid(low[1]).add(pt{0, 12}))
	c.measure(ruler{from: high[0], to: high[1], out: pt{0, -1}, off: 26}, "top_width")
	c.measure(ruler{from: low[0], to: low[1], out: pt{0, 1}, off: 26}, "bottom_width")
	c.measure(ruler{from: low[0], to: high[0], along: pt{0, -1}, out: pt{-1, 0}, off: 30}, "stave_length")
	c.spread(opening{corner: low[1], a: pi/2 - taper, b: pi / 2, sideA: low[1].to(high[1]), r: math.Max(0.5*low[1].to(high[1]), 60)}, "taper_angle")
	v := c.view("stave", "B", s.said("a stave, seen square on its outside face", m.k))
	v.Title = "A stave, seen square on its outside face"
	v.Desc = "The stave is wider at the top. The taper is counted between an edge and the centre line."
	return sheetView{c, v}
}

func vesselFit(l joint.Layout, d fitDrawing) []View {
	k, ok := newVesselHoop(l)
	if !ok {
		return []View{}
	}
	return k.fitViews(d)
}

// vesselTemplate is a stave's outside face.
func vesselTemplate(l joint.Layout) []Flat {
	k, ok := newVesselHoop(l)
	if !ok {
		return []Flat{}
	}
	return []Flat{k.sideTemplate("The outside face of a stave", "bottom end", "top end",
		"The slanting lines are the stave’s edges on its outside face, before they are bevelled; the centre line lies on the board’s. The edge’s bevel is set from square to this face.")}
}
