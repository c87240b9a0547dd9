package drawing

import "math"

// matches draws the seams that a page shares with its neighbours: a dashed
// line along the middle of the overlap, and two marks on it that lie at the
// same places of the wood on both pages.
func (p *templatePage) matches(g grid, f Flat, col, row int) {
	x, y := float64(col)*g.stepX, float64(row)*g.stepY
	w, h := math.Min(g.w, f.W-x), math.Min(g.h, f.H-y)
	here := tileName(col, row)
	if col > 0 {
		p.seam(overlap/2, 0, 0, h, tileName(col-1, row)+"–"+here)
	}
	if col < g.cols-1 {
		p.seam(g.w-overlap/2, 0, 0, h, here+"–"+tileName(col+1, row))
	}
	if row > 0 {
		p.seam(0, overlap/2, w, 0, tileName(col, row-1)+"–"+here)
	}
	if row < g.rows-1 {
		p.seam(0, g.h-overlap/2, w, 0, here+"–"+tileName(col, row+1))
	}
}

// seam draws one from (x, y) on, w wide or h high, within the room.
func (p *templatePage) seam(x, y, w, h float64, name string) {
	x, y = p.x+x, p.y+y
	p.Rule(DashedLine, x, y, x+w, y+h)
	l := Lettering{Points: 8}
	if h > 0 {
		l.Turn = -90
	}
	for _, at := range []float64{0.2, 0.8} {
		mx, my := x+at*w, y+at*h
		p.target(mx, my)
		if h > 0 {
			p.Write(mx-1.2, my-4.5, l, name)
		} else {
			p.Write(mx+4.5, my-1.2, l, name)
		}
	}
}

// target is a match mark: a ring and a cross.
func (p *Page) target(x, y float64) {
	const arm, r = 4.0, 2.2
	p.items = append(p.items, ring{narrow, onPaper(x, y), r * unitsPerMM})
	p.Rule(NarrowLine, x-arm, y, x+arm, y)
	p.Rule(NarrowLine, x, y-arm, x, y+arm)
}

// pageMap draws how the pages lie, this one filled, above the standing bars.
func (p *templatePage) pageMap(g grid, col, row int) {
	room := p.h - barInch - 14
	cell := math.Min(math.Min((tileRight-4)/float64(g.cols), room/float64(g.rows)), 6)
	x0, y0 := p.x+p.w+4, p.y+4
	p.Write(x0, p.y+1.5, Lettering{Points: 8}, "How they lie")
	for r := range g.rows {
		for c := range g.cols {
			x, y := x0+float64(c)*cell, y0+float64(r)*cell
			p.Box(NarrowLine, x, y, cell, cell)
			if c == col && r == row {
				p.Fill(x+0.6, y+0.6, cell-1.2, cell-1.2)
			}
		}
	}
}
