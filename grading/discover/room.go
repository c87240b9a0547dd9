package discover

// room is rows of numbers to work formulas out in, used again and again.
type room struct{ rows [][]float64 }

// work gives the numbers of a formula for n students. They stay as they are
// until the room is used again.
func (r *room) work(f *forest, i int32, cols [][]float64, n int) []float64 {
	return r.deep(f, i, cols, n, 0)
}

func (r *room) deep(f *forest, i int32, cols [][]float64, n, depth int) []float64 {
	o := f.ops[i]
	if o == opSize {
		return cols[f.l[i]][:n]
	}
	if o == opNumber {
		out := r.row(depth, n)
		for k := range out {
			out[k] = f.number(i)
		}
		return out
	}
	x := r.deep(f, f.l[i], cols, n, depth)
	var y []float64
	if o.binary() {
		y = r.deep(f, f.r[i], cols, n, depth+1)
	}
	out := r.row(depth, n)
	o.row(out, x, y)
	return out
}

func (r *room) row(depth, n int) []float64 {
	for depth >= len(r.rows) {
		r.rows = append(r.rows, nil)
	}
	if cap(r.rows[depth]) < n {
		r.rows[depth] = make([]float64, n)
	}
	return r.rows[depth][:n]
}
