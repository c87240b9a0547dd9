package drawing

// Block is one thing on a page that must not be torn: a view, a table, a
// sentence.
type Block struct {
	// Wide says that the block takes all columns.
	Wide bool
	H    float64 // in millimetres, with the space under it
	// Draw puts the block with its left upper corner at a place.
	Draw func(p *Page, x, y float64)
	// Over, if any, is set again above the block where it begins a page: the
	// heads of a table that goes on.
	Over *Block
}

// Room is the rectangle of a page that blocks may fill, in millimetres.
type Room struct{ X, Y, W, H float64 }

// Flow sets blocks on pages, in their order: each in the column that is
// shorter so far, a wide one under both.
type Flow struct {
	Columns int
	Gap     float64 // between columns
	// Start makes page n, counted from 0, and says where its blocks go.
	Start func(n int) (*Page, Room)
	// Rest, if any, fills the room that is left on the last page.
	Rest func(p *Page, left Room)
}

// Column is how wide a column is in a room.
func (f Flow) Column(r Room) float64 {
	return (r.W - f.Gap*float64(f.Columns-1)) / float64(f.Columns)
}

// Pages sets the blocks. A block that is higher than a page goes over its
// foot; nothing to set gives one page.
func (f Flow) Pages(blocks []Block) []*Page {
	s := &composition{flow: f}
	s.turn()
	for _, b := range blocks {
		s.set(b)
	}
	if f.Rest != nil {
		_, y := s.place(Block{Wide: true})
		left := s.room
		left.Y, left.H = left.Y+y, left.H-y
		f.Rest(s.pages[len(s.pages)-1], left)
	}
	return s.pages
}

// composition is a flow on its way.
type composition struct {
	flow  Flow
	pages []*Page
	room  Room
	used  []float64 // of the height, by column
}

// turn goes to the next page.
func (s *composition) turn() {
	p, room := s.flow.Start(len(s.pages))
	s.pages, s.room, s.used = append(s.pages, p), room, make([]float64, s.flow.Columns)
}

func (s *composition) set(b Block) {
	col, y := s.place(b)
	const rounding = 1e-6
	if y > 0 && y+b.H > s.room.H+rounding {
		s.turn()
		if b.Over != nil {
			s.set(*b.Over)
		}
		col, y = s.place(b)
	}
	x := s.room.X + float64(col)*(s.flow.Column(s.room)+s.flow.Gap)
	b.Draw(s.pages[len(s.pages)-1], x, s.room.Y+y)
	for c := range s.used {
		if b.Wide || c == col {
			s.used[c] = y + b.H
		}
	}
}

// place finds the column for a block, and how far down it starts there.
func (s *composition) place(b Block) (col int, y float64) {
	for c, used := range s.used {
		switch {
		case b.Wide:
			y = max(y, used)
		case used < s.used[col]:
			col = c
		}
	}
	if !b.Wide {
		y = s.used[col]
	}
	return col, y
}
