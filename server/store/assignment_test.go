package store_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
	"arrisbook/server/store/storetest"
)

// shop is a class with students and one kept exercise.
type shop struct {
	*store.Store
	t     *testing.T
	class store.Class
	staff store.Staff
}

var opening = time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)

// newShop makes a class of so many students.
func newShop(t *testing.T, students int) shop {
	t.Helper()
	return newShopOn(t, storetest.New(t), students)
}

func newShopOn(t *testing.T, st *store.Store, students int) shop {
	t.Helper()
	s := shop{Store: st, t: t}
	ctx := t.Context()
	var err error
	s.staff, err = s.AddStaff(ctx, store.NewStaff{Email: "ada@shop.example", Name: "Ada", PasswordHash: "-", MayTeach: true, At: opening})
	if err != nil {
		t.Fatal(err)
	}
	s.class, err = s.AddClass(ctx, store.ClassSettings{
		Name: "Evening", Zone: "UTC", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1,
	}, "CODE", s.staff.ID, opening)
	if err != nil {
		t.Fatal(err)
	}
	s.join(students)
	if _, err := s.KeepExercise(ctx, "e", 1, []byte(`{"id":"e"}`)); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s shop) join(students int) {
	s.t.Helper()
	_, err := s.AddStudents(s.t.Context(), s.class.ID, s.staff.ID, opening, func(have []store.Student) ([]store.NewStudent, error) {
		var add []store.NewStudent
		for i := range students {
			n := len(have) + i + 1
			add = append(add, store.NewStudent{Name: fmt.Sprintf("Student %d", n), Bench: n})
		}
		return add, nil
	})
	if err != nil {
		s.t.Fatal(err)
	}
}

// blank is a sheet that only its number tells from another.
func blank(n int) grading.Sheet {
	return grading.Sheet{Exercise: "e", Version: 1, Seed: 1<<53 - uint64(n), Parameters: joint.Values{"width": 50 + float64(n)/10},
		Steps: []grading.SheetStep{{ID: "a", Unit: joint.MM, Tolerance: 0.069, Why: "w"}}}
}

// give hands sheets to students by their numbers.
func (s shop) give(students ...int) (int, error) {
	var sheets []store.NewSheet
	for _, no := range students {
		sheets = append(sheets, store.NewSheet{StudentNo: no, Sheet: blank(no)})
	}
	return s.CreateAssignment(s.t.Context(), store.Assignment{
		ClassID: s.class.ID, Exercise: "e", Version: 1, Title: "E", OpensAt: opening, Release: store.ReleaseByHand, CreatedBy: s.staff.ID, CreatedAt: opening,
	}, sheets)
}

func TestCreateAssignment(t *testing.T) {
	t.Parallel()
	s := newShop(t, 3)
	for want := 1; want <= 2; want++ {
		if no, err := s.give(1, 2, 3); err != nil || no != want {
			t.Fatalf("CreateAssignment = %d, %v, want %d", no, err, want)
		}
	}
	rows, err := s.Room(t.Context(), s.class.ID, 2)
	if err != nil || len(rows) != 3 {
		t.Fatalf("Room = %d rows, %v, want 3", len(rows), err)
	}
	for i, r := range rows {
		sh, err := s.Sheet(t.Context(), s.class.ID, r.SheetNo)
		if err != nil || sh.No != 4+i || sh.StudentNo != i+1 {
			t.Errorf("sheet of bench %d = %d of student %d, %v, want %d", i+1, sh.No, sh.StudentNo, err, 4+i)
		}
		if want := blank(i + 1); fmt.Sprint(sh.Issued) != fmt.Sprint(want) || fmt.Sprint(sh.Current()) != fmt.Sprint(want) {
			t.Errorf("sheet as stored = %v, want %v", sh.Issued, want)
		}
	}
}

// An assignment with its sheets is there whole or not at all.
func TestCreateAssignmentWhole(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	if _, err := s.give(1, 2, 99); !errors.Is(err, store.ErrChanged) {
		t.Errorf("with a student who is none: %v, want ErrChanged", err)
	}
	all, err := s.Assignments(t.Context(), s.class.ID)
	if err != nil || len(all) != 0 {
		t.Errorf("Assignments = %v, %v, want none", all, err)
	}
	if no, err := s.give(1, 2); err != nil || no != 1 {
		t.Errorf("then: %d, %v, want assignment 1", no, err)
	}
}

// Whoever was taken off the roster gets no sheet, although another class has a
// student of the same number.
func TestAddSheetsOfOwnClass(t *testing.T) {
	t.Parallel()
	s := newShop(t, 2)
	if _, err := s.give(1); err != nil {
		t.Fatal(err)
	}
	other := s
	var err error
	other.class, err = s.AddClass(t.Context(), store.ClassSettings{
		Name: "Morning", Zone: "UTC", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1,
	}, "OTHER", s.staff.ID, opening)
	if err != nil {
		t.Fatal(err)
	}
	other.join(2)
	if err := s.RemoveStudent(t.Context(), s.class.ID, 2, opening); err != nil {
		t.Fatal(err)
	}
	given, err := s.AddSheets(t.Context(), s.class.ID, 1, 0, []store.NewSheet{{StudentNo: 2, Sheet: blank(2)}})
	if err != nil || given != 0 {
		t.Errorf("AddSheets to a removed student = %d, %v, want 0", given, err)
	}
}

// Sheets handed out at once by two presses: everybody has exactly one.
func TestAddSheetsAtOnce(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	if _, err := s.give(1); err != nil {
		t.Fatal(err)
	}
	s.join(9)
	given := make(chan int, 4)
	for range 4 {
		go func() {
			var sheets []store.NewSheet
			for no := 2; no <= 10; no++ {
				sheets = append(sheets, store.NewSheet{StudentNo: no, Sheet: blank(no)})
			}
			n, err := s.AddSheets(context.WithoutCancel(t.Context()), s.class.ID, 1, 0, sheets)
			if err != nil {
				t.Error(err)
			}
			given <- n
		}()
	}
	total := 0
	for range 4 {
		total += <-given
	}
	without, err := s.StudentsWithout(t.Context(), s.class.ID, 1)
	if err != nil || total != 9 || len(without) != 0 {
		t.Errorf("given %d, without %d, %v, want 9 and 0", total, len(without), err)
	}
	rows, err := s.Room(t.Context(), s.class.ID, 1)
	seen := map[int]bool{}
	for _, r := range rows {
		seen[r.SheetNo] = true
	}
	if err != nil || len(rows) != 10 || len(seen) != 10 {
		t.Errorf("%d sheets with %d numbers, %v, want 10 each", len(rows), len(seen), err)
	}
}

// A deed is done once, and the book keeps who did it.
func TestDeeds(t *testing.T) {
	t.Parallel()
	s := newShop(t, 1)
	if _, err := s.give(1); err != nil {
		t.Fatal(err)
	}
	ctx, act := t.Context(), store.Act{By: s.staff.ID, At: opening.Add(time.Hour), Note: "why"}
	for _, c := range []struct {
		name string
		do   func(context.Context, int64, int, store.Act) error
		want error
	}{
		{"take back what is not out", s.TakeKeyBack, store.ErrChanged},
		{"release", s.ReleaseKey, nil},
		{"release again", s.ReleaseKey, store.ErrChanged},
		{"take back", s.TakeKeyBack, nil},
		{"give out what is not withdrawn", s.GiveOutAgain, store.ErrChanged},
		{"withdraw", s.Withdraw, nil},
		{"withdraw again", s.Withdraw, store.ErrChanged},
		{"give out again", s.GiveOutAgain, nil},
	} {
		if err := c.do(ctx, s.class.ID, 1, act); !errors.Is(err, c.want) {
			t.Errorf("%s = %v, want %v", c.name, err, c.want)
		}
	}
	notes, err := s.AssignmentNotes(ctx, s.class.ID, 1)
	var did []string
	for _, n := range notes {
		did = append(did, n.Did)
	}
	if want := "[given out again withdrawn key taken back key released]"; err != nil || fmt.Sprint(did) != want {
		t.Errorf("AssignmentNotes = %v, %v, want %s", did, err, want)
	}
	if err := s.ReleaseKey(ctx, s.class.ID, 2, act); err == nil {
		t.Error("ReleaseKey of an assignment that is none = nil")
	}
}
