package discover

// plan is how the formulas of a forest that can be an answer are tried on a
// class: the parts of others are worked out once and kept, the rest are
// compared with the answers as soon as they are known.
type plan struct {
	*forest
	roots []int32 // the formulas that can be an answer
	parts []int32 // the formulas that are worked out, ascending
	row   []int32 // by formula: its place among the parts, -1 for none
	uses  []use   // by root, of a bank's
}

// newPlan finds the parts that the roots need.
func newPlan(f *forest, roots []int32) *plan {
	p := &plan{forest: f, roots: roots, row: make([]int32, len(f.ops))}
	const needed, no = -2, -1
	for i := range p.row {
		p.row[i] = no
	}
	reached := make([]bool, len(f.ops))
	for _, i := range roots {
		reached[i] = true
	}
	for i := len(f.ops) - 1; i >= 0; i-- {
		if !reached[i] || leaf(f.ops[i]) {
			continue
		}
		for _, part := range [2]int32{f.l[i], f.r[i]} {
			if part >= 0 {
				reached[part], p.row[part] = true, needed
			}
		}
	}
	for i, r := range p.row {
		if r == needed {
			p.row[i] = int32(len(p.parts))
			p.parts = append(p.parts, int32(i))
		}
	}
	return p
}

// bytes is about what a plan takes of memory, its forest left out.
func (p *plan) bytes() int { return 4 * (len(p.roots) + len(p.parts) + len(p.row)) }
