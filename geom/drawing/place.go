package drawing

import "math"

// tie ties a tag to a point by a leader, best in a direction. It offers
// places nearest first.
func (s *search) tie(leave, prefer pt, t tag, cost float64, before func(c *canvas)) {
	least := 30.0
	if t.ball == nil {
		least = 16
	}
	for _, far := range [...]float64{0, 12, 26, 42, 62, 86} {
		if !s.worth(cost + far/9) {
			return
		}
		for k := 0; k < 16; k++ {
			u := heading(float64(k) * pi / 8)
			s.tieAt(leave, leave.add(u.times(least+far)), t, cost+far/9+2*(1-u.dot(prefer)), before)
		}
	}
}

// tieAt puts the tag's balloon or text at a place: a text alone runs away from
// its leader, one beside a balloon may stand on either side of it.
func (s *search) tieAt(leave, at pt, t tag, cost float64, before func(c *canvas)) {
	if !s.worth(cost) || t.ball != nil && !s.worth(cost+s.site.discCost(at)) {
		return // known before anything is drawn
	}
	side, other := start, end
	if at.x < leave.x {
		side, other = end, start
	}
	s.try(cost, func(c *canvas) {
		before(c)
		c.callout(leave, at, t, side)
	})
	if t.ball != nil && t.text != "" {
		s.try(cost+1, func(c *canvas) {
			before(c)
			c.callout(leave, at, t, other)
		})
	}
}

func nothing(*canvas) {}

// pointOut ties a parameter's or quantity's label to a point by a leader,
// best in a direction; nothing where the sheet has nothing to say about it.
func (c *canvas) pointOut(p, prefer pt, id string) {
	if t := c.of(id); !t.empty() {
		c.tied(p, prefer, t)
	}
}

// tied ties a tag to a point by a leader, best in a direction.
func (c *canvas) tied(p, prefer pt, t tag) {
	c.later(c.roomOf(t), func(s *search) { s.tie(p, unitOr(prefer), t, 0, nothing) })
}

// unitOr is a direction, or no direction where there is none.
func unitOr(p pt) pt {
	if p.length() == 0 {
		return p
	}
	return p.unit()
}

// name writes the name of a surface or line at a point or as near it as there
// is room.
func (c *canvas) name(p pt, words string) {
	c.later(0, func(s *search) {
		s.try(0, func(c *canvas) { c.note(p, middle, words) })
		for _, far := range [...]float64{6, 12, 18, 26, 36, 48, 62, 80} {
			for k := 0; k < 16 && s.worth(far/3); k++ {
				at := p.add(heading(float64(k) * pi / 8).times(far))
				s.try(far/3, func(c *canvas) { c.note(at, middle, words) })
			}
		}
	})
}

// nameOut writes a name at the end of a leader from a point, best in a
// direction.
func (c *canvas) nameOut(p, prefer pt, words string) {
	prefer = unitOr(prefer)
	c.later(0, func(s *search) {
		for _, far := range [...]float64{14, 26, 40, 56, 76, 100} {
			for k := 0; k < 16 && s.worth((far-14)/9); k++ {
				u := heading(float64(k) * pi / 8)
				at, a, off := p.add(u.times(far)), start, pt{4, 5}
				if at.x < p.x {
					a, off.x = end, -4
				}
				s.try((far-14)/9+2*(1-u.dot(prefer)), func(c *canvas) {
					c.line(narrow, p, at)
					c.note(at.add(off), a, words)
				})
			}
		}
	})
}

// roomOf is the least width of a given's text: before the release as much as
// the longest of its kind takes, so that no student's drawing differs from
// another's in more than its texts.
func (c *canvas) roomOf(t tag) float64 {
	if t.text == "" || t.ball != nil || c.sheet.Answers != nil {
		return 0
	}
	return math.Max(c.sheet.roomForText(t.text), textWidth(t.text, sizeText))
}

// withRoom draws with that room.
func (c *canvas) withRoom(t tag, draw func()) {
	c.room = c.roomOf(t)
	draw()
	c.room = 0
}
