package lessons

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
)

// exerciseBlock is an exercise with the place of its text.
type exerciseBlock struct {
	file     string
	line     int
	exercise *grading.Exercise
}

// exerciseReader turns the YAML of an exercise block into a specification and
// remembers where each part of it stood, because the faults that grading finds
// name parts and not lines.
type exerciseReader struct {
	form
	spec grading.Spec
	at   map[string]int // a path of the specification and its line
}

// readExercise reads an exercise block; nil where it has faults.
func (p *page) readExercise(line int, text []byte) *exerciseBlock {
	r := &exerciseReader{form: form{p: p, first: line + 1, line: line, what: "the exercise block"}, at: map[string]int{}}
	before := len(p.faults.list)
	n, ok := r.read(text)
	if !ok {
		return nil
	}
	r.exercise(n)
	if len(p.faults.list) > before {
		return r.giveUp()
	}
	if path, reason := tooMuch(r.spec); reason != "" {
		r.report(grading.Fault{Path: path, Msg: reason})
		return r.giveUp()
	}
	if len(p.exercises) == maxExercises || p.numbers()+len(r.spec.Steps) > maxNumbers {
		p.fault(line, "a module has at most %d exercises and asks at most %d numbers: make two of it", maxExercises, maxNumbers)
		return r.giveUp()
	}
	ex, faults := grading.NewExercise(r.spec)
	for _, f := range faults {
		r.report(f)
	}
	if ex == nil {
		return r.giveUp()
	}
	r.checkViews(ex)
	b := &exerciseBlock{p.file, line, ex}
	if other := p.exerciseNamed(ex.ID); other != nil {
		r.fault(n, "this page has an exercise %s already", ex.ID)
		return nil
	}
	p.exercises = append(p.exercises, b)
	return b
}

// numbers counts what the exercises so far ask.
func (p *page) numbers() int {
	n := 0
	for _, b := range p.exercises {
		n += len(b.exercise.Steps)
	}
	return n
}

// giveUp keeps the names of an exercise that has faults, so that these are not
// reported again at every formula that uses a name.
func (r *exerciseReader) giveUp() *exerciseBlock {
	if r.spec.ID != "" {
		r.p.broken[r.spec.ID] = true
	}
	for _, g := range r.spec.Givens {
		r.p.names.learn(g.ID, g.Name, g.Symbol, joint.Unit(g.Unit))
	}
	for _, s := range r.spec.Steps {
		r.p.names.learn(s.ID, s.Name, s.Symbol, joint.Unit(s.Unit))
	}
	return nil
}

// exercise reads the block's keys in an order of its own.
func (r *exerciseReader) exercise(n *yaml.Node) {
	r.at[""] = r.form.at(n)
	got := r.fields(n, r.what, "id*", "title*", "family", "given*", "inch", "keep", "steps",
		"harmless", "patterns", "allowances", "pairs", "explain")
	for key, path := range map[string]string{"id": "id", "family": "family", "given": "givens", "inch": "inch_givens", "steps": "steps"} {
		if got[key] != nil {
			r.at[path] = r.form.at(got[key])
		}
	}
	s := &r.spec
	s.ID, s.Title = r.p.slug(&r.form, got["id"], "id"), r.text(got["title"], "title")
	s.Module, s.Version = r.p.module.ID, r.p.module.Version
	if f := r.p.family(&r.form, got["family"]); f != nil {
		s.Family = f.ID
	}
	s.Givens = r.givens(got["given"], "given", "givens")
	s.InchGivens = r.givens(got["inch"], "inch", "inch_givens")
	s.Keep = r.paths(got["keep"], "keep")
	s.Allowances, s.Pairs = r.texts(got["allowances"], "allowances"), r.texts(got["pairs"], "pairs")
	s.Explain = r.explain(got["explain"], "explain")
	for i, c := range r.list(got["steps"], "steps") {
		s.Steps = append(s.Steps, r.step(c, index("steps", i)))
	}
	for i, c := range r.list(got["harmless"], "harmless") {
		s.Harmless = append(s.Harmless, r.harmless(c, index("harmless", i)))
	}
	for i, c := range r.list(got["patterns"], "patterns") {
		s.Patterns = append(s.Patterns, r.pattern(c, index("patterns", i)))
	}
}

func index(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// paths reads a list of texts and remembers the line of each.
func (r *exerciseReader) paths(n *yaml.Node, key string) []string {
	for i, c := range r.list(n, key) {
		r.at[index(key, i)] = r.form.at(c)
	}
	return r.texts(n, key)
}

// field reads one text of a part and remembers its line.
func (r *exerciseReader) field(got map[string]*yaml.Node, path, key string) string {
	n := got[key]
	if n != nil {
		r.at[path+"."+key] = r.form.at(n)
	}
	return r.text(n, key)
}

// givens reads “id: range” for every given.
func (r *exerciseReader) givens(n *yaml.Node, key, path string) []grading.GivenSpec {
	if n == nil {
		return nil
	}
	var out []grading.GivenSpec
	for i, e := range r.entries(n, key) {
		at := index(path, i)
		r.at[at] = r.form.at(e.name)
		out = append(out, r.given(e, at))
	}
	return out
}

// given reads one given: its range alone, or a mapping with the range and what
// a family would have said.
func (r *exerciseReader) given(e entry, path string) grading.GivenSpec {
	g := grading.GivenSpec{ID: e.key}
	ranged := e.value
	if e.value.Kind == yaml.MappingNode {
		got := r.fields(e.value, e.key, "range*", "unit", "name", "symbol", "means", "measured")
		g.Name, g.Symbol = r.field(got, path, "name"), r.field(got, path, "symbol")
		g.Unit, g.Means = r.field(got, path, "unit"), r.field(got, path, "means")
		g.Measured = r.claim(got["measured"], "measured")
		ranged = got["range"]
	}
	switch {
	case ranged == nil:
	case ranged.Kind == yaml.SequenceNode:
		g.Only = r.texts(ranged, e.key)
	default:
		r.span(&g, ranged)
	}
	if ranged != nil {
		r.at[path+".from"] = r.form.at(ranged)
		r.at[path+".only"] = r.form.at(ranged)
	}
	return g
}

// span takes a range apart once it is sound.
func (r *exerciseReader) span(g *grading.GivenSpec, n *yaml.Node) {
	text := r.text(n, g.ID)
	if text == "" {
		return
	}
	if _, err := parseSpan(text); err != nil {
		r.fault(n, "%s: %v", g.ID, err)
		return
	}
	ends, by, _ := strings.Cut(text, " by ")
	low, high, ranged := strings.Cut(ends, "..")
	if !ranged {
		g.Only = []string{strings.TrimSpace(low)}
		return
	}
	g.From, g.To, g.By = strings.TrimSpace(low), strings.TrimSpace(high), strings.TrimSpace(by)
}

// claim reads true or false.
func (r *exerciseReader) claim(n *yaml.Node, key string) bool {
	v := r.text(n, key)
	if v != "" && v != "true" && v != "false" {
		r.fault(n, "%s is true or false", key)
	}
	return v == "true"
}

// step reads one step: its id alone, or a mapping.
func (r *exerciseReader) step(n *yaml.Node, path string) grading.StepSpec {
	r.at[path] = r.form.at(n)
	if n.Kind == yaml.ScalarNode {
		return grading.StepSpec{ID: r.text(n, "a step")}
	}
	got := r.fields(n, "the step", "id*", "name", "symbol", "unit", "from", "formula", "carries", "follow",
		"across", "tolerance", "skill", "view", "hints", "alone", "explain")
	s := grading.StepSpec{Hints: map[string]string{}}
	for key, into := range map[string]*string{
		"id": &s.ID, "name": &s.Name, "symbol": &s.Symbol, "unit": &s.Unit, "from": &s.From, "formula": &s.Formula,
		"follow": &s.Follow, "across": &s.Across, "tolerance": &s.Tolerance, "skill": &s.Skill, "view": &s.View,
	} {
		*into = r.field(got, path, key)
	}
	if s.Skill != "" && !r.p.hasSkill(s.Skill) {
		r.fault(got["skill"], "the skill %q is not in the front matter%s", s.Skill, suggestion(s.Skill, r.p.skillIDs()))
	}
	for i, c := range r.list(got["carries"], "carries") {
		r.at[index(path+".carries", i)] = r.form.at(c)
	}
	s.Carries, s.Alone = r.texts(got["carries"], "carries"), r.claim(got["alone"], "alone")
	s.Explain = r.explain(got["explain"], path+".explain")
	if got["hints"] != nil {
		r.at[path+".hints"] = r.form.at(got["hints"])
		for _, e := range r.entries(got["hints"], "hints") {
			s.Hints[e.key] = r.text(e.value, "the hint of "+e.key)
		}
	}
	return s
}

func (r *exerciseReader) harmless(n *yaml.Node, path string) grading.HarmlessSpec {
	r.at[path] = r.form.at(n)
	got := r.fields(n, "the entry of harmless", "step", "pattern*", "detail")
	return grading.HarmlessSpec{
		Step: r.field(got, path, "step"), Pattern: r.field(got, path, "pattern"), Detail: r.field(got, path, "detail"),
	}
}

func (r *exerciseReader) pattern(n *yaml.Node, path string) grading.PatternSpec {
	r.at[path] = r.form.at(n)
	got := r.fields(n, "the pattern", "id*", "step*", "says", "hint", "formula*")
	return grading.PatternSpec{
		ID: r.field(got, path, "id"), Step: r.field(got, path, "step"), Says: r.field(got, path, "says"),
		Hint: r.field(got, path, "hint"), Formula: r.field(got, path, "formula"),
	}
}

// lastPart is the end of a path: “.formula” or “[3]”.
var lastPart = regexp.MustCompile(`(\.[a-z_]+|\[[^\]]*\]|^[a-z_]+)$`)

// report puts a fault that grading found on its line: that of the part it
// names, or else of the nearest part round it.
func (r *exerciseReader) report(f grading.Fault) {
	path := f.Path
	for {
		if line, known := r.at[path]; known || path == "" {
			msg := strings.TrimSuffix(f.Msg, ".")
			if f.Col > 0 {
				msg = "column " + strconv.Itoa(f.Col) + ": " + msg
			}
			r.p.fault(line, "%s", msg)
			return
		}
		path = lastPart.ReplaceAllString(path, "")
	}
}

// checkViews makes sure that every view a step names is one of its family's.
func (r *exerciseReader) checkViews(ex *grading.Exercise) {
	views := viewIDs(ex)
	for i, s := range ex.Steps {
		if s.View != "" && !slices.Contains(views, s.View) {
			r.report(grading.Fault{Path: index("steps", i) + ".view",
				Msg: "there is no view " + s.View + suggestion(s.View, views)})
		}
	}
}

// viewIDs lists the views of a family's sheet when every step is asked.
func viewIDs(ex *grading.Exercise) []string {
	if ex.Family == nil {
		return nil
	}
	sheet := drawing.Sheet{Blank: ex.Family.House}
	for i, s := range ex.Steps {
		sheet.Asked = append(sheet.Asked, drawing.Balloon{Number: i + 1, Quantity: s.ID})
	}
	views, err := drawing.SheetViews(ex.Family, sheet)
	if err != nil {
		return nil // a family without drawings has no views
	}
	var ids []string
	for _, v := range views {
		ids = append(ids, v.ID)
	}
	return ids
}
