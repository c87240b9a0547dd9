package drawing

import "math"

// pt is a point or a direction on the paper: x to the right, y down, in units
// of a quarter millimetre.
type pt struct{ x, y float64 }

func (p pt) add(q pt) pt               { return pt{p.x + q.x, p.y + q.y} }
func (p pt) sub(q pt) pt               { return pt{p.x - q.x, p.y - q.y} }
func (p pt) times(k float64) pt        { return pt{p.x * k, p.y * k} }
func (p pt) dot(q pt) float64          { return float64(p.x*q.x) + float64(p.y*q.y) }
func (p pt) length() float64           { return math.Hypot(p.x, p.y) }
func (p pt) unit() pt                  { return p.times(1 / p.length()) }
func (p pt) to(q pt) float64           { return q.sub(p).length() }
func (p pt) mid(q pt) pt               { return p.add(q).times(0.5) }
func (p pt) toward(q pt, d float64) pt { return p.add(q.sub(p).unit().times(d)) }

// left is the direction a quarter turn anticlockwise as seen on the paper.
func (p pt) left() pt { return pt{p.y, -p.x} }

// right is the direction a quarter turn clockwise as seen on the paper.
func (p pt) right() pt { return pt{-p.y, p.x} }

// heading is the direction at an angle from the paper's x axis, anticlockwise
// as seen, in radians.
func heading(a float64) pt { return pt{math.Cos(a), -math.Sin(a)} }

// onLine is the foot of p on the line through q in direction u.
func (p pt) onLine(q, u pt) pt { return q.add(u.times(p.sub(q).dot(u))) }

// meet is the crossing of the line through p along u with the one through q
// along v. Lines that never meet give p.
func meet(p, u, q, v pt) pt {
	d := float64(u.x*v.y) - float64(u.y*v.x)
	if math.Abs(d) < 1e-12 {
		return p
	}
	w := q.sub(p)
	return p.add(u.times((float64(w.x*v.y) - float64(w.y*v.x)) / d))
}

// scale maps millimetres of wood to paper: an origin on the paper, units for a
// millimetre, and y up in the wood.
type scale struct {
	o pt
	k float64
}

func (s scale) at(x, y float64) pt { return pt{s.o.x + float64(x*s.k), s.o.y - float64(y*s.k)} }
