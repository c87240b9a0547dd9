package drawing

import (
	"strconv"

	"arrisbook/geom/joint"
)

// inchSketch is one inch of a rule four times, in ever finer parts.
func inchSketch(c *canvas, _ joint.Values) View {
	const left, long, high = 70.0, 256.0, 44.0
	for i, parts := range []int{2, 4, 8, 16} {
		y := 24 + float64(i)*(high+14)
		c.bar(visible, pt{left, y}, pt{left + long, y + high - 12})
		for n := 1; n < parts; n++ {
			tick := 8.0
			for half := parts / 2; half > 0 && n%half != 0; half /= 2 {
				tick += 0 // finer lines stay short
			}
			if n*2 == parts {
				tick = 20
			} else if n*4%parts == 0 {
				tick = 14
			}
			x := left + long*float64(n)/float64(parts)
			c.line(narrow, pt{x, y}, pt{x, y + tick})
		}
		c.note(pt{left - 10, y + 20}, end, strconv.Itoa(parts))
	}
	c.note(pt{left, 18}, middle, "0")
	c.note(pt{left + long, 18}, middle, "1 in")
	view := c.view("", "", "one inch of a rule, enlarged")
	view.Title = "One inch cut into 2, 4, 8 and 16 parts"
	view.Desc = "Four rules, one below the other. Each cuts the same inch into twice as many parts as the one above it."
	return view
}

// zeroSketch is a calliper's scale: what it shows with its jaws shut, and on
// the work. The zero error is drawn larger than it is.
func zeroSketch(c *canvas, v joint.Values) View {
	const left, long, y = 40.0, 274.0, 100.0
	shut := left + 34
	if v["zero"] < 0 {
		shut = left - 22
	}
	c.line(visible, pt{left - 30, y}, pt{left + long + 10, y})
	for i := range 11 {
		x := left + long*float64(i)/10
		tick := 8.0
		if i%5 == 0 {
			tick = 14
		}
		c.line(narrow, pt{x, y}, pt{x, y + tick})
	}
	c.note(pt{left - 8, y + 30}, end, "0")
	c.line(visible, pt{shut, y - 12}, pt{shut, y})
	c.line(visible, pt{left + long, y - 12}, pt{left + long, y})
	c.dimension(dimension{from: pt{left, y}, to: pt{left + long, y}, line: pt{0, y + 54}}, c.of("reading"))
	c.dimension(dimension{from: pt{shut, y - 12}, to: pt{left + long, y - 12}, line: pt{0, y - 34}}, c.of("size"))
	c.dimension(dimension{from: pt{left, y}, to: pt{shut, y}, line: pt{0, y - 66}, loose: true}, c.of("zero"))
	view := c.view("", "", "the zero error is drawn larger than it is")
	view.Title = "A calliper that does not show nought when its jaws touch"
	view.Desc = "The scale is counted from nought. With the jaws together the calliper already shows the zero error; on the work it shows the reading. The true size is what lies between the two."
	return view
}

// runningSketch is a board's end with its marks: running dimensions above, a
// chain below.
func runningSketch(c *canvas, v joint.Values) View {
	const left, long, top, high = 18.0, 318.0, 116.0, 40.0
	k := long / v["width"]
	tail := (v["width"] - 2*v["half_pin"] - (v["tails"]-1)*v["pin"]) / v["tails"]
	var marks []float64
	at := v["half_pin"]
	for range int(v["tails"]) {
		marks = append(marks, at, at+tail)
		at += tail + v["pin"]
	}
	c.bar(visible, pt{left, top}, pt{left + long, top + high})
	edge := pt{left, top}
	for _, m := range marks {
		c.line(narrow, pt{left + m*k, top}, pt{left + m*k, top + high})
	}
	shown := []float64{marks[0], marks[2], marks[len(marks)-1]}
	for i, m := range shown {
		d := dimension{from: edge, to: pt{left + m*k, top}, line: pt{0, top - 22 - float64(i)*30}, bareFrom: i > 0, bareTo: true}
		c.dimension(d, words(strconv.FormatFloat(hundredth(m), 'f', -1, 64)))
	}
	c.line(narrow, pt{left, top - 4}, pt{left, top - 86})
	for _, m := range shown[1:] {
		c.line(narrow, pt{left + m*k, top - 3}, pt{left + m*k, top - 56})
	}
	last := left
	for _, m := range marks {
		x := left + m*k
		c.dimension(dimension{from: pt{last, top + high}, to: pt{x, top + high}, line: pt{0, top + high + 22}, bare: true}, tag{})
		last = x
	}
	c.note(pt{left + long/2, top + high + 48}, middle, "chain: each from the mark before")
	view := c.view("", "", "running dimensions above, a chain below")
	view.Title = "The same marks as running dimensions and as a chain"
	view.Desc = "The end of a board with the marks of its tails. Above it each mark is measured from the same edge. Below it each is measured from the mark before."
	return view
}

// targetsSketch tells a fine scale that is wrong from a coarse one that is
// right.
func targetsSketch(c *canvas, _ joint.Values) View {
	hits := [][]pt{
		{{22, -24}, {27, -20}, {24, -16}, {29, -25}, {21, -19}},
		{{-18, 10}, {14, 17}, {6, -19}, {-12, -14}, {19, -3}},
	}
	for i, about := range []string{"fine, but off", "coarse, but true"} {
		o := pt{90 + float64(i)*176, 74}
		for _, r := range []float64{14, 34, 56} {
			c.put(ring{narrow, o, r})
		}
		for _, h := range hits[i] {
			c.put(ring{ink, o.add(h), 3})
		}
		c.note(o.add(pt{0, 84}), middle, about)
	}
	view := c.view("", "", "five readings of one size on each tool")
	view.Title = "Resolution and accuracy are two things"
	view.Desc = "Two targets. On the left five dots lie together, away from the middle. On the right five dots are scattered, with the middle among them."
	return view
}
