package formula

import (
	"slices"
	"strconv"
	"strings"
)

// Equal says whether two formulas are the same up to the order and grouping
// of sums and products: a - b is -b + a, and a/2/b is a/(2*b). It does not
// multiply out and does not work numbers out.
func (f Formula) Equal(g Formula) bool { return f.Key() == g.Key() }

// Key is a text that two formulas share exactly when they are Equal: use it
// to leave out repeats.
func (f Formula) Key() string {
	if f.root == nil {
		return ""
	}
	return key(f.root)
}

func key(n Node) string {
	switch n := n.(type) {
	case Num:
		return strconv.FormatFloat(n.Value, 'g', -1, 64)
	case Name:
		return n.ID
	case Call:
		args := make([]string, len(n.Args))
		for i, a := range n.Args {
			args[i] = key(a)
		}
		if n.Func == "hypot" {
			slices.Sort(args)
		}
		return n.Func + "(" + strings.Join(args, ",") + ")"
	case Binary:
		if n.Op == '^' {
			return "(" + key(n.L) + "^" + key(n.R) + ")"
		}
	}
	return groupKey(n)
}

// groupKey is the key of a sum, a product or a change of sign.
func groupKey(n Node) string {
	if isSum(n) {
		var terms []string
		sumTerms(n, false, &terms)
		slices.Sort(terms)
		return "(" + strings.Join(terms, "") + ")"
	}
	negative, body := signedKey(n)
	if negative {
		return "(-" + body + ")"
	}
	return body
}

// isSum says that under any change of sign n is a sum or a difference.
func isSum(n Node) bool {
	switch n := n.(type) {
	case Neg:
		return isSum(n.X)
	case Binary:
		return n.Op == '+' || n.Op == '-'
	}
	return false
}

// sumTerms collects the terms of a flattened sum with their signs.
func sumTerms(n Node, negative bool, terms *[]string) {
	switch x := n.(type) {
	case Neg:
		sumTerms(x.X, !negative, terms)
		return
	case Binary:
		if x.Op == '+' || x.Op == '-' {
			sumTerms(x.L, negative, terms)
			sumTerms(x.R, negative != (x.Op == '-'), terms)
			return
		}
	}
	minus, body := signedKey(n)
	sign := "+"
	if minus != negative {
		sign = "-"
	}
	*terms = append(*terms, sign+body)
}

// signedKey is the key of a product without its sign, and the sign.
func signedKey(n Node) (negative bool, body string) {
	var p productParts
	p.collect(n, false)
	if len(p.over) == 1 && len(p.under) == 0 {
		return p.negative, p.over[0]
	}
	slices.Sort(p.over)
	slices.Sort(p.under)
	return p.negative, "(" + strings.Join(p.over, "*") + "/" + strings.Join(p.under, "/") + ")"
}

// productParts are the factors of a flattened product.
type productParts struct {
	negative    bool
	over, under []string
}

func (p *productParts) collect(n Node, under bool) {
	switch x := n.(type) {
	case Neg:
		p.negative = !p.negative
		p.collect(x.X, under)
		return
	case Binary:
		if x.Op == '*' || x.Op == '/' {
			p.collect(x.L, under)
			p.collect(x.R, under != (x.Op == '/'))
			return
		}
	}
	if under {
		p.under = append(p.under, key(n))
	} else {
		p.over = append(p.over, key(n))
	}
}
