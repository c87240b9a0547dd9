package formula

import (
	"slices"
	"testing"
)

func TestSubstitute(t *testing.T) {
	f := MustParse("v_length/cos(head_angle) + v_length")
	g := f.Substitute(func(id string) (Formula, bool) {
		if id == "v_length" {
			return MustParse("a - b"), true
		}
		return Formula{}, false
	})
	if got, want := g.String(), "(a - b)/cos(head_angle) + (a - b)"; got != want {
		t.Errorf("Substitute = %q, want %q", got, want)
	}
	if f.String() != "v_length/cos(head_angle) + v_length" || f.Plain() != f.String() {
		t.Errorf("Substitute changed the formula it was asked of: %q", f.Plain())
	}
	if name := g.Root().(Binary).R.(Binary).L.(Name); name.Col != 0 {
		t.Errorf("a substituted name has column %d, want 0", name.Col)
	}
}

func TestEdits(t *testing.T) {
	f := MustParse("atan(v_width/2) + tan(v_width)")
	swap := func(n Node) []Node {
		switch n := n.(type) {
		case Call:
			if n.Func == "tan" {
				n.Func = "sin"
				return []Node{n}
			}
		case Binary:
			if n.Op == '/' {
				return []Node{Op(n.R, '/', n.L), n.L}
			}
		}
		return nil
	}
	type edit struct {
		col  int
		tree string
	}
	want := []edit{
		{6, "atan(2/v_width) + tan(v_width)"},
		{6, "atan(v_width) + tan(v_width)"},
		{19, "atan(v_width/2) + sin(v_width)"},
	}
	var got []edit
	for _, e := range Edits(f.Root(), swap) {
		got = append(got, edit{e.Col, FromNode(e.Tree).Plain()})
	}
	if !slices.Equal(got, want) {
		t.Errorf("Edits(%s) = %v, want %v", f, got, want)
	}
	if n := len(Variants(f.Root(), swap)); n != len(want) {
		t.Errorf("Variants gives %d trees, want %d", n, len(want))
	}
	if f.Plain() != f.String() {
		t.Errorf("Edits changed the tree it was given: %s", f.Plain())
	}
}

// An edit at every node gives as many variants as there are nodes, each
// different from the formula at one place.
func TestVariantsReachEveryNode(t *testing.T) {
	f := MustParse("asin(t/sqrt(l^2 + h^2)) - hypot(-h, 3)/l")
	got := Variants(f.Root(), func(Node) []Node { return []Node{Name{ID: "here"}} })
	seen := map[string]bool{}
	for _, n := range got {
		seen[FromNode(n).Plain()] = true
	}
	if len(got) != f.Size() || len(seen) != f.Size() {
		t.Errorf("Variants of %d nodes gives %d trees, %d distinct", f.Size(), len(got), len(seen))
	}
}

func TestSimplify(t *testing.T) {
	tests := []struct{ in, want string }{
		{"a*1", "a"},
		{"1*a", "a"},
		{"a/1", "a"},
		{"a+0", "a"},
		{"0+a", "a"},
		{"0-a", "-a"},
		{"a-0", "a"},
		{"a--b", "a + b"},
		{"a+-b", "a - b"},
		{"--a", "a"},
		{"-0", "0"},
		{"0*a", "0"},
		{"a^1", "a"},
		{"l/cos(0)", "l"},
		{"l*tan(0) + a", "a"},
		{"2*3", "2*3"},
		{"atan(0)", "atan(0)"},
		{"1/a", "1/a"},
		{"hypot(0, 0)", "hypot(0, 0)"},
	}
	for _, tt := range tests {
		if got := MustParse(tt.in).Simplify().String(); got != tt.want {
			t.Errorf("Simplify(%s) = %s, want %s", tt.in, got, tt.want)
		}
	}
}
