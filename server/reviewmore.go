package server

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"time"

	"arrisbook/geom/drawing"
	"arrisbook/grading"
)

// reviewItems says how the numbers told people apart.
type reviewItems struct {
	Lines  []reviewItem
	Note   string
	Agrees string // KR-20 with its sentence
}

// reviewItem is one number's figures, "–" for one that does not exist.
type reviewItem struct {
	Number                            int
	Name                              string
	Right                             int
	Difficulty, Rest, Upper27, Upper3 string
}

// itemsLeast is the smallest class of which such figures are shown: below it
// one person moves them by more than they could say.
const itemsLeast = 5

// items works the figures out from the last answers; nil for too few people.
func (d reviewData) items() *reviewItems {
	rows, steps := d.right()
	if len(rows) < itemsLeast || len(steps) < 2 {
		return nil
	}
	st := grading.NewItemStats(rows)
	out := &reviewItems{
		Note: fmt.Sprintf("From the last answers of %d people, right or following as 1, all else as 0. With so few, chance alone moves a share by up to %d in 100 either way, and a correlation by more. "+
			"A figure is a reason to read a question again. It is no judgement of the question, and says nothing about any one person.", st.People, hundredths(0.98/math.Sqrt(float64(st.People)))),
		Agrees: "The numbers of this sheet were all the same for everybody: whether they agree with each other cannot be told.",
	}
	if st.KR20.OK {
		out.Agrees = fmt.Sprintf("KR-20 is %s: how far the numbers of the sheet agree with each other about who has them right. Numbers that carry on from each other agree by their nature, so a high figure is no praise.", statText(st.KR20, 2))
	}
	for i, it := range st.Items {
		out.Lines = append(out.Lines, reviewItem{
			Number: 1 + slices.IndexFunc(d.ex.Steps, func(s grading.Step) bool { return s.ID == steps[i].ID }), Name: steps[i].Name,
			Right: it.Right, Difficulty: statText(it.Difficulty, 2), Rest: statText(it.PointBiserial, 2),
			Upper27: statText(it.Upper27, 2), Upper3: statText(it.UpperThird, 2),
		})
	}
	return out
}

// statText writes a figure with a true minus sign.
func statText(s grading.Stat, digits int) string {
	if !s.OK {
		return "–"
	}
	text := fmt.Sprintf("%.*f", digits, math.Abs(s.Value))
	if s.Value < 0 && text != fmt.Sprintf("%.*f", digits, 0.0) {
		text = "−" + text
	}
	return text
}

// reviewTimes says how long it took.
type reviewTimes struct {
	Attempts string // "median 3, most 9"
	Right    string // how many have all right, and how soon
}

// times sums up attempts and time; nil before the first attempt.
func (d reviewData) times() *reviewTimes {
	begun := d.begun()
	if len(begun) == 0 {
		return nil
	}
	var attempts, tries []int
	var took []time.Duration
	for _, sh := range begun {
		attempts = append(attempts, sh.Attempts)
		if sh.AllRight != nil && sh.First != nil {
			tries = append(tries, sh.Tries)
			took = append(took, sh.AllRight.Sub(*sh.First))
		}
	}
	t := &reviewTimes{
		Attempts: fmt.Sprintf("%s with at least one attempt: %s at the median, %d at most.", upperFirst(counted(len(begun), "sheet", "sheets")), halves(median(attempts)), slices.Max(attempts)),
		Right:    "Nobody has had all numbers right yet.",
	}
	if len(tries) > 0 {
		t.Right = fmt.Sprintf("%s had all numbers right: at the median in attempt %s, %s after the first numbers were sent.",
			upperFirst(counted(len(tries), "sheet", "sheets")), halves(median(tries)), minutes(median(took)))
	}
	return t
}

// median gives the two values in the middle, the same one twice where there is
// one. of is not empty.
func median[T cmp.Ordered](of []T) (low, high T) {
	sorted := slices.Sorted(slices.Values(of))
	return sorted[(len(sorted)-1)/2], sorted[len(sorted)/2]
}

// halves writes the middle of two neighbouring whole numbers.
func halves(low, high int) string {
	if (low+high)%2 == 0 {
		return fmt.Sprint((low + high) / 2)
	}
	return fmt.Sprintf("%d½", (low+high)/2)
}

// minutes writes the middle of two spans in whole minutes.
func minutes(low, high time.Duration) string {
	n := int(math.Round((low + (high-low)/2).Minutes()))
	switch {
	case n < 1:
		return "less than a minute"
	case n < 120:
		return counted(n, "minute", "minutes")
	case n < 48*60:
		return counted(int(math.Round(float64(n)/60)), "hour", "hours")
	}
	return counted(int(math.Round(float64(n)/(24*60))), "day", "days")
}

// reviewPlot shows the answers to one number that nothing explains.
type reviewPlot struct {
	Number  int
	Name    string
	Picture template.HTML
	Lines   []reviewDot
}

// reviewDot is one of them in figures.
type reviewDot struct{ Key, Given, Ratio string }

// plotsLeast is how many answers make a picture worth looking at.
const plotsLeast = 3

// plots draws every number that has enough answers, the fullest first.
func (d reviewData) plots() []reviewPlot {
	var out []reviewPlot
	for i, st := range d.ex.Steps {
		p := reviewPlot{Number: i + 1, Name: lowerFirst(st.Name)}
		var dots []drawing.Residual
		for _, w := range d.wrong {
			if w.Step != st.ID || w.Result.Pattern != nil || w.Result.Reading == nil {
				continue
			}
			key, ok := grading.Key(d.ex, w.Parameters)[st.ID]
			if !ok {
				continue
			}
			r := drawing.Residual{Key: key, Answer: w.Result.Reading.Value}
			line := reviewDot{Key: grading.Print(key, st.Unit, unitsOf(d.class)), Given: w.Result.Given, Ratio: "–"}
			if ratio, ok := r.Ratio(); ok {
				line.Ratio = statText(grading.Stat{Value: ratio, OK: true}, 3)
			}
			dots, p.Lines = append(dots, r), append(p.Lines, line)
		}
		if len(dots) < plotsLeast {
			continue
		}
		v := drawing.ResidualPlot(dots, fmt.Sprintf("%d answers to number %d as multiples of the right number of their blanks. The table has them one by one.", len(dots), i+1))
		v.ID = fmt.Sprintf("plot-%d", i+1)
		p.Picture = template.HTML(v.SVG())
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b reviewPlot) int { return cmp.Compare(len(b.Lines), len(a.Lines)) })
	return out
}
