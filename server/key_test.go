package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// keyWorld is a class of three who have sent numbers on one assignment.
type keyWorld struct {
	*world
	class    store.Class
	rosa     store.Staff
	students []store.Student
	given    given
	staff    string // session
}

func newKeyWorld(t *testing.T, exercise string) *keyWorld {
	t.Helper()
	k := &keyWorld{world: newWorld(t)}
	k.rosa = k.account("rosa", true)
	k.class = k.harness.class(k.rosa)
	k.students = k.harness.students(k.class, k.rosa, "Wanda Petersen", "Oskar Hale", "Ines Brandt")
	k.given = k.give(k.class, k.rosa, exercise, k.students, 100, nil)
	k.staff = k.staffToken(k.rosa.ID)
	return k
}

// send hands texts in on a sheet: those given, the others right.
func (k *keyWorld) send(sheet int, change map[string]string) int {
	k.t.Helper()
	ctx := context.Background()
	sh, err := k.Store.Sheet(ctx, k.class.ID, sheet)
	k.must(err)
	a, ex, err := k.Server.loadAssignment(ctx, k.class.ID, sh.AssignmentNo)
	k.must(err)
	form := numbersForm{Key: newKey(), Wood: sh.Wood, KeyNo: a.KeyNo, Texts: k.rightTexts(k.given, sh)}
	for id, text := range change {
		form.Texts[id] = text
	}
	no, _, err := k.Store.Submit(ctx, store.Submission{ClassID: k.class.ID, Sheet: sheet, Key: form.Key, BodyHash: form.bodyHash(), At: k.Now()},
		form.judge(ex, unitsOf(k.class), k.Now()))
	k.must(err)
	return no
}

// off is a step's right number on a sheet, moved by so much.
func (k *keyWorld) off(sheet int, step string, by float64) string {
	k.t.Helper()
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, sheet)
	k.must(err)
	return fmt.Sprintf("%.4f", grading.Key(k.given.exercise, sh.Current().Parameters)[step]+by)
}

func (k *keyWorld) href() string { return keyHref(k.class, k.given.assignment.No) }

func (k *keyWorld) post(path string, form ...string) *page {
	return k.ask(call{Method: http.MethodPost, Path: path, Token: k.staff, Body: fields(form...).Encode()})
}

// change looks at a change and makes it.
func (k *keyWorld) change(form ...string) *page {
	k.t.Helper()
	seen := k.post(k.href()+"/preview", form...).want(k.t, http.StatusOK, "Next: change the key")
	p := k.post(k.href(), append(form, "print", attr(seen.field("print"), "value"))...)
	if p.Status != http.StatusSeeOther {
		k.t.Fatalf("changing the key = %d: %s", p.Status, p.text())
	}
	return seen
}

func (k *keyWorld) undo() *page { return k.post(k.href() + "/undo") }

// attempt is an attempt as it stands.
func (k *keyWorld) attempt(sheet, no int) store.Attempt {
	k.t.Helper()
	a, err := k.Store.Attempt(context.Background(), k.class.ID, sheet, no)
	k.must(err)
	return a
}

func (k *keyWorld) verdict(sheet, no int, step string) string {
	for _, r := range k.attempt(sheet, no).Result.Steps {
		if r.ID == step {
			return string(r.Verdict)
		}
	}
	return ""
}

func (k *keyWorld) studentPage(sheet int, rest string) *page {
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, sheet)
	k.must(err)
	return k.ask(call{Method: http.MethodGet, Path: fmt.Sprintf("%s/sheets/%d%s", classHref(k.class), sheet, rest),
		Token: k.studentToken(k.class, sh.StudentNo, false)})
}

func (k *keyWorld) wantCounts() {
	k.t.Helper()
	got, err := k.Store.CheckCounts(context.Background(), k.class.ID)
	if err != nil || len(got.Faults) > 0 {
		k.t.Errorf("CheckCounts = %v, %v, want no fault", got.Faults, err)
	}
}

// A wider tolerance: seen before, judged again, told to the student with the
// reason, and taken back word for word.
func TestKeyTolerance(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	k.send(1, map[string]string{"tip_depth": k.off(1, "tip_depth", 0.9)})
	k.send(2, nil)
	before := k.attempt(1, 1)
	k.get(k.href()).want(t, 200, "the key is as given out", "blank by blank", "keeps the near shoulder tight")
	seen := k.change("why", "Our rules read to half a millimetre.", "tolerance-tip_depth", "1 mm", "tolerance-mouth_near", "0.4")
	seen.want(t, 200, "One result would change on one sheet", "Two attempts would be judged again",
		"with 1 mm the joint still closes", "lets the near", "stand off up to", "Wanda Petersen", "wrong → right", "Tip depth: right within 1 mm now.")
	seen.lacks(t, "Oskar Hale")
	if got := k.verdict(1, 1, "tip_depth"); got != "right" {
		t.Errorf("tip depth off by 0.9 within 1 mm = %s, want right", got)
	}
	k.studentPage(1, "").want(t, 200, "The key was changed", "Our rules read to half a millimetre.", "Tip depth: right within 1 mm now.",
		"five of six right before, six of six right now", "Tolerance: your instructor has set 1 mm")
	k.studentPage(2, "").want(t, 200, "nothing of it has changed")
	k.studentPage(1, "/attempts/1").want(t, 200, "Judged more than once", "By key 1", "By key 2")
	k.studentPage(1, "/attempts/1?key=1").want(t, 200, "said by an earlier key", "Five of six right")
	k.studentPage(1, "/attempts/1?key=3").want(t, 404)
	k.wantCounts()
	if p := k.undo(); p.Status != http.StatusSeeOther {
		t.Fatalf("undo = %d: %s", p.Status, p.text())
	}
	after := k.attempt(1, 1)
	if fmt.Sprint(after.Result) != fmt.Sprint(before.Result) && fmt.Sprintf("%+v", after.Sheet) != fmt.Sprintf("%+v", before.Sheet) || after.KeyNo != 2 {
		t.Errorf("after undo: %+v under key %d, want what was said before, under 2", after.Result, after.KeyNo)
	}
	if got := queryOne[int](k.world, `SELECT count(*) FROM results`); got != 4 {
		t.Errorf("results = %d rows, want 4: two attempts judged by two later keys", got)
	}
	k.studentPage(1, "").want(t, 200, "was taken back", "Everything counts again as it did before").lacks(t, "Our rules read", "our instructor has set")
	k.wantCounts()
	if p := k.undo(); p.Status != http.StatusConflict {
		t.Errorf("undo of an undo = %d, want 409", p.Status)
	}
}

func (k *keyWorld) get(path string) *page {
	return k.ask(call{Method: http.MethodGet, Path: path, Token: k.staff})
}

// A day later nothing can be taken back.
func TestKeyUndoInTime(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	k.send(1, nil)
	k.change("why", "w", "tolerance-tip_depth", "1")
	k.pass(24*time.Hour - time.Second)
	k.staff = k.staffToken(k.rosa.ID)
	k.get(k.href()).want(t, 200, "Take the last change back")
	k.pass(time.Second)
	k.get(k.href()).lacks(t, "Take the last change back")
	if p := k.undo(); p.Status != http.StatusConflict {
		t.Errorf("undo after a day = %d, want 409", p.Status)
	}
}

// A withdrawn number counts for nobody; what was built on it still follows.
func TestKeyWithdraws(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	k.send(1, map[string]string{"half_angle": "33.3"})
	first := k.attempt(1, 1)
	k.change("why", "The figure was wrong.", "off-half_angle", "on")
	a := k.attempt(1, 1)
	if a.OutOf != 5 || a.Score != 5 || len(a.Sheet.Steps) != 5 || fmt.Sprint(a.Sheet.Withdrawn) != "[half_angle]" {
		t.Errorf("after withdrawing: %d of %d, steps %v, withdrawn %v, want 5 of 5", a.Score, a.OutOf, a.Sheet.Steps, a.Sheet.Withdrawn)
	}
	k.studentPage(1, "").want(t, 200, "Half angle: withdrawn").lacks(t, `name="n-half_angle"`)
	k.studentPage(3, "").want(t, 200, "Half angle: withdrawn", "five numbers to set out")
	k.get(assignmentHref(k.class, 1)+"/room").want(t, 200)
	k.get(assignmentHref(k.class, 1)+"/review").want(t, 200)
	k.get(fmt.Sprintf("%s/sheets/1/bench", classHref(k.class))).want(t, 200)
	k.wantCounts()
	k.send(3, nil)
	k.undo()
	if got := k.attempt(1, 1); got.Score != first.Score || got.OutOf != 6 {
		t.Errorf("after undo: %d of %d, want %d of 6", got.Score, got.OutOf, first.Score)
	}
	if got := k.attempt(3, 1); got.OutOf != 6 || k.verdict(3, 1, "half_angle") != "blank" {
		t.Errorf("what was sent without the number = %d of %d, %s, want it blank", got.Score, got.OutOf, k.verdict(3, 1, "half_angle"))
	}
	k.wantCounts()
	k.post(k.href()+"/preview", offAll(k.given.exercise)...).want(t, http.StatusUnprocessableEntity, "One number at least has to stay")
}

func offAll(ex *grading.Exercise) []string {
	form := []string{"why", "w"}
	for _, st := range ex.Steps {
		form = append(form, "off-"+st.ID, "on")
	}
	return form
}

// A slip named by the instructor explains what was sent before it was named,
// and a hint can be written anew.
func TestKeySlipAndHint(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, 1)
	k.must(err)
	p := sh.Issued.Parameters
	text := fmt.Sprintf("%.3f", p["v_length"]*0.8137+p["v_width"]*0.0719)
	k.send(1, map[string]string{"tip_depth": text})
	k.studentPage(1, "/attempts/1").lacks(t, "a worn mould")
	seen := k.change("why", "Seen on several benches.", "slip-step", "tip_depth", "slip-says", "the depth comes off a worn mould",
		"slip-formula", "v_length*0.8137 + v_width*0.0719", "slip-asks", "Which face does it start from?")
	seen.want(t, 200, "No result would change", "One wrong answer would be explained in another way", "one more slip is known by name")
	k.studentPage(1, "/attempts/1").want(t, 200, "if the depth comes off a worn mould.", "Which face does it start from?")
	if a := k.attempt(1, 1); !strings.Contains(fmt.Sprint(slipOn(a, "tip_depth")), "own-1") {
		t.Errorf("slip = %v, want own-1", slipOn(a, "tip_depth"))
	}
	form := k.get(k.href()).want(t, 200, "Tip depth: the depth comes off a worn mould")
	if form.field("hint-slip") == nil {
		t.Fatal("no field for another hint")
	}
	k.change("why", "Said better.", "hint-slip", "tip_depth|own-1|", "hint-text", "This is the number you get if the mould is worn. Which one did you take?")
	k.studentPage(1, "/attempts/1").want(t, 200, "if the mould is worn. Which one did you take?")
	k.wantCounts()
}

func slipOn(a store.Attempt, step string) *grading.Slip {
	for _, r := range a.Result.Steps {
		if r.ID == step {
			return r.Pattern
		}
	}
	return nil
}

func (k *keyWorld) doubled(sheet int, step string) string {
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, sheet)
	k.must(err)
	return fmt.Sprintf("%.2f", 2*grading.Key(k.given.exercise, sh.Current().Parameters)[step])
}

// What cannot be done is refused beside its field, and nothing is kept.
func TestKeyRefuses(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	k.send(1, map[string]string{"half_angle": k.off(1, "half_angle", 45)})
	k.send(1, map[string]string{"half_angle": k.doubled(1, "half_angle")})
	before := k.checksum()
	for _, c := range []struct {
		name string
		form []string
		want string
	}{
		{"nothing", []string{"why", "w"}, "Nothing is changed yet"},
		{"no reason", []string{"tolerance-tip_depth", "1"}, "Write why"},
		{"a long reason", []string{"tolerance-tip_depth", "1", "why", strings.Repeat("x", 301)}, "under 300"},
		{"no number", []string{"why", "w", "tolerance-tip_depth", "much"}, "aria-invalid"},
		{"an angle for a length", []string{"why", "w", "tolerance-tip_depth", "1°"}, "aria-invalid"},
		{"nothing at all", []string{"why", "w", "tolerance-tip_depth", "0"}, "more than nothing"},
		{"too much", []string{"why", "w", "tolerance-tip_depth", "6"}, "goes up to"},
		{"a slip without a step", []string{"why", "w", "slip-says", "x"}, "Choose the number"},
		{"a slip without a formula", []string{"why", "w", "slip-step", "tip_depth", "slip-says", "x"}, "Write the wrong formula"},
		{"a formula of strangers", []string{"why", "w", "slip-step", "tip_depth", "slip-says", "x", "slip-formula", "nobody*2"}, "nobody"},
		{"a formula of another kind", []string{"why", "w", "slip-step", "tip_depth", "slip-says", "x", "slip-formula", "half_angle"}, "aria-invalid"},
		{"a hint for nothing", []string{"why", "w", "hint-text", "x"}, "Choose the slip"},
	} {
		p := k.post(k.href()+"/preview", c.form...)
		if p.Status != http.StatusUnprocessableEntity || !strings.Contains(p.Body, c.want) {
			t.Errorf("%s: %d without %q: %s", c.name, p.Status, c.want, p.text())
		}
	}
	form := []string{"why", "w", "tolerance-tip_depth", "1"}
	if p := k.post(k.href(), form...); p.Status != http.StatusConflict {
		t.Errorf("a change nobody has looked at = %d, want 409 with the preview", p.Status)
	}
	seen := attr(k.post(k.href()+"/preview", form...).field("print"), "value")
	if p := k.post(k.href(), "why", "w", "tolerance-tip_depth", "2", "print", seen); p.Status != http.StatusConflict {
		t.Errorf("another change than was seen = %d, want 409", p.Status)
	}
	if k.checksum() != before {
		t.Error("something was kept of what was refused")
	}
	k.send(1, map[string]string{"tip_depth": k.off(1, "tip_depth", 0.9)})
	if p := k.post(k.href(), append(form, "print", seen)...); p.Status != http.StatusConflict {
		t.Errorf("with numbers sent since = %d, want 409 and the preview once more", p.Status)
	} else {
		p.want(t, http.StatusConflict, "since you looked")
	}
}

// Leave to cut for numbers that would not be right any more: the instructor has
// to say what becomes of it; it is never given back.
func TestKeyAndClearance(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		leave  string
		stands bool
	}{{leaveStays, true}, {leaveEnds, false}} {
		k := newKeyWorld(t, "head-v-joint-first")
		ctx := context.Background()
		k.change("why", "wide", "tolerance-tip_depth", "2")
		no := k.send(1, map[string]string{"tip_depth": k.off(1, "tip_depth", 1.2)})
		k.must(k.Store.Clear(ctx, k.class.ID, 1, no, 1, k.rosa.ID, k.Now()))
		asked := k.send(2, map[string]string{"tip_depth": k.off(2, "tip_depth", 1.2)})
		k.must(k.Store.Ask(ctx, k.class.ID, 2, asked, 0, k.Now()))
		form := []string{"why", "Back to the fit."}
		seen := k.post(k.href()+"/preview", form...).want(t, 200, "Leave to cut stands for numbers that would not be right",
			"bench 1, Wanda Petersen", "One bench leaves the queue")
		form = append(form, "print", attr(seen.field("print"), "value"))
		k.post(k.href(), form...).want(t, http.StatusUnprocessableEntity, "Choose what becomes of their leave")
		if p := k.post(k.href(), append(form, "leave", c.leave)...); p.Status != http.StatusSeeOther {
			t.Fatalf("%s: %d: %s", c.leave, p.Status, p.text())
		}
		all, err := k.Store.Clearances(ctx, k.class.ID, 1)
		k.must(err)
		if all[0].Stands() != c.stands {
			t.Errorf("%s: leave to cut stands = %v, want %v", c.leave, all[0].Stands(), c.stands)
		}
		if !c.stands {
			k.studentPage(1, "").want(t, 200, "Leave to cut has ended: the key was changed: Back to the fit.")
		}
		sh, err := k.Store.Sheet(ctx, k.class.ID, 2)
		k.must(err)
		if sh.AskedAt != nil {
			t.Errorf("%s: bench 2 still waits for a check", c.leave)
		}
		if err := k.Store.Clear(ctx, k.class.ID, 2, asked, 1, k.rosa.ID, k.Now()); err == nil {
			t.Errorf("%s: leave was given for what an older key found right", c.leave)
		}
		k.undo()
		all, err = k.Store.Clearances(ctx, k.class.ID, 1)
		k.must(err)
		if all[0].Stands() != c.stands {
			t.Errorf("%s, taken back: leave to cut stands = %v, want %v: never given by itself", c.leave, all[0].Stands(), c.stands)
		}
	}
}

// Sheets given out and wood measured after a change are under its key.
func TestKeyOnNewSheets(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	k.change("why", "wide", "tolerance-tip_depth", "2", "off-half_angle", "on")
	k.harness.students(k.class, k.rosa, "Late Comer")
	if p := k.post(assignmentHref(k.class, 1) + "/missing"); p.Status != http.StatusSeeOther {
		t.Fatalf("giving the missing sheet = %d: %s", p.Status, p.text())
	}
	late, err := k.Store.Sheet(context.Background(), k.class.ID, 4)
	k.must(err)
	sh, err := k.Store.Sheet(context.Background(), k.class.ID, 1)
	k.must(err)
	form := measured(k.given, sh, 0.5)
	path := fmt.Sprintf("%s/sheets/1/wood", classHref(k.class))
	if p := k.ask(call{Method: http.MethodPost, Path: path, Token: k.studentToken(k.class, 1, false), Body: fields(form...).Encode()}); p.Status != http.StatusSeeOther {
		t.Fatalf("measuring = %d: %s", p.Status, p.text())
	}
	sh, err = k.Store.Sheet(context.Background(), k.class.ID, 1)
	k.must(err)
	for name, got := range map[string]grading.Sheet{"late": late.Current(), "measured": sh.Current()} {
		if len(got.Steps) != 5 || toleranceOf(got, "tip_depth") != 2 {
			t.Errorf("%s sheet: %d steps, tip depth within %v, want 5 and 2", name, len(got.Steps), toleranceOf(got, "tip_depth"))
		}
	}
	if toleranceOf(sh.Plain(), "tip_depth") == 2 || sh.Plain().Parameters["thickness"] == sh.Issued.Parameters["thickness"] {
		t.Errorf("plain sheet = %+v, want the wood as measured and the class's own tolerance", sh.Plain())
	}
}

func toleranceOf(s grading.Sheet, step string) float64 {
	for _, st := range s.Steps {
		if st.ID == step {
			return st.Tolerance
		}
	}
	return 0
}

// Keys are changed while three students send: every result is wholly by the key
// it names.
func TestKeyWhileSending(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	var wait sync.WaitGroup
	for i, st := range k.students {
		token := k.studentToken(k.class, st.No, false)
		sh, err := k.Store.Sheet(context.Background(), k.class.ID, i+1)
		k.must(err)
		wait.Go(func() {
			for n := range 12 {
				form := []string{"key", newKey(), "wood", "0"}
				for id, text := range k.rightTexts(k.given, sh) {
					if id == "tip_depth" {
						text = k.near(sh, 0.9+0.001*float64(n))
					}
					form = append(form, fieldOf(id), text)
				}
				p := k.ask(call{Method: http.MethodPost, Path: fmt.Sprintf("%s/sheets/%d/attempts", classHref(k.class), sh.No), Token: token, Body: fields(form...).Encode()})
				if p.Status != http.StatusSeeOther {
					t.Errorf("sheet %d: %d: %s", sh.No, p.Status, p.text())
				}
			}
		})
	}
	wait.Go(func() {
		for n := range 6 {
			b := []string{"why", "w", "tolerance-tip_depth", fmt.Sprint(1 + n%2)} // wide enough each time
			if n%2 == 1 {
				b = []string{"why", "w"}
			}
			k.tryChange(b)
		}
	})
	wait.Wait()
	for sheet := 1; sheet <= 3; sheet++ {
		all, err := k.Store.AttemptsOf(context.Background(), k.class.ID, sheet)
		k.must(err)
		if len(all) != 12 {
			t.Errorf("sheet %d has %d attempts, want 12", sheet, len(all))
		}
		for _, a := range all {
			js, err := k.Store.Judgements(context.Background(), k.class.ID, sheet, a.No)
			k.must(err)
			for _, j := range js {
				want, got := "wrong", ""
				if toleranceOf(j.Sheet, "tip_depth") >= 1 {
					want = "right"
				}
				for _, r := range j.Result.Steps {
					if r.ID == "tip_depth" {
						got = string(r.Verdict)
					}
				}
				r, err := k.Server.rulesUnder(context.Background(), k.assignment(), j.KeyNo)
				k.must(err)
				if set := r.tolerances["tip_depth"]; got != want || (set > 0) != (want == "right") {
					t.Errorf("sheet %d, attempt %d, key %d: %s within %v, and the key sets %v", sheet, a.No, j.KeyNo, got, toleranceOf(j.Sheet, "tip_depth"), set)
				}
			}
		}
	}
	k.wantCounts()
}

func (k *keyWorld) assignment() store.Assignment {
	a, err := k.Store.Assignment(context.Background(), k.class.ID, k.given.assignment.No)
	k.must(err)
	return a
}

func (k *keyWorld) near(sh store.Sheet, by float64) string {
	return fmt.Sprintf("%.4f", grading.Key(k.given.exercise, sh.Issued.Parameters)["tip_depth"]+by)
}

// tryChange changes the key, looking again as often as something comes between.
func (k *keyWorld) tryChange(form []string) {
	for range 50 {
		seen := k.post(k.href()+"/preview", form...)
		if seen.field("print") == nil {
			return // nothing to change
		}
		if p := k.post(k.href(), append(form, "print", attr(seen.field("print"), "value"))...); p.Status == http.StatusSeeOther {
			return
		}
	}
}

// An exercise without a family takes its key from its formulas: one put right
// makes right numbers of what was called wrong.
func TestKeyFormula(t *testing.T) {
	t.Parallel()
	k := newKeyWorld(t, "head-v-joint-first")
	ex, faults := grading.NewExercise(grading.Spec{
		ID: "tray", Version: 1, Title: "Tray", Module: "own", Givens: []grading.GivenSpec{
			{ID: "length", Name: "Length", Unit: "mm", From: "100", To: "200", By: "1"},
			{ID: "lip", Name: "Lip", Unit: "mm", From: "4", To: "9", By: "0.5"},
		},
		Steps: []grading.StepSpec{
			{ID: "inner", Name: "Inner length", Unit: "mm", Formula: "length - lip"},
			{ID: "third", Name: "A third", Unit: "mm", Formula: "inner/3", Carries: []string{"inner"}},
		},
	})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	ctx := context.Background()
	_, err := k.Server.keepExercise(ctx, ex)
	k.must(err)
	sheet, err := grading.OnBlank(ex, joint.Values{"length": 150, "lip": 6}, shopOf(k.class))
	k.must(err)
	no, err := k.Store.CreateAssignment(ctx, store.Assignment{ClassID: k.class.ID, Exercise: "tray", Version: 1, Title: "Tray", OpensAt: k.Now().Add(-time.Minute),
		Release: store.ReleaseByHand, CreatedBy: k.rosa.ID, CreatedAt: k.Now()}, []store.NewSheet{{StudentNo: 1, Sheet: sheet}})
	k.must(err)
	k.given = given{exercise: ex, assignment: store.Assignment{ClassID: k.class.ID, No: no}}
	k.send(4, map[string]string{"inner": "138", "third": "46"}) // a lip at either end
	if got := k.verdict(4, 1, "inner"); got != "wrong" {
		t.Fatalf("138 by the faulty formula = %s, want wrong", got)
	}
	k.post(k.href()+"/preview", "why", "w", "formula-inner", "length - 2*nobody").want(t, http.StatusUnprocessableEntity, "nobody")
	k.post(k.href()+"/preview", "why", "w", "formula-inner", "length*lip").want(t, http.StatusUnprocessableEntity)
	k.change("why", "There is a lip at either end.", "formula-inner", "length - 2*lip").want(t, 200, "its formula was put right", "wrong → right")
	if k.verdict(4, 1, "inner") != "right" || k.verdict(4, 1, "third") != "right" {
		t.Errorf("by the formula put right: %s, %s, want right both", k.verdict(4, 1, "inner"), k.verdict(4, 1, "third"))
	}
	k.studentPage(4, "").want(t, 200, "its formula was put right", "There is a lip at either end.").lacks(t, "2*lip", "length -")
	k.wantCounts()
	k.undo()
	if got := k.verdict(4, 1, "inner"); got != "wrong" {
		t.Errorf("taken back: %s, want wrong again", got)
	}
}
