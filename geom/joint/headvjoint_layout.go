package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// vGivens are the parameters of the head's V joint.
type vGivens struct {
	thickness, width, length, mouth, finished, allowance float64
	tilt                                                 geom.Angle
}

func vGivensOf(p Values) vGivens {
	return vGivens{
		thickness: p["thickness"], width: p["width"],
		length: p["v_length"], mouth: p["v_width"],
		finished: p["head_thickness"], allowance: p["allowance"],
		tilt: geom.Deg(p["head_angle"]),
	}
}

// vFrame is everything that follows from the blank and the tilt alone. All
// normals point out of the neck, except that headEnd bounds what the neck may
// fill: it points into the head.
type vFrame struct {
	face, back            geom.Plane // of the neck
	nearEdge, farEdge     geom.Plane // near is the reference edge
	headFace, headBack    geom.Plane
	headEnd               geom.Plane
	along, up             geom.Vec // p and n: the head's length and its face's normal
	shoulder, backLine    geom.Line
	origin, across, ahead geom.Vec
}

// frame lays the head against the neck. ok is false where the blank has no
// thickness or width, or the head is turned back by a right angle or more.
func (g vGivens) frame() (f vFrame, ok bool) {
	sin, cos := g.tilt.SinCos()
	if !(g.thickness > 0 && g.width > 0 && cos > geom.Parallel && g.tilt > -geom.Right && g.tilt < geom.Right) {
		return vFrame{}, false
	}
	f.ahead, f.across = geom.Vec{X: 1}, geom.Vec{Y: 1}
	f.along, f.up = geom.Vec{X: cos, Z: -sin}, geom.Vec{X: sin, Z: cos}
	f.face = geom.Plane{N: geom.Vec{Z: 1}}
	f.back = geom.Plane{N: geom.Vec{Z: -1}, D: g.thickness}
	f.nearEdge = geom.Plane{N: geom.Vec{Y: -1}, D: g.width / 2}
	f.farEdge = geom.Plane{N: geom.Vec{Y: 1}, D: g.width / 2}
	f.headFace = geom.Plane{N: f.up}
	f.headBack = geom.Plane{N: r3.Scale(-1, f.up), D: g.thickness}
	f.headEnd = geom.Plane{N: f.along}
	var okFace, okBack bool
	f.shoulder, okFace = f.face.Meet(f.headEnd)
	f.backLine, okBack = f.back.Meet(f.headEnd)
	return f, okFace && okBack
}

// vSocket are the points and walls of the V as drawn on the head's face.
type vSocket struct {
	near, far, tip geom.Vec   // on the head's face
	wallNear       geom.Plane // normals point into the head
	wallFar        geom.Plane
}

// socket draws the V on the head's face and cuts it square to that face. ok is
// false where the V has no length or no width.
func (g vGivens) socket(f vFrame) (s vSocket, ok bool) {
	if !(g.length > 0 && g.mouth > 0) {
		return vSocket{}, false
	}
	s.near = geom.Along(f.origin, -g.mouth/2, f.across)
	s.far = geom.Along(f.origin, g.mouth/2, f.across)
	s.tip = geom.Along(f.origin, g.length, f.along)
	var okNear, okFar bool
	s.wallNear, okNear = geom.PlaneThrough(s.tip, s.near, r3.Sub(s.tip, f.up))
	s.wallFar, okFar = geom.PlaneThrough(s.far, s.tip, r3.Sub(s.tip, f.up))
	return s, okNear && okFar
}

// layoutHeadVJoint measures every quantity on the planes and points.
func layoutHeadVJoint(p Values, set func(string, float64)) []string {
	g := vGivensOf(p)
	f, okFrame := g.frame()
	s, okSocket := vSocket{}, false
	if okFrame {
		f.measureBlank(g, set)
		s, okSocket = g.socket(f)
	}
	depth, okTip := 0.0, false
	if okSocket {
		s.measureHead(f, set)
		depth, okTip = s.measureNeck(f, g, set)
	}
	most, limited := g.mostTilt()
	if limited {
		set("max_head_angle", most.Degrees())
	}
	return g.problems(okTip, depth, most, limited)
}

// measureBlank sets what needs no V.
func (f vFrame) measureBlank(g vGivens, set func(string, float64)) {
	// The back's shoulder line, seen from the plane that stands square on the
	// face along the face's shoulder line.
	square := geom.Plane{N: f.ahead}
	set("back_shift", -square.Dist(f.backLine.At))
	near, far := geom.Along(f.origin, -g.mouth/2, f.across), geom.Along(f.origin, g.mouth/2, f.across)
	set("mouth_near", -f.nearEdge.Dist(near))
	set("mouth_far", -f.nearEdge.Dist(far))
}

// measureHead sets what is drawn on the head's face.
func (s vSocket) measureHead(f vFrame, set func(string, float64)) {
	set("cheek_length", geom.Distance(s.near, s.tip))
	if a, ok := geom.AngleBetween(r3.Sub(s.tip, s.near), f.along); ok {
		set("half_angle", a.Degrees())
	}
}

// measureNeck sets what the V becomes on the neck. It hands back how deep the
// tongue's tip reaches below the head's face.
func (s vSocket) measureNeck(f vFrame, g vGivens, set func(string, float64)) (depth float64, ok bool) {
	tip, okTip := geom.Corner(s.wallNear, s.wallFar, f.face)
	foot, okFoot := geom.Corner(s.wallNear, s.wallFar, f.back)
	if !okTip || !okFoot {
		return 0, false
	}
	set("face_v_length", f.shoulder.Dist(tip))
	cheek := r3.Sub(tip, s.near)
	if a, ok := geom.AngleBetween(cheek, f.ahead); ok {
		set("face_half_angle", a.Degrees())
	}
	end := geom.Plane{N: f.ahead, D: geom.Dot(f.ahead, tip) + g.allowance}
	set("shoulder_from_end", -end.Dist(f.shoulder.At))
	set("back_shoulder_from_end", -end.Dist(f.backLine.At))
	set("tip_proud", f.headFace.Dist(tip))
	depth = -f.headFace.Dist(foot)
	set("tip_depth", depth)
	if a, ok := geom.FromSquare(f.face, s.wallNear); ok {
		set("cheek_tilt", a.Degrees())
	}
	return depth, true
}

// mostTilt is the tilt at which the lower end of the tip, cut at the finished
// thickness, comes to lie on the blank's back. That point stands a V length
// along the head and a head thickness below its face; as the head tilts, it
// goes round the shoulder line on a circle, and the blank's back cuts that
// circle in a chord. ok is false where the circle stays inside the wood.
func (g vGivens) mostTilt() (geom.Angle, bool) {
	if !(g.length > 0 && g.finished > 0 && g.thickness > 0) {
		return 0, false
	}
	level := geom.Vec{X: g.length, Z: -g.finished}
	back := geom.Plane{N: geom.Vec{Z: -1}, D: g.thickness}
	halfChord, ok := geom.HalfChord(geom.Norm(level), back.D)
	if !ok {
		return 0, false
	}
	there := geom.Along(back.Foot(geom.Vec{}), halfChord, geom.Vec{X: 1})
	// Tilting back turns +x toward -z: clockwise seen from the reference edge,
	// anticlockwise seen along +y.
	return geom.AngleOn(geom.Vec{Y: 1}, level, there)
}
