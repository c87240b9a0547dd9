package drawing

import (
	"cmp"
	"math"
	"slices"
)

// option is one way of drawing something, and what it costs by itself: less
// usual places cost more.
type option struct {
	cost float64
	draw func(c *canvas)
}

// choose draws the option that costs least beside what stands on the canvas
// already. Equal costs go to the option that comes first, so that the same
// sizes always give the same drawing. It draws nothing where there is none.
func (c *canvas) choose(options []option) {
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(a.cost, b.cost) })
	c.site.take(c.items[c.site.marks:])
	best, least := []item(nil), math.Inf(1)
	for _, o := range options {
		if o.cost >= least {
			break
		}
		trial := &canvas{sheet: c.sheet, room: c.room}
		o.draw(trial)
		if sum := o.cost + c.site.cost(trial.items, least-o.cost); sum < least {
			best, least = trial.items, sum
		}
	}
	c.items = append(c.items, best...)
}

// around lists places about a point, nearest first, best in a direction.
func around(p, prefer pt, least float64) []placed {
	var out []placed
	for _, far := range [...]float64{0, 12, 26, 42, 62, 86} {
		for k := 0; k < 16; k++ {
			u := heading(float64(k) * pi / 8)
			cost := far/9 + 2*(1-u.dot(prefer))
			out = append(out, placed{p.add(u.times(least + far)), cost})
		}
	}
	return out
}

// placed is a place and what it costs.
type placed struct {
	at   pt
	cost float64
}

// labelled lists ways of showing a tag beside the end of its leader, and on which sides.
func (c *canvas) labelled(leave, prefer pt, t tag, cost float64) []option {
	least := 30.0
	if t.ball == nil {
		least = 16
	}
	var out []option
	for _, p := range around(leave, prefer, least) {
		for _, a := range [...]anchor{start, end} {
			if t.text == "" && a == end {
				continue
			}
			right := p.at.x >= leave.x
			if t.ball == nil && right != (a == start) {
				continue // a text runs away from its leader
			}
			more := 0.0
			if right != (a == start) {
				more = 1
			}
			out = append(out, option{cost + p.cost + more, func(c *canvas) { c.callout(leave, p.at, t, a) }})
		}
	}
	return out
}

// pointOut ties a parameter's or quantity's label to a point by a leader,
// best in a direction.
func (c *canvas) pointOut(p, prefer pt, id string) {
	t := c.of(id)
	if t.empty() {
		return
	}
	c.withRoom(t, func() { c.choose(c.labelled(p, unitOr(prefer), t, 0)) })
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
	options := []option{{0, func(c *canvas) { c.note(p, middle, words) }}}
	for _, far := range [...]float64{6, 12, 18, 26, 36, 48, 62, 80} {
		for k := 0; k < 16; k++ {
			at := p.add(heading(float64(k) * pi / 8).times(far))
			options = append(options, option{far / 3, func(c *canvas) { c.note(at, middle, words) }})
		}
	}
	c.choose(options)
}

// nameOut writes a name at the end of a leader from a point.
func (c *canvas) nameOut(p, prefer pt, words string) {
	var options []option
	for _, to := range around(p, unitOr(prefer), 14) {
		a, off := start, pt{4, 5}
		if to.at.x < p.x {
			a, off.x = end, -4
		}
		options = append(options, option{to.cost, func(c *canvas) {
			c.line(narrow, p, to.at)
			c.note(to.at.add(off), a, words)
		}})
	}
	c.choose(options)
}

// withRoom leaves for a given's text as much room as the longest of its kind
// takes, so that no student's drawing differs from another's in more than its
// texts.
func (c *canvas) withRoom(t tag, draw func()) {
	if t.text != "" && t.ball == nil && c.sheet.Answers == nil {
		c.room = c.sheet.roomForText(t.text)
	}
	draw()
	c.room = 0
}
