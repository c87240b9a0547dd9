package server

import (
	"maps"
	"net/http"
	"testing"
	"time"
)

// Before it begins a sheet does not exist for its student; after the due time
// it can be read and not sent.
func TestBeginsAndDue(t *testing.T) {
	t.Parallel()
	// The class lives in Lisbon, where the clocks show UTC in November.
	b := newBench(t, "opens", "2026-11-23T08:00", "due", "2026-11-23T09:00")
	b.pupil.get("/sheets").want(t, http.StatusOK, "No sheet yet")
	b.pupil.get(b.href).want(t, http.StatusNotFound)
	b.pressed(newKey(), b.right()).want(t, http.StatusNotFound)
	b.teacher.get(b.given).want(t, http.StatusOK, "has not begun", "Students see their sheets from Mon 23 Nov 2026, 08:00 on")

	b.pass(time.Hour)
	b.pupil.get(b.href).want(t, http.StatusOK, "Due Mon 23 Nov, 09:00")
	check := b.pupil.press(b.pupil.get(b.href), b.href+"/check", fieldsOf(b.right())...).want(t, http.StatusOK)

	b.pass(time.Hour)
	late := b.pupil.press(check, b.href+"/attempts").want(t, http.StatusConflict, "The due time is over")
	id := b.sheet.Issued.Steps[0].ID
	if got := attr(late.field(fieldOf(id)), "value"); got != b.right()[id] {
		t.Errorf("after the due time the field holds %q, want what was typed", got)
	}
	b.pupil.get(b.href).want(t, http.StatusOK, "It was due Mon 23 Nov, 09:00").lacks(t, `id="send"`)
	b.pupil.get(b.href+"/wood").want(t, http.StatusConflict, "The blank stays as it is")

	// More time opens it again.
	b.teacherAgain()
	b.teacher.press(b.teacher.get(b.given), b.given+"/terms", "due", "2026-11-23T12:00").want(t, http.StatusOK, "The terms are changed")
	b.send(b.right()).want(t, http.StatusOK, "All six right")
}

// The key by hand: out, hidden again with a note, and sending in between.
func TestReleaseByHand(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	first := b.sheet.Issued.Steps[0].ID
	b.send(change(b.right(), first, b.slipOn(first))).want(t, http.StatusOK)
	b.pupil.get(b.href).lacks(t, "Right number:")

	b.teacher.press(b.teacher.get(b.given), b.given+"/release").want(t, http.StatusOK, "The key is released", "Key released by Ada Test")
	b.pupil.get(b.href).want(t, http.StatusOK, "Right number:", "true shape", "The key is released, so nothing more can be sent")
	b.pupil.get(b.href+"/attempts/1").want(t, http.StatusOK, "Right number:", "Least, mm")
	b.pressed(newKey(), b.right()).want(t, http.StatusConflict, "The key is released")

	b.teacher.post(b.given+"/takeback", "note", "  ").want(t, http.StatusUnprocessableEntity, "Write why")
	b.teacher.post(b.given+"/takeback", "note", "wrong button").want(t, http.StatusOK, "The key is hidden again", "wrong button", "Key taken back by Ada Test")
	b.teacher.post(b.given+"/takeback", "note", "twice").want(t, http.StatusOK, "That was done already")
	b.pupil.get(b.href).want(t, http.StatusOK, "not to scale").lacks(t, "Right number:")
	b.pupil.get(b.href+"/attempts/1").want(t, http.StatusOK, "Where").lacks(t, "Right number:", "Least, mm")
	b.send(b.right()).want(t, http.StatusOK)
}

// The key when cleared: seen while the clearance stands, and no longer.
func TestReleaseWhenCleared(t *testing.T) {
	t.Parallel()
	b := newBench(t, "release", "cleared")
	b.send(b.right()).want(t, http.StatusOK)
	b.pupil.get(b.href).lacks(t, "Right number:")
	b.clear(1)
	b.pupil.get(b.href).want(t, http.StatusOK, "Right number:")
	first := b.sheet.Issued.Steps[0].ID
	b.send(change(b.right(), first, b.right()[first]+"0")).want(t, http.StatusOK)
	b.pupil.get(b.href).want(t, http.StatusOK).lacks(t, "Right number:")
}

// The key at the due time.
func TestReleaseWhenDue(t *testing.T) {
	t.Parallel()
	b := newBench(t, "release", "due", "due", "2026-11-23T09:00")
	b.send(b.right()).want(t, http.StatusOK)
	b.pass(2*time.Hour - time.Second)
	b.pupil.get(b.href).want(t, http.StatusOK).lacks(t, "Right number:")
	b.pass(time.Second)
	b.pupil.get(b.href).want(t, http.StatusOK, "Right number:")
	b.teacherAgain()
	b.teacher.get(b.given).want(t, http.StatusOK, "Released at the due time")
	b.teacher.press(b.teacher.get(b.given), b.given+"/terms", "due", "2026-11-23T15:00").want(t, http.StatusOK, "The key was out and is hidden again")
	b.pupil.get(b.href).want(t, http.StatusOK).lacks(t, "Right number:")
}

// Withdrawn and given out again: nothing is lost.
func TestWithdraw(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.send(b.right()).want(t, http.StatusOK)
	b.teacher.press(b.teacher.get(b.given), b.given+"/withdraw").want(t, http.StatusOK, "is withdrawn", "Withdrawn by Ada Test")
	b.pupil.get("/sheets").want(t, http.StatusOK, "No sheet yet")
	b.pupil.get(b.href).want(t, http.StatusNotFound, "This sheet was withdrawn")
	b.pupil.get(b.href+"/attempts/1").want(t, http.StatusNotFound)
	b.pressed(newKey(), b.right()).want(t, http.StatusNotFound)
	b.teacher.press(b.teacher.get(b.given), b.given+"/giveout").want(t, http.StatusOK, "Given out again")
	b.pupil.get(b.href).want(t, http.StatusOK, "all six right", "Attempt 1 was received")
}

// Whoever comes later gets a sheet by one press, with a blank of their own.
func TestMissing(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.students(b.class, b.staff, "Cosmo Vale", "Edda Karr")
	page := b.teacher.get(b.given).want(t, http.StatusOK, "Next: sheets for 2 students who have none", "Cosmo V., Edda K.")
	b.teacher.press(page, b.given+"/missing").want(t, http.StatusOK, "2 sheets given out", "0 of 5 begun")
	b.teacher.press(page, b.given+"/missing").want(t, http.StatusOK, "0 sheets given out")
	rows, err := b.Store.Room(t.Context(), b.class.ID, b.sheet.AssignmentNo)
	if err != nil || len(rows) != 5 {
		t.Fatalf("Room = %d rows, %v, want 5", len(rows), err)
	}
	for i, r := range rows {
		for _, o := range rows[:i] {
			if o.SheetNo == r.SheetNo || maps.Equal(o.Issued.Parameters, r.Issued.Parameters) {
				t.Errorf("the sheets of benches %d and %d are not two different ones", o.Bench, r.Bench)
			}
		}
	}
}
