package drawing

import "strings"

// setting is one setting of a bevel or table, in the order of the work.
type setting struct {
	id     string
	angle  float64
	square bool // measured from square, not from the edge
	lines  [2]string
}

// settingsFigure is the order of settings on a strip: each setting is set once
// and used for all its lines before the next.
func (g headV) settingsFigure(c *canvas) View {
	const cell = 88.0
	settings := []setting{
		{"half_angle", g.half, false, [2]string{"V on head", "from edge"}},
		{"face_half_angle", g.faceHalf, false, [2]string{"V on neck", "from edge"}},
		{"head_angle", g.head, true, [2]string{"both edges", "off square"}},
		{"cheek_tilt", g.tilt, true, [2]string{"saw table", "off square"}},
	}
	for i, s := range settings {
		x := float64(i) * cell
		c.settingCell(pt{x, 0}, s)
		n := string(rune('1' + i))
		c.put(text{at: pt{x + 8, 4}, size: sizeText, words: n, face: strong})
		if i > 0 {
			c.line(narrow, pt{x - 2, -8}, pt{x - 2, 116})
		}
	}
	v := c.view("figure-settings", "", "the settings in the order of the work")
	v.Title = "Four settings in the order of the work"
	v.Desc = "First the half angle for the V on the head, from the edge. Then the smaller half angle for the V on the neck, from the edge. Then the head angle for the slants on both edges, from square. Then the cheek tilt for a saw table, from square."
	return v
}

// settingCell draws a stock along an edge and a blade at the setting.
func (c *canvas) settingCell(o pt, s setting) {
	const y, blade = 66.0, 56.0
	corner := o.add(pt{16, y})
	a := s.angle
	from := 0.0
	if s.square {
		corner = o.add(pt{36, y})
		from, a = pi/2, pi/2-s.angle
		c.line(narrow, corner, corner.add(pt{0, -blade - 6}))
	}
	u := heading(a)
	n := u.left().times(3)
	c.outline(visible, corner, corner.add(u.times(blade)), corner.add(u.times(blade)).add(n.times(2)), corner.add(n.times(2)))
	c.outline(visible, o.add(pt{8, y}), o.add(pt{78, y}), o.add(pt{78, y + 7}), o.add(pt{8, y + 7}))
	c.arc(narrow, corner, blade-10, min(from, a), max(from, a))
	c.note(o.add(pt{42, y + 24}), middle, strings.Replace(c.of(s.id).text, " = ", " ", 1))
	c.note(o.add(pt{42, y + 40}), middle, s.lines[0])
	c.note(o.add(pt{42, y + 56}), middle, s.lines[1])
}
