package server

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

var woodRoutes = []route{
	{http.MethodGet, "/classes/:class/sheets/:sheet/wood", forSheetOwner, (*server).getWood},
	{http.MethodPost, "/classes/:class/sheets/:sheet/wood", forSheetOwner, (*server).postWood},
}

// woodPage takes the sizes of the real blank.
type woodPage struct {
	Frame
	Base       string
	Heading    string
	Lead       string
	Range      string
	Fields     []woodField
	Fault      string // of the blank as a whole
	Seen       string // the texts whose readings stand on the page
	Wood       int
	Readings   bool // every field was read: the sizes can be used
	Hard       string
	SentBefore bool
	Cleared    bool
}

// woodField is one size of the wood.
type woodField struct {
	Field, Label, Nominal string
	Text, Reading, Fault  string
}

// woodForm is the form as typed.
type woodForm struct {
	Texts map[string]string
	Wood  int
	Seen  string
	Use   bool // the button that uses the sizes
}

func woodFieldOf(id string) string { return "w-" + id }

func parseWood(v url.Values, sizes []joint.Parameter) woodForm {
	f := woodForm{Texts: map[string]string{}, Wood: -1, Seen: v.Get("seen"), Use: v.Get("step") == "use"}
	if n, err := strconv.Atoi(v.Get("wood")); err == nil {
		f.Wood = n
	}
	for _, p := range sizes {
		f.Texts[p.ID] = v.Get(woodFieldOf(p.ID))
	}
	return f
}

// canonical is what "seen" holds: the texts that were read, in order.
func (f woodForm) canonical(sizes []joint.Parameter) string {
	texts := make([]string, len(sizes))
	for i, p := range sizes {
		texts[i] = strings.TrimSpace(f.Texts[p.ID])
	}
	return strings.Join(texts, "|")
}

// readWood understands the sizes. An empty field keeps the size as given out.
func readWood(f woodForm, sizes []joint.Parameter, issued grading.Sheet, units grading.Units) (joint.Values, map[string]entry) {
	measured, entries := joint.Values{}, map[string]entry{}
	for _, p := range sizes {
		text := f.Texts[p.ID]
		if fault := unreadableText(text); fault != "" {
			entries[p.ID] = entry{Fault: fault}
			continue
		}
		if strings.TrimSpace(text) == "" {
			measured[p.ID] = issued.Parameters[p.ID]
			entries[p.ID] = entry{Says: grading.Print(issued.Parameters[p.ID], p.Unit, units) + ", as given"}
			continue
		}
		r, err := grading.Read(text, p.Unit, units, nil)
		if in, ok := errors.AsType[*grading.InputError](err); ok {
			entries[p.ID] = entry{Fault: in.Reason}
			continue
		}
		measured[p.ID], entries[p.ID] = r.Value, entry{Says: r.Says}
	}
	return measured, entries
}

func (s *server) getWood(c echo.Context) error {
	d, err := s.woodDesk(c)
	if err != nil {
		return err
	}
	texts := map[string]string{}
	if d.sheet.OnWood != nil {
		for _, p := range woodOf(d.exercise) {
			texts[p.ID] = bare(grading.Print(d.sheet.OnWood.Parameters[p.ID], p.Unit, d.units()))
		}
	}
	page := s.woodPage(c, d, woodForm{Texts: texts, Wood: d.sheet.Wood}, nil)
	return s.show(c, "wood", &page.Frame, &page)
}

// woodDesk is desk for a sheet whose wood can be measured now.
func (s *server) woodDesk(c echo.Context) (desk, error) {
	d, err := s.desk(c)
	if err != nil {
		return d, err
	}
	if len(woodOf(d.exercise)) == 0 {
		return d, errNotFound
	}
	if why := d.shut(); why != "" {
		return d, &statusError{Status: http.StatusConflict, Heading: "The blank stays as it is", Sentence: why, To: d.base(), ToText: "back to the sheet"}
	}
	return d, nil
}

func (s *server) woodPage(c echo.Context, d desk, f woodForm, entries map[string]entry) woodPage {
	page := woodPage{
		Frame: s.frame(c, "My wood differs"), Base: d.base(), Heading: "Measure the blank you have",
		Lead:  fmt.Sprintf("%s, sheet %d. The right numbers follow the sizes you enter.", d.assignment.Title, d.sheet.No),
		Range: rangeText(d.units()), Wood: f.Wood, SentBefore: d.last != nil, Cleared: d.clearance() != nil,
	}
	for _, p := range woodOf(d.exercise) {
		e := entries[p.ID]
		page.Fields = append(page.Fields, woodField{
			Field: woodFieldOf(p.ID), Label: p.Name + ", " + unitWord(p.Unit, d.units()),
			Nominal: "Given out as " + grading.Print(d.sheet.Issued.Parameters[p.ID], p.Unit, d.units()) + ". " + p.Means,
			Text:    f.Texts[p.ID], Reading: readAs(e.Says), Fault: e.Fault,
		})
	}
	page.Rail = []Link{page.Rail[0], {Text: fmt.Sprintf("Sheet %d", d.sheet.No), Href: d.base()}}
	page.Block = d.block()
	return page
}

// rangeText says how far the wood may differ.
func rangeText(u grading.Units) string {
	if u == grading.Inches {
		return "Each size may differ from the blank by up to 3 mm, nearly 1/8 in. More than that is another blank: ask your instructor."
	}
	return fmt.Sprintf("Each size may differ from the blank by up to %s. More than that is another blank: ask your instructor.", grading.Print(grading.MeasuredRange, joint.MM, u))
}

// postWood shows how the sizes were read; once they were seen, it uses them.
func (s *server) postWood(c echo.Context) error {
	d, err := s.woodDesk(c)
	if err != nil {
		return err
	}
	values, err := c.FormParams()
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	sizes := woodOf(d.exercise)
	f := parseWood(values, sizes)
	measured, entries := readWood(f, sizes, d.sheet.Issued, d.units())
	page := s.woodPage(c, d, f, entries)
	on, fault := d.onWood(f, measured, entries, &page)
	if fault {
		page.Wood = d.sheet.Wood
		return s.render(c, http.StatusUnprocessableEntity, "wood", &page)
	}
	made, err := s.measured(c, d, f, on)
	if err != nil {
		return err
	}
	seen := f.canonical(sizes)
	if !f.Use || f.Seen != seen {
		page.Readings, page.Seen, page.Hard = true, seen, hardSteps(store.Sheet{Issued: on, Keyed: made.Keyed}.Current())
		page.Heading = "Is that what you measured?"
		return s.show(c, "wood", &page.Frame, &page)
	}
	err = s.store.Measure(c.Request().Context(), d.class.ID, d.sheet.No, made, d.now)
	if errors.Is(err, store.ErrChanged) {
		page.Fault, page.Wood = "Something changed meanwhile: the blank was measured once more, or the key is another. Look at the sizes and press again.", d.sheet.Wood
		return s.render(c, http.StatusConflict, "wood", &page)
	}
	if err != nil {
		return err
	}
	if d.clearance() != nil {
		s.log.Info("clearance ended by measuring", "class", d.class.ID, "sheet", d.sheet.No)
	}
	s.say(c, "The sheet is on your wood now. Numbers sent before belong to the old sizes: work them out again and send them.")
	return goTo(c, d.base())
}

// measured puts the assignment's key on the sheet as measured.
func (s *server) measured(c echo.Context, d desk, f woodForm, on grading.Sheet) (store.Measured, error) {
	m := store.Measured{From: f.Wood, Key: d.assignment.KeyNo, On: on}
	r, err := s.rulesOf(c.Request().Context(), d.assignment)
	if err != nil {
		return m, err
	}
	m.Keyed, err = r.sheet(on, shopOf(d.class))
	return m, err
}

// onWood makes the sheet on the measured blank, or puts the faults on the page.
func (d desk) onWood(f woodForm, measured joint.Values, entries map[string]entry, page *woodPage) (on grading.Sheet, fault bool) {
	if f.Wood != d.sheet.Wood {
		page.Fault = "The blank was measured once more meanwhile. Look at the sizes and press again."
		return on, true
	}
	if len(faultsIn(entries)) > 0 {
		return on, true
	}
	on, err := grading.OnMeasured(d.exercise, d.sheet.Issued, measured, shopOf(d.class))
	if err != nil {
		page.blame(err)
		return on, true
	}
	if contains([]joint.Values{d.sheet.Current().Parameters}, on.Parameters) {
		page.Fault = "These are the sizes that the sheet has already."
		return on, true
	}
	return on, false
}

// blame puts the sentence for a blank that will not do beside its field.
func (p *woodPage) blame(err error) {
	in, ok := errors.AsType[*grading.InputError](err)
	if !ok {
		p.Fault = "The joint cannot be made from a blank of these sizes. Measure again, or ask for another blank."
		return
	}
	for i := range p.Fields {
		if p.Fields[i].Field == woodFieldOf(in.Field) {
			p.Fields[i].Fault = in.Reason
			return
		}
	}
	p.Fault = in.Reason + " Measure again, or ask for another blank."
}

// hardSteps names the numbers on which, on this wood, a slip could pass for
// right: they are judged all the same, but without a hint to lean on.
func hardSteps(sheet grading.Sheet) string {
	var numbers []string
	for i, st := range sheet.Steps {
		if st.Undiagnosed {
			numbers = append(numbers, fmt.Sprint(i+1))
		}
	}
	switch len(numbers) {
	case 0:
		return ""
	case 1:
		return "On this wood a slip in number " + numbers[0] + " can come so close to the right number that it is not told apart. Have that one checked with care."
	}
	return "On this wood a slip in numbers " + list(numbers) + " can come so close to the right number that it is not told apart. Have those checked with care."
}
