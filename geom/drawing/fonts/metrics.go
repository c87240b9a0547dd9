package fonts

import "encoding/binary"

// read takes the advance widths out of a TrueType file: which glyph a letter
// has (table cmap, format 4) and how wide glyphs are (hhea, hmtx), as the
// OpenType specification lays them out. The files are embedded, so a table
// that is not there is a mistake of the build and panics.
func read(file []byte) *Metrics {
	u16 := func(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
	perEm := float64(u16(table(file, "head"), 18))
	measured := u16(table(file, "hhea"), 34) // glyphs with a width of their own
	hmtx := table(file, "hmtx")
	m := &Metrics{widths: map[rune]float64{}}
	eachGlyph(basicPlane(table(file, "cmap")), func(r rune, glyph int) {
		m.widths[r] = float64(u16(hmtx, 4*min(glyph, measured-1))) / perEm
	})
	return m
}

// table finds a table of the file by its tag.
func table(file []byte, tag string) []byte {
	n := int(binary.BigEndian.Uint16(file[4:]))
	for i := 0; i < n; i++ {
		entry := file[12+16*i:]
		if string(entry[:4]) == tag {
			from, long := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
			return file[from : from+long]
		}
	}
	panic("the font has no table " + tag)
}

// basicPlane finds the mapping of Unicode's basic plane in table cmap:
// platform 3, encoding 1, which is of format 4.
func basicPlane(cmap []byte) []byte {
	n := int(binary.BigEndian.Uint16(cmap[2:]))
	for i := 0; i < n; i++ {
		entry := cmap[4+8*i:]
		if binary.BigEndian.Uint32(entry) == 3<<16|1 {
			return cmap[binary.BigEndian.Uint32(entry[4:]):]
		}
	}
	panic("the font maps no Unicode")
}

// eachGlyph calls do for every letter of a mapping of format 4, which is a
// list of segments: their ends, their starts, a difference to the glyph's
// number, and where that is 0 an offset to a list of glyphs.
func eachGlyph(m []byte, do func(r rune, glyph int)) {
	u16 := func(at int) int { return int(binary.BigEndian.Uint16(m[at:])) }
	n := u16(6) / 2 // segments
	const ends = 14
	starts, deltas, offsets := ends+2*n+2, ends+4*n+2, ends+6*n+2
	for i := 0; i < n; i++ {
		first, last := u16(starts+2*i), u16(ends+2*i)
		delta, offset := u16(deltas+2*i), u16(offsets+2*i)
		for r := first; r <= last && r != 0xffff; r++ {
			glyph := r
			if offset != 0 {
				glyph = u16(offsets + 2*i + offset + 2*(r-first))
			}
			if glyph != 0 || offset == 0 {
				glyph = (glyph + delta) & 0xffff
			}
			if glyph != 0 {
				do(rune(r), glyph)
			}
		}
	}
}
