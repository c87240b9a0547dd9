package drawing

// faceMark is the loop that marks the reference face, its tail run out to the
// reference edge at p; up is the direction from the edge into the face.
func (c *canvas) faceMark(p, up pt) {
	side := up.right()
	at := func(high, aside float64) pt { return p.add(up.times(high)).add(side.times(aside)) }
	c.put(stroke{narrow, []step{
		{op: 'M', p: p},
		{op: 'L', p: at(11, 8)},
		{op: 'A', p: at(11, 1), r: 3.5},
		{op: 'L', p: at(3, 9)},
	}})
}

// edgeMark is the V that marks the reference edge, its point at the arris of
// the reference face at p; in is the direction from there into the edge.
func (c *canvas) edgeMark(p, in pt) {
	side := in.right().times(5)
	c.line(narrow, p.add(in.times(12)).add(side), p, p.add(in.times(12)).sub(side))
}
