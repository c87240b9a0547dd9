package discover

// ending is the last steps on one number, the last first, and the kind of the
// number that they start from.
type ending struct {
	ops  [2]op // opSize for none
	from kind
}

// steps lists the steps there are.
func (e ending) steps() []op {
	for i, o := range e.ops {
		if o == opSize {
			return e.ops[:i]
		}
	}
	return e.ops[:]
}

// endings lists how a formula of a kind may end.
func endings(asked kind) []ending {
	out := []ending{{from: asked}}
	switch asked {
	case length:
		out = append(out, ending{[2]op{opHalf}, length}, ending{[2]op{opDouble}, length})
	case angle:
		out = append(out, ending{[2]op{opComplement}, angle})
		for _, o := range []op{opAtan, opAsin, opAcos} {
			for _, k := range []kind{ratio, plain} {
				out = append(out, ending{[2]op{o}, k}, ending{[2]op{opComplement, o}, k})
			}
		}
	}
	return out
}
