package lessons

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// form reads one stretch of YAML strictly: what it does not know is a fault at
// its own line, never dropped.
type form struct {
	p     *page
	first int // the file's line of the YAML's first line
	line  int // the file's line to name where there is no node
	what  string
	// lines gives the file's line of each line as YAML counts them.
	lines []int
}

// yamlLine finds the line number in a message of the YAML reader.
var yamlLine = regexp.MustCompile(`^yaml: line (\d+): (.*)$`)

// read parses the text and gives its one mapping; ok is false where a fault
// was reported instead.
func (f *form) read(text []byte) (*yaml.Node, bool) {
	f.count(text)
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		f.syntax(err)
		return nil, false
	}
	if doc.Kind == 0 || len(doc.Content) == 0 {
		f.p.fault(f.line, "%s is empty", f.what)
		return nil, false
	}
	n := doc.Content[0]
	if n.Kind != yaml.MappingNode {
		f.fault(n, "%s is written as lines of “key: value”", f.what)
		return nil, false
	}
	return n, true
}

func (f *form) syntax(err error) {
	line, msg := f.first, strings.TrimPrefix(err.Error(), "yaml: ")
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		n, convErr := strconv.Atoi(m[1])
		if convErr == nil {
			line, msg = n, m[2]
		}
		// The reader counts the lines of these from 0, of all others from 1.
		if strings.HasPrefix(msg, "did not find expected") {
			line++
		}
		line = f.fileLine(line)
	}
	f.p.fault(line, "%s is not YAML: %s", f.what, msg)
}

func (f *form) fault(n *yaml.Node, format string, args ...any) {
	f.p.fault(f.at(n), format, args...)
}

// at gives the file's line of a node.
func (f *form) at(n *yaml.Node) int { return f.fileLine(n.Line) }

// yamlBreak is one line break to YAML, which also counts a lone carriage
// return and three of Unicode's separators. An editor counts only the first two.
var yamlBreak = regexp.MustCompile("\r\n|\n|\r|\u0085|\u2028|\u2029")

// count fills lines, so that naming a fault's line costs nothing however many
// there are.
func (f *form) count(text []byte) {
	line := f.first
	f.lines = []int{line}
	for _, at := range yamlBreak.FindAllIndex(bytes.TrimRight(text, "\r\n"), -1) {
		if text[at[1]-1] == '\n' {
			line++
		}
		f.lines = append(f.lines, line)
	}
}

// fileLine gives the file's line of YAML's line n, at most the last one.
func (f *form) fileLine(n int) int {
	return f.lines[min(max(n-1, 0), len(f.lines)-1)]
}

// entry is one “key: value” of a mapping.
type entry struct {
	key   string
	name  *yaml.Node
	value *yaml.Node
}

// entries lists a mapping in its order; a key that stands twice, and anything
// that is not a plain key, is a fault.
func (f *form) entries(n *yaml.Node, what string) []entry {
	if n.Kind != yaml.MappingNode {
		f.fault(n, "%s is written as lines of “key: value”", what)
		return nil
	}
	var list []entry
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if k.Kind != yaml.ScalarNode || k.Tag == "!!merge" {
			f.fault(k, "a key of %s is one plain word", what)
			continue
		}
		if slices.ContainsFunc(list, func(e entry) bool { return e.key == k.Value }) {
			f.fault(k, "%s stands twice in %s", k.Value, what)
			continue
		}
		list = append(list, entry{k.Value, k, v})
	}
	return list
}

// fields reads a mapping whose keys are fixed. A key ending in "*" in known
// must be there.
func (f *form) fields(n *yaml.Node, what string, known ...string) map[string]*yaml.Node {
	var names []string
	for _, k := range known {
		names = append(names, strings.TrimSuffix(k, "*"))
	}
	got := map[string]*yaml.Node{}
	for _, e := range f.entries(n, what) {
		if !slices.Contains(names, e.key) {
			f.fault(e.name, "%s has no key %q%s", what, e.key, suggestion(e.key, names))
			continue
		}
		got[e.key] = e.value
	}
	for _, k := range known {
		if name, must := strings.CutSuffix(k, "*"); must && got[name] == nil {
			f.fault(n, "%s lacks the key %q", what, name)
		}
	}
	return got
}

// text reads a plain value; a missing node gives "" without a fault.
func (f *form) text(n *yaml.Node, key string) string {
	if n == nil {
		return ""
	}
	if n.Kind != yaml.ScalarNode {
		f.fault(n, "%s is one plain value", key)
		return ""
	}
	v := strings.TrimSpace(n.Value)
	if v == "" || n.Tag == "!!null" {
		f.fault(n, "%s is empty", key)
		return ""
	}
	return v
}

// list reads a sequence of nodes; a missing node is an empty list.
func (f *form) list(n *yaml.Node, key string) []*yaml.Node {
	if n == nil {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		f.fault(n, "%s is a list", key)
		return nil
	}
	return n.Content
}

// texts reads a list of plain values.
func (f *form) texts(n *yaml.Node, key string) []string {
	var out []string
	for _, c := range f.list(n, key) {
		if v := f.text(c, "an entry of "+key); v != "" {
			out = append(out, v)
		}
	}
	return out
}

var errNotPositive = errors.New("is not a number above 0")

// positive reads a number above 0; a missing node gives 0 without a fault.
func (f *form) positive(n *yaml.Node, key string) float64 {
	v := f.text(n, key)
	if v == "" {
		return 0
	}
	x, err := parseNumber(v)
	if err == nil && x <= 0 {
		err = errNotPositive
	}
	if err != nil {
		f.fault(n, "%s: %q %v", key, v, err)
		return 0
	}
	return x
}
