package drawing

import (
	"cmp"
	"slices"
)

// tidied sorts spans and joins those that overlap or touch.
func tidied(spans []span) []span { return joined(spans, 0) }

// joined sorts spans and joins those that are no farther apart than slack.
func joined(spans []span, slack float64) []span {
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	out := spans[:0]
	for _, s := range spans {
		if n := len(out); n > 0 && s.from <= out[n-1].to+slack {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

// without is what tidied spans have that tidied others have not.
func without(spans, others []span) []span {
	var out []span
	for _, s := range spans {
		at := s.from
		for _, o := range others {
			if o.to <= at || o.from >= s.to {
				continue
			}
			if o.from > at {
				out = append(out, span{at, o.from})
			}
			at = o.to
		}
		if at < s.to {
			out = append(out, span{at, s.to})
		}
	}
	return out
}

// shared is what tidied spans and tidied others both have.
func shared(spans, others []span) []span {
	var out []span
	for _, s := range spans {
		for _, o := range others {
			if both := (span{max(s.from, o.from), min(s.to, o.to)}); both.from < both.to {
				out = append(out, both)
			}
		}
	}
	return out
}
