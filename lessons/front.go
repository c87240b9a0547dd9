package lessons

import (
	"regexp"
	"strconv"

	"go.yaml.in/yaml/v3"
)

// slugPattern is the shape of the ids of modules, exercises, skills and
// headings.
var slugPattern = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// readFront reads the front matter: id, title, summary, version, needs and
// skills.
func (p *page) readFront(src source) {
	f := &form{p: p, first: src.first, line: 1, what: "the front matter"}
	n, ok := f.read(src.text)
	if !ok {
		return
	}
	got := f.fields(n, f.what, "id*", "title*", "summary*", "needs*", "skills*", "version*", "explains")
	m := p.module
	m.ID = p.slug(f, got["id"], "id")
	m.Title = f.text(got["title"], "title")
	m.Summary = f.text(got["summary"], "summary")
	m.Version = readVersion(f, got["version"])
	for _, c := range f.list(got["needs"], "needs") {
		if id := p.slug(f, c, "an entry of needs"); id != "" {
			m.Needs = append(m.Needs, id)
			p.needs = append(p.needs, needed{id, f.at(c)})
		}
	}
	p.readSkills(f, got["skills"])
	p.readExplains(f, got["explains"])
}

// slug reads an id of small letters, digits and hyphens.
func (p *page) slug(f *form, n *yaml.Node, key string) string {
	v := f.text(n, key)
	if v != "" && !slugPattern.MatchString(v) {
		f.fault(n, "%s: %q is not an id: small letters, digits and single hyphens, a letter first", key, v)
		return ""
	}
	return v
}

func readVersion(f *form, n *yaml.Node) int {
	text := f.text(n, "version")
	if text == "" {
		return 0
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < 1 {
		f.fault(n, "version: %q is not a whole number from 1", text)
		return 0
	}
	return v
}

// readSkills reads “id: name” for everything the module trains.
func (p *page) readSkills(f *form, n *yaml.Node) {
	if n == nil {
		return
	}
	for _, e := range f.entries(n, "skills") {
		id := p.slug(f, e.name, "a skill")
		name := f.text(e.value, "the name of a skill")
		if id != "" && name != "" {
			p.module.Skills = append(p.module.Skills, Skill{id, name})
			p.skillLines = append(p.skillLines, f.at(e.name))
		}
	}
}

func (p *page) hasSkill(id string) bool {
	for _, s := range p.module.Skills {
		if s.ID == id {
			return true
		}
	}
	return false
}

func (p *page) skillIDs() []string {
	var ids []string
	for _, s := range p.module.Skills {
		ids = append(ids, s.ID)
	}
	return ids
}
