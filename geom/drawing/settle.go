package drawing

import (
	"math"
	"slices"
)

// task is something that still has to find its place: lettering, a dimension,
// a balloon. Its ways offer places to a search. Tasks are done when the view
// closes, so that all of the wood stands by then.
type task struct {
	room float64
	ways func(s *search)
}

// later leaves something to be placed when the view closes.
func (c *canvas) later(room float64, ways func(s *search)) {
	c.tasks = append(c.tasks, task{room, ways})
}

// search looks for the cheapest way of drawing one thing beside what stands.
type search struct {
	site  *site
	trial canvas
	fresh site
	best  []item
	least float64
	tried int
}

// enough is how many ways are tried where one of them is clear already: the
// usual places come first, and what comes later is seldom better by much.
const enough = 40

// worth says whether a way that costs so much by itself can still be clearly
// cheaper than the best so far: less than one crossed line is not worth a
// longer search.
func (s *search) worth(cost float64) bool {
	return cost+crossNarrow < s.least && (s.tried < enough || s.least >= clash)
}

// try draws one way. Of equal ways the first is kept, so that the same sizes
// always give the same drawing.
func (s *search) try(cost float64, draw func(c *canvas)) {
	if !s.worth(cost) {
		return
	}
	s.tried++
	s.trial.items, s.trial.pool = s.trial.items[:0], s.trial.pool[:0]
	draw(&s.trial)
	if sum := cost + s.site.cost(&s.fresh, s.trial.items, s.least-cost); sum < s.least {
		s.least = sum
		s.best = append(s.best[:0], s.trial.items...)
		for i, it := range s.best {
			if st, ok := it.(stroke); ok {
				s.best[i] = stroke{st.kind, slices.Clone(st.steps)}
			}
		}
	}
}

// settle places everything that waits. Things are placed in the order in which
// they were asked for; where one of them finds no clear place, it gets the
// first choice and all are placed anew. The attempt with the fewest clashes
// stays.
func (c *canvas) settle() {
	if len(c.tasks) == 0 {
		return
	}
	tasks := c.tasks
	c.tasks = nil
	c.site.take(c.items[c.site.marks:])
	wood, site := len(c.items), c.site
	s := &search{site: &c.site, trial: canvas{sheet: c.sheet, pooled: true}}
	moved := make([]bool, len(tasks))
	order := make([]int, len(tasks))
	for i := range order {
		order[i] = i
	}
	var best []item
	fewest := math.MaxInt
	for {
		c.items, c.site = c.items[:wood], site
		clashes, next := 0, -1
		for at, n := range order {
			if c.place(s, tasks[n]) {
				continue
			}
			clashes++
			if next < 0 && !moved[n] {
				next = at
			}
		}
		if clashes < fewest {
			fewest, best = clashes, append(best[:0], c.items[wood:]...)
		}
		if clashes == 0 || next < 0 {
			break
		}
		n := order[next]
		moved[n] = true
		order = slices.Insert(slices.Delete(order, next, next+1), 0, n)
	}
	c.items = append(c.items[:wood], best...)
	c.site = site
}

// place draws a task the cheapest way and says whether that stands on nothing.
func (c *canvas) place(s *search, t task) bool {
	s.best, s.least, s.tried, s.trial.room = s.best[:0], math.Inf(1), 0, t.room
	t.ways(s)
	c.items = append(c.items, s.best...)
	c.site.take(s.best)
	return s.least < clash
}
