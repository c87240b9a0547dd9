package drawing

// gapPlace is a place on a socket's wall and the tongue's line beside it.
type gapPlace struct {
	wall, along         pt      // the place, and the wall's direction
	tongue, tongueAlong pt      // a point of the tongue's line, and its direction
	side                float64 // on which side of the wall the head's wood lies: 1 below, -1 above
}

// gapMark marks a gap: two arrowheads face each other across it, and a leader
// joins them to words that start at row; a dot marks where nothing is left
// between.
func (c *canvas) gapMark(g gapPlace, row pt, words string) {
	out := g.along.left()
	if out.y*g.side < 0 {
		out = out.times(-1)
	}
	t := meet(g.wall, out, g.tongue, g.tongueAlong)
	from := g.wall
	if g.wall.to(t) < 1 {
		c.put(ring{ink, g.wall, 3.5})
	} else {
		c.arrow(g.wall, out.times(-1))
		c.arrow(t, out)
		c.line(narrow, t, t.sub(out.times(arrowLong+3)))
		from = g.wall.add(out.times(arrowTail))
		c.line(narrow, g.wall, from)
	}
	c.line(narrow, from, row.add(pt{-5, -5}))
	c.write(row, start, words)
}
