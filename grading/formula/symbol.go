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
	main, sub, lowered := strings.Cut(m.symbolOf(id), "_")
	if !lowered || main == "" || sub == "" {
		m.put(identifier(main + sub))
		return
	}
	m.put("<msub>" + identifier(main) + identifier(sub) + "</msub>")
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
