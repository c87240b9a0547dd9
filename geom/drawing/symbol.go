package drawing

// ProjectionSymbol is the truncated cone of ISO 5456-2: seen from the side,
// and seen on its small end on the side where the method puts that view. In
// the first angle method what is seen from the left stands on the right; in
// the third angle method on the left.
func ProjectionSymbol(m Angle) View {
	c := &canvas{}
	cone, rings := 14.0, 46.0
	title := "First-angle projection"
	if m == ThirdAngle {
		cone, rings = 48, 16
		title = "Third-angle projection"
	}
	const y, r, half = 13.0, 5.0, 10.5
	c.outline(visible, pt{cone - half, y - r}, pt{cone + half, y - 2*r}, pt{cone + half, y + 2*r}, pt{cone - half, y + r})
	c.put(ring{visible, pt{rings, y}, r})
	c.put(ring{visible, pt{rings, y}, 2 * r})
	c.line(centre, pt{cone - half - 3, y}, pt{cone + half + 3, y})
	c.line(centre, pt{rings - 2*r - 3, y}, pt{rings + 2*r + 3, y})
	c.line(centre, pt{rings, y - 2*r - 3}, pt{rings, y + 2*r + 3})
	return View{Title: title, W: 62, H: 26, class: "symbol", items: c.byLayer(pt{})}
}
