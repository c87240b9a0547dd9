package server

import (
	"fmt"
	"slices"

	udiff "github.com/aymanbagabas/go-udiff"
	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// moduleDiffPage shows what differs between two saves.
type moduleDiffPage struct {
	Frame
	Heading, Lead string
	Href          string
	From, To      Choice
	Parts         []diffPart
	Pictures      []string
}

// diffPart is a stretch of lines round what differs.
type diffPart struct {
	Heading string
	Lines   []diffLine
}

// diffLine is one line: same, added or removed. Old and New are its numbers in
// either save; 0: it is not there.
type diffLine struct {
	Old, New       int
	Text           string
	Added, Removed bool
}

func (s *server) getModuleDiff(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	from, to := m.Saves-1, m.Saves
	if m.Released != nil && *m.Released < m.Saves {
		from = *m.Released
	}
	from, to = saveAsked(c, "from", from, m.Saves), saveAsked(c, "to", to, m.Saves)
	saves, err := s.store.ModuleSaves(ctx, m.OwnerID, m.ID)
	if err != nil {
		return err
	}
	page := moduleDiffPage{Frame: s.moduleFrame(c, "Differences: "+titleOfModule(m)), Href: moduleHref(m.ID),
		From: saveChoice("from", "From", from, saves), To: saveChoice("to", "To", to, saves)}
	a, err := s.wholeSave(c, m.ID, from)
	if err != nil {
		return err
	}
	b, err := s.wholeSave(c, m.ID, to)
	if err != nil {
		return err
	}
	page.Parts, page.Pictures = diffParts(a.Text, b.Text), pictureChanges(a.pictures, b.pictures)
	added, removed := countChanged(page.Parts)
	page.Heading = fmt.Sprintf("%s added, %s taken out", upperFirst(counted(added, "line", "lines")), counted(removed, "line", "lines"))
	if added+removed == 0 {
		page.Heading = "No line differs"
	}
	page.Lead = fmt.Sprintf("%s, from save %d to save %d.", titleOfModule(m), from, to)
	return s.show(c, "modulediff", &page.Frame, &page)
}

// saveAsked reads which save the address asks for.
func saveAsked(c echo.Context, name string, usual, most int) int {
	if n := moduleNumber(c.QueryParam(name)); n > 0 && n <= int64(most) {
		return int(n)
	}
	return max(1, usual)
}

func saveChoice(name, label string, chosen int, saves []store.ModuleSave) Choice {
	var pairs []string
	for _, n := range saves {
		says := fmt.Sprintf("save %d", n.No)
		if n.ReleasedAt != nil {
			says += fmt.Sprintf(", edition %d", n.Edition)
		}
		pairs = append(pairs, fmt.Sprint(n.No), says)
	}
	return Choice{Name: name, Label: label, Options: options(fmt.Sprint(chosen), pairs...)}
}

// wholeSave is a save with its pictures.
type wholeSave struct {
	store.ModuleSave
	pictures []store.ModulePicture
}

func (s *server) wholeSave(c echo.Context, module int64, no int) (w wholeSave, err error) {
	ctx := c.Request().Context()
	if w.ModuleSave, err = s.store.ModuleSave(ctx, module, no); err != nil {
		return w, err
	}
	w.pictures, err = s.store.PicturesOf(ctx, module, no)
	return w, err
}

// diffAround is how many lines stand round what differs.
const diffAround = 3

// diffParts compares two texts line by line.
func diffParts(a, b string) []diffPart {
	unified, err := udiff.ToUnifiedDiff("", "", a, udiff.Lines(a, b), diffAround)
	if err != nil {
		return nil // edits that were just made of the text always apply to it
	}
	var parts []diffPart
	for _, h := range unified.Hunks {
		part, from, to := diffPart{Heading: fmt.Sprintf("From line %d", h.ToLine)}, h.FromLine, h.ToLine
		for _, l := range h.Lines {
			line := diffLine{Text: trimBreak(l.Content)}
			if l.Kind != udiff.Insert {
				line.Old = from
				from++
			}
			if l.Kind != udiff.Delete {
				line.New = to
				to++
			}
			line.Added, line.Removed = l.Kind == udiff.Insert, l.Kind == udiff.Delete
			part.Lines = append(part.Lines, line)
		}
		parts = append(parts, part)
	}
	return parts
}

func trimBreak(line string) string {
	if n := len(line); n > 0 && line[n-1] == '\n' {
		return line[:n-1]
	}
	return line
}

func countChanged(parts []diffPart) (added, removed int) {
	for _, p := range parts {
		for _, l := range p.Lines {
			if l.Added {
				added++
			}
			if l.Removed {
				removed++
			}
		}
	}
	return added, removed
}

// pictureChanges says which pictures came, went or were changed.
func pictureChanges(a, b []store.ModulePicture) []string {
	var all []string
	named := func(list []store.ModulePicture, name string) int {
		return slices.IndexFunc(list, func(p store.ModulePicture) bool { return p.Name == name })
	}
	for _, p := range b {
		switch i := named(a, p.Name); {
		case i < 0:
			all = append(all, p.Name+" came in.")
		case a[i].ID != p.ID:
			all = append(all, p.Name+" is another picture.")
		}
	}
	for _, p := range a {
		if named(b, p.Name) < 0 {
			all = append(all, p.Name+" was taken out.")
		}
	}
	return all
}
