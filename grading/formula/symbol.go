package formula

import (
	"html"
	"strings"
	"unicode/utf8"
)

// greek turns the names of letters into the letters.
var greek = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η",
	"theta": "θ", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "rho": "ρ",
	"sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω", "pi": "π",
}

// symbolOf is the symbol of a name, or the name itself with spaces.
func (m *mathWriter) symbolOf(id string) string {
	if id == pi {
		return "π"
	}
	if m.symbol != nil {
		if s := m.symbol(id); s != "" {
			return s
		}
	}
	return strings.ReplaceAll(id, "_", " ")
}

func (m *mathWriter) name(id string) {
	symbol := m.symbolOf(id)
	main, mark := split(symbol)
	switch {
	case mark == "":
		m.put(identifier(symbol))
	case mark == prime:
		m.put("<msup>" + identifier(main) + "<mo>" + prime + "</mo></msup>")
	default:
		m.put("<msub>" + identifier(main) + identifier(mark) + "</msub>")
	}
}

const prime = "′"

// lowered are the small figures that a symbol may end with.
var lowered = map[string]string{
	"₀": "0", "₁": "1", "₂": "2", "₃": "3", "₄": "4", "₅": "5", "₆": "6", "₇": "7", "₈": "8", "₉": "9",
}

// split takes a prime or a subscript off a symbol, so that the letter is set
// as a letter: "L′", "m₁", "L_f".
func split(symbol string) (main, mark string) {
	if main, sub, ok := strings.Cut(symbol, "_"); ok && main != "" && sub != "" {
		return main, sub
	}
	last, size := utf8.DecodeLastRuneInString(symbol)
	main = symbol[:len(symbol)-size]
	if main == "" {
		return symbol, ""
	}
	if string(last) == prime {
		return main, prime
	}
	if figure, ok := lowered[string(last)]; ok {
		return main, figure
	}
	return symbol, ""
}

// identifier is one mi, italic by itself when it is one letter; words with
// spaces are text.
func identifier(s string) string {
	if g, ok := greek[s]; ok {
		s = g
	}
	if utf8.RuneCountInString(s) > 1 && strings.Contains(s, " ") {
		return "<mtext>" + html.EscapeString(s) + "</mtext>"
	}
	if strings.Trim(s, "0123456789") == "" {
		return "<mn>" + html.EscapeString(s) + "</mn>"
	}
	return "<mi>" + html.EscapeString(s) + "</mi>"
}
