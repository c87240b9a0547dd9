package server

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"testing"
	"time"

	"arrisbook/grading"
	"arrisbook/server/store"
	"arrisbook/server/store/storetest"
)

// largeClass is a class of thirty students who sent numbers with slips of the
// usual kinds; the key of the first assignment was changed, and some were
// cleared to cut on the last.
type largeClass struct {
	*world
	class store.Class
	staff string
	given []given
}

const largeStudents = 30

func newLargeClass(t testing.TB, assignments, attempts int) *largeClass {
	t.Helper()
	l := &largeClass{world: newWorld(t)}
	rosa := l.account("rosa", true)
	l.class = l.harness.class(rosa)
	names := make([]string, largeStudents)
	for i := range names {
		names[i] = fmt.Sprintf("Student %02d", i+1)
	}
	students := l.harness.students(l.class, rosa, names...)
	l.staff = l.staffToken(rosa.ID)
	dice := rand.New(rand.NewPCG(7, 7))
	for n := range assignments {
		g := l.give(l.class, rosa, "head-v-joint-first", students, uint64(1000*n+1), nil)
		l.given = append(l.given, g)
		for _, st := range students {
			for range attempts {
				l.sendSome(g, l.sheetOf(l.class, st.No), dice)
			}
		}
	}
	for i := range 5 {
		no := l.complete(l.given[assignments-1], l.sheetOf(l.class, students[i].No))
		l.must(l.Store.Clear(context.Background(), l.class.ID, l.sheetOf(l.class, students[i].No), no, 0, rosa.ID, l.Now()))
	}
	l.changeKey()
	return l
}

// changeKey widens a tolerance of the first assignment.
func (l *largeClass) changeKey() {
	l.t.Helper()
	k := &keyWorld{world: l.world, class: l.class, given: l.given[0], staff: l.staff}
	k.change("why", "try", "tolerance-tip_depth", "0.5")
}

// sendSome sends right numbers and such that known slips give.
func (l *largeClass) sendSome(g given, sheet int, dice *rand.Rand) {
	l.t.Helper()
	ctx := context.Background()
	sh, err := l.Store.Sheet(ctx, l.class.ID, sheet)
	l.must(err)
	form := numbersForm{Key: newKey(), Wood: sh.Wood, Texts: l.rightTexts(g, sh)}
	for _, st := range sh.Current().Steps {
		if all := grading.Patterns(g.exercise, sh.Current(), st.ID); dice.IntN(3) == 0 && len(all) > 0 {
			form.Texts[st.ID] = fmt.Sprintf("%.3f", max(0.1, min(400, all[dice.IntN(len(all))].Value)))
		}
	}
	_, _, err = l.Store.Submit(ctx, store.Submission{ClassID: l.class.ID, Sheet: sheet, Key: form.Key, BodyHash: form.bodyHash(), At: l.Now()},
		form.judge(g.exercise, unitsOf(l.class), l.Now()))
	if err != nil {
		l.t.Logf("sheet %d: %v", sheet, err)
	}
}

func (l *largeClass) review() string {
	return assignmentHref(l.class, l.given[0].assignment.No) + "/review"
}

func (l *largeClass) open(path string) {
	l.t.Helper()
	if p := l.ask(call{Method: http.MethodGet, Path: path, Token: l.staff}); p.Status != http.StatusOK {
		l.t.Fatalf("GET %s = %d: %s", path, p.Status, p.text())
	}
}

// largeTables grow with a school.
var largeTables = []string{"attempts", "results", "answers", "tallies", "progress", "sheets", "students", "clearances", "keys", "assignments"}

// afresh is the same school on connections of its own. Those of before are
// closed, and what they counted is told by then.
func (l *largeClass) afresh() *largeClass {
	l.t.Helper()
	l.rest()
	st, err := store.Open(context.Background(), l.db.Config().ConnString(), store.Options{})
	l.must(err)
	l.t.Cleanup(st.Close)
	w := &world{harness: startServer(l.t, func(c *Config) { c.Store, c.Lessons = st, shippedLessons(l.t) }), db: l.db, hash: l.hash, sum: l.sum}
	w.Store, w.handler = st, w.Server.handler()
	return &largeClass{world: w, class: l.class, staff: l.staff, given: l.given}
}

// rest closes the connections and waits until the last of them is gone.
func (l *largeClass) rest() {
	l.t.Helper()
	l.Store.Close()
	for queryOne[int](l.world, `SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid() AND backend_type = 'client backend'`) > 0 {
		time.Sleep(10 * time.Millisecond)
	}
}

// In a school of many classes nothing that one class does reads a large table
// from end to end: PostgreSQL's own counters of such scans stand still.
func TestIndexesOnly(t *testing.T) {
	t.Parallel()
	l := newLargeClass(t, 2, 2)
	storetest.Multiply(t, l.db.Config().ConnString(), l.class.ID, 200)
	l = l.afresh()
	scans := func(kind string) map[string]int {
		out := map[string]int{}
		for _, name := range largeTables {
			out[name] = queryOne[int](l.world, `SELECT `+kind+`::int FROM pg_stat_user_tables WHERE relname = $1`, name)
		}
		return out
	}
	full, byIndex := scans("seq_scan"), scans("idx_scan")
	for _, path := range []string{l.review(), assignmentHref(l.class, 1) + "/room", assignmentHref(l.class, 1) + "/alike", keyHref(l.class, 1),
		classHref(l.class) + "/report", fmt.Sprintf("%s/students/1/report", classHref(l.class))} {
		l.open(path)
	}
	l.complete(l.given[0], 1)
	l.rest()
	if now := scans("seq_scan"); fmt.Sprint(now) != fmt.Sprint(full) {
		t.Errorf("full scans of large tables = %v, want as before, %v", now, full)
	}
	now := scans("idx_scan")
	for _, name := range []string{"attempts", "answers", "tallies", "progress", "sheets"} {
		if now[name] <= byIndex[name] {
			t.Errorf("index scans of %s = %d, want more than %d: nothing was measured", name, now[name], byIndex[name])
		}
	}
}

// BenchmarkRekey changes the key of an assignment with 300 attempts: all are
// judged again and written in one transaction.
func BenchmarkRekey(b *testing.B) {
	l := newLargeClass(b, 1, 10)
	ctx := context.Background()
	for b.Loop() {
		w, err := l.Store.Work(ctx, l.class.ID, 1)
		l.must(err)
		from, err := l.Server.rulesOf(ctx, w.Assignment)
		l.must(err)
		plan, faults, err := from.plan(l.class, keyChange{Why: "try", Withdrawn: []string{}, Tolerances: map[string]float64{"tip_depth": 0.2 + 0.01*float64(from.no%50)}})
		if err != nil || len(faults) > 0 {
			b.Fatal(err, faults)
		}
		_, err = l.Store.Rekey(ctx, l.class.ID, 1, from.no, store.Act{By: w.Assignment.CreatedBy, At: l.Now()}, func(w store.Work) (store.Rekeyed, error) {
			r, _, err := plan.decide(w)
			return r, err
		})
		l.must(err)
	}
}

// BenchmarkReviewPage opens the review of one class in a school of so many
// attempts. The million is made only when ARRISBOOK_LONG is set: it takes
// minutes and some gigabytes.
func BenchmarkReviewPage(b *testing.B) {
	for _, attempts := range []int{1_000, 1_000_000} {
		b.Run(fmt.Sprint(attempts), func(b *testing.B) {
			if attempts > 100_000 && os.Getenv("ARRISBOOK_LONG") == "" {
				b.Skip("set ARRISBOOK_LONG to make a million attempts")
			}
			l := newLargeClass(b, 4, 8)
			if copies := attempts / queryOne[int](l.world, `SELECT count(*) FROM attempts`); copies > 1 {
				storetest.Multiply(b, l.db.Config().ConnString(), l.class.ID, copies)
			}
			l.open(l.review())
			b.ReportMetric(float64(queryOne[int](l.world, `SELECT count(*) FROM attempts`)), "attempts")
			for b.Loop() {
				l.open(l.review())
			}
		})
	}
}
