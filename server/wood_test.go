package server

import (
	"net/http"
	"strconv"
	"testing"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// size writes a size of the blank as given out, changed by so much.
func (b *bench) size(id string, by float64) string {
	return strconv.FormatFloat(b.sheet.Issued.Parameters[id]+by, 'f', -1, 64)
}

// The sheet follows the wood as measured: readings first, then new right
// numbers, and everything that was sent or allowed on the old sizes ends.
func TestMeasure(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	old := b.right()
	b.send(old).want(t, http.StatusOK)
	b.pupil.post(b.href+"/ask").want(t, http.StatusOK)
	b.clear(1)
	wood := b.href + "/wood"
	page := b.pupil.get(wood).want(t, http.StatusOK, "Thickness, mm", "Width, mm", "by up to 3 mm", "Your leave to cut ends with it")
	read := b.pupil.press(page, wood, "w-thickness", b.size("thickness", 0.7), "step", "read").want(t, http.StatusOK, "Is that what you measured?", "Read as "+b.size("thickness", 0.7)+" mm", "as given")
	if sh := b.stored(); sh.Wood != 0 {
		t.Errorf("after reading only: wood = %d, want 0", sh.Wood)
	}
	// A size that was changed after the reading is read once more.
	b.pupil.press(read, wood, "w-thickness", b.size("thickness", 0.8), "step", "use").want(t, http.StatusOK, "Is that what you measured?")
	b.pupil.press(read, wood, "step", "use").want(t, http.StatusOK, "The sheet is on your wood now", "the wood was measured", "Your blank, as measured", "Leave to cut has ended: the blank was measured again.")

	sh := b.stored()
	if sh.Wood != 1 || sh.OnWood == nil || sh.OnWood.Parameters["thickness"] != b.sheet.Issued.Parameters["thickness"]+0.7 || sh.AskedAt != nil {
		t.Errorf("stored sheet = %+v, want it on the measured wood", sh)
	}
	b.pupil.post(b.href+"/ask").want(t, http.StatusConflict, "The wood was measured after the numbers were sent")
	fresh := b.right()
	if fresh["tip_depth"] == old["tip_depth"] {
		t.Error("the right tip depth did not follow the wood")
	}
	// A page from before the measuring is not judged on the new wood.
	b.pressed(newKey(), fresh).want(t, http.StatusConflict, "measured again since this page was made")
	b.send(fresh).want(t, http.StatusOK, "All six right")
	if a := b.attempts()[0]; a.Wood != 1 || a.Sheet.Parameters["thickness"] != sh.OnWood.Parameters["thickness"] {
		t.Errorf("attempt 2 was judged on wood %d, %v", a.Wood, a.Sheet.Parameters)
	}
	b.pupil.get(b.href+"/attempts/1").want(t, http.StatusOK, "A newer attempt counts now")
}

func (b *bench) stored() store.Sheet {
	b.t.Helper()
	sh, err := b.Store.Sheet(b.t.Context(), b.class.ID, b.sheet.No)
	if err != nil {
		b.t.Fatal(err)
	}
	return sh
}

// Sizes that cannot be: a sentence beside the field or over the form, and
// everything typed stays.
func TestMeasureRefuses(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	wood := b.href + "/wood"
	for _, c := range []struct{ field, text, want string }{
		{"w-thickness", b.size("thickness", 3.1), "Thickness differs by more than 3 mm"},
		{"w-thickness", b.size("thickness", -3.1), "Thickness differs by more than 3 mm"},
		{"w-width", "0", "Width differs by more than 3 mm"},
		{"w-thickness", "1,234", "can mean two numbers"},
		{"w-thickness", "10°", ""},
		{"w-thickness", "tip_depth", ""},
		{"w-thickness", "\x00", "a sign in this that cannot be read"},
		{"w-thickness", b.size("thickness", 0), "These are the sizes that the sheet has already"},
		{"w-thickness", "", "These are the sizes that the sheet has already"},
	} {
		for _, step := range []string{"read", "use"} {
			p := b.pupil.post(wood, "wood", "0", c.field, c.text, "step", step, "seen", c.text+"|").want(t, http.StatusUnprocessableEntity, c.want)
			if got := attr(p.field(c.field), "value"); c.text != "\x00" && got != c.text {
				t.Errorf("%q: the field holds %q", c.text, got)
			}
		}
	}
	b.pupil.post(wood, "wood", "7", "w-thickness", b.size("thickness", 1), "step", "read").want(t, http.StatusUnprocessableEntity, "measured once more meanwhile")
	if sh := b.stored(); sh.Wood != 0 {
		t.Errorf("wood = %d, want 0", sh.Wood)
	}
}

// Measuring is always held against the blank as given out, so that many small
// steps do not lead away from it.
func TestMeasureFromTheBlank(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	wood := b.href + "/wood"
	for i, by := range []float64{2, 3, 4} {
		text := b.size("thickness", by)
		p := b.pupil.post(wood, "wood", strconv.Itoa(i), "w-thickness", text, "step", "use", "seen", text+"|")
		if want := map[bool]int{true: http.StatusOK, false: http.StatusUnprocessableEntity}[by <= grading.MeasuredRange]; p.Status != want {
			t.Errorf("%v mm off = %d, want %d:\n%s", by, p.Status, want, p.text())
		}
	}
}
