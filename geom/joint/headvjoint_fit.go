package joint

import (
	"math"

	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// vNumbers are the numbers that decide how the joint closes.
type vNumbers struct {
	half, faceHalf, cheekTilt                  geom.Angle
	mouthNear, mouthFar, faceLength, backShift float64
}

// vNumbersOf takes the numbers from the quantities; trouble says why no parts
// can be made from them.
func vNumbersOf(q Values) (v vNumbers, trouble string) {
	for _, id := range [...]string{"half_angle", "face_half_angle", "cheek_tilt", "mouth_near", "mouth_far", "face_v_length", "back_shift"} {
		if _, ok := q[id]; !ok {
			return v, "On this blank there is no joint to close."
		}
	}
	v = vNumbers{
		half: geom.Deg(q["half_angle"]), faceHalf: geom.Deg(q["face_half_angle"]), cheekTilt: geom.Deg(q["cheek_tilt"]),
		mouthNear: q["mouth_near"], mouthFar: q["mouth_far"],
		faceLength: q["face_v_length"], backShift: q["back_shift"],
	}
	switch {
	case v.half <= 0 || v.half >= geom.Right:
		trouble = "With this half angle the lines on the head do not make a V."
	case v.faceHalf <= 0 || v.faceHalf >= geom.Right:
		trouble = "With this half angle the lines on the neck do not make a V."
	case v.cheekTilt <= -geom.Right || v.cheekTilt >= geom.Right:
		trouble = "With this tilt no cheek can be sawn."
	case v.faceLength <= 0:
		trouble = "With this V length the neck has no tongue."
	}
	return v, trouble
}

// marked is the socket as marked: walls through the two mouth points on the
// head's end, at the half angle, square to the head's face.
func (v vNumbers) marked(f vFrame, width float64) (s vSocket, ok bool) {
	edge := geom.Along(f.origin, -width/2, f.across)
	s.near = geom.Along(edge, v.mouthNear, f.across)
	s.far = geom.Along(edge, v.mouthFar, f.across)
	sin, cos := v.half.SinCos()
	var okNear, okFar bool
	s.wallNear, okNear = geom.NewPlane(geom.Along(r3.Scale(sin, f.along), -cos, f.across), s.near)
	s.wallFar, okFar = geom.NewPlane(geom.Along(r3.Scale(sin, f.along), cos, f.across), s.far)
	return s, okNear && okFar
}

// vTongue is the tongue as marked: its tip at the V length on the neck's face,
// cheek lines there at the half angle for the neck, cheeks leaning by the
// tilt, and the shoulder through its lines on face and back. All normals point
// out of the neck.
type vTongue struct {
	tip                           geom.Vec
	cheekNear, cheekFar, shoulder geom.Plane
}

func (v vNumbers) tongue(f vFrame, thickness float64) (t vTongue, ok bool) {
	t.tip = geom.Along(f.origin, v.faceLength, f.ahead)
	sin, cos := v.faceHalf.SinCos()
	lean, level := v.cheekTilt.SinCos()
	// On the face the cheek line's normal is (sin, ∓cos); leaning turns it
	// down, so that the tongue is narrower on the back.
	var okNear, okFar, okShoulder bool
	t.cheekNear, okNear = geom.NewPlane(geom.Vec{X: level * sin, Y: -level * cos, Z: -lean}, t.tip)
	t.cheekFar, okFar = geom.NewPlane(geom.Vec{X: level * sin, Y: level * cos, Z: -lean}, t.tip)
	down := geom.Vec{X: -v.backShift, Z: -thickness}
	t.shoulder, okShoulder = geom.NewPlane(geom.Cross(down, f.across), f.origin)
	return t, okNear && okFar && okShoulder
}

// vMade is the joint made and slid home.
type vMade struct {
	givens  vGivens
	frame   vFrame
	numbers vNumbers
	socket  vSocket
	tongue  vTongue
	// mates are the near and far cheek, the near and far shoulder.
	mates [4]mating
	seat  geom.Seat
	// corners is the memory of the mates' faces: a square that is clipped
	// eight times has at most twelve corners.
	corners [4][2][12]geom.Vec
}

// seatTolerance is by how much contacts may exclude each other before a part
// is said not to go in at all: rounding, generously.
const seatTolerance = 1e-9

// makeVJoint makes both parts and slides the neck along p, in its nominal
// attitude and free to move sideways, until nothing more gives.
func makeVJoint(p, q Values, m *vMade) (trouble string) {
	m.givens = vGivensOf(p)
	if m.numbers, trouble = vNumbersOf(q); trouble != "" {
		return trouble
	}
	var okFrame, okSocket, okTongue, ok bool
	m.frame, okFrame = m.givens.frame()
	m.socket, okSocket = m.numbers.marked(m.frame, m.givens.width)
	m.tongue, okTongue = m.numbers.tongue(m.frame, m.givens.thickness)
	if !okFrame || !okSocket || !okTongue {
		return "On this blank there is no joint to close."
	}
	m.findMates()
	var contacts [6]geom.Contact
	m.seat, ok = geom.SlideHome(m.frame.along, []geom.Vec{m.frame.across}, m.contacts(contacts[:0]), seatTolerance)
	if !ok {
		return "Nothing of the tongue meets the head."
	}
	return ""
}

// findMates clips the four mating faces to the blank, and the cheeks to the
// slab that the head fills as well: what stands above the head's face or below
// its back meets no wall. The neck's cut end is not among the limits, for the
// tongue is judged as it was drawn. A face that is clipped away stays empty.
func (m *vMade) findMates() {
	f, t, s := m.frame, m.tongue, m.socket
	beyond := t.shoulder.Flip()
	m.mate(0, t.cheekNear, s.wallNear, beyond, t.cheekFar, f.headFace, f.headBack)
	m.mate(1, t.cheekFar, s.wallFar, beyond, t.cheekNear, f.headFace, f.headBack)
	m.mate(2, t.shoulder, f.headEnd, t.cheekNear.Flip())
	m.mate(3, t.shoulder, f.headEnd, t.cheekFar.Flip())
}

// mate clips one mating face to the blank and to what else bounds it.
func (m *vMade) mate(i int, face, wall geom.Plane, within ...geom.Plane) {
	f, g := m.frame, m.givens
	var in [8]geom.Plane
	n := copy(in[:], []geom.Plane{f.face, f.back, f.nearEdge, f.farEdge})
	n += copy(in[n:], within)
	centre := geom.Vec{X: m.numbers.faceLength / 2, Z: -g.thickness / 2}
	half := 4 * (m.numbers.faceLength + math.Abs(m.numbers.backShift) + g.thickness + g.width)
	buffer := [2]geom.Polygon{m.corners[i][0][:0], m.corners[i][1][:0]}
	m.mates[i] = mating{face: facet(face, centre, half, in[:n], &buffer), wall: wall}
}

// contacts are what may stop the neck: both cheeks against both walls, and
// the shoulders against the head's end.
func (m *vMade) contacts(dst []geom.Contact) []geom.Contact {
	for i, mate := range m.mates {
		walls := [2]geom.Plane{m.socket.wallNear, m.socket.wallFar}
		count := 2
		if i >= 2 {
			walls[0], count = m.frame.headEnd, 1
		}
		for _, w := range walls[:count] {
			if c, ok := mate.contact(w); ok {
				dst = append(dst, c)
			}
		}
	}
	return dst
}

// fitHeadVJoint sets travel, lateral and the four gaps.
func fitHeadVJoint(p, q Values, out []Made) string {
	var m vMade
	if trouble := makeVJoint(p, q, &m); trouble != "" {
		return trouble
	}
	out[0] = number(m.seat.Travel)
	out[1] = number(m.seat.Side[0])
	for i, mate := range m.mates {
		out[2+i] = mate.gap(m.seat.Move)
	}
	return ""
}
