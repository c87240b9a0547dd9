package server

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strconv"
	"time"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// The demo is an invented class in mid-term. Its blanks come from the
// generator, its answers are worked out on them, and the grader judges them:
// nothing is typed in but names, habits and dates.
const (
	demoFact       = "demo" // value: the class's id
	demoInstructor = "rosa.quill@example.org"
	demoDice       = 18 // every demo is the same but for its passwords and cards
)

// errNotEmpty says that the demo would mix with real people.
var errNotEmpty = errors.New("the database already holds a real class; the demo only fills an empty one")

// demoRun fills one database.
type demoRun struct {
	*server
	class      store.Class
	instructor store.Staff
	students   []store.Student
	dice       *rand.Rand
}

// FillDemo fills an empty database with the demo and gives the lines that say
// how to sign in. On a database that holds the demo already it makes a new
// password and a new card, because the old ones are kept only as hashes.
func FillDemo(ctx context.Context, cfg Config) ([]string, error) {
	s, err := newServer(cfg)
	if err != nil {
		return nil, err
	}
	_, err = s.store.Fact(ctx, demoFact)
	if errors.Is(err, store.ErrNotFound) {
		err = s.makeDemo(ctx)
	}
	if err != nil {
		return nil, fmt.Errorf("fill the demo: %w", err)
	}
	return s.demoSignIn(ctx)
}

func (s *server) makeDemo(ctx context.Context) error {
	if has, err := s.store.HasStaff(ctx); err != nil || has {
		return errors.Join(err, errNotEmpty)
	}
	d := demoRun{server: s, dice: rand.New(rand.NewPCG(demoDice, demoDice))}
	if err := d.people(ctx); err != nil {
		return err
	}
	if err := d.ownModule(ctx); err != nil {
		return err
	}
	now := s.now()
	for _, a := range []demoAssignment{
		{"head-v-joint-first", "First six numbers", now.AddDate(0, 0, -28), 7, store.ReleaseDue, 0.7, false},
		{"head-v-joint-first", "First six numbers, again", now.AddDate(0, 0, -21), 7, store.ReleaseDue, 0.75, false},
		{"head-v-joint", "Head V joint in pine", now.AddDate(0, 0, -14), 7, store.ReleaseDue, 0.6, false},
		{"head-v-joint", "Head V joint in cherry", now.AddDate(0, 0, -7), 14, store.ReleaseCleared, 0.6, true},
	} {
		if err := d.assign(ctx, a); err != nil {
			return fmt.Errorf("%s: %w", a.Title, err)
		}
	}
	return s.store.SetFact(ctx, demoFact, strconv.FormatInt(d.class.ID, 10))
}

// people makes the staff, the class and its roster. Passwords are made when
// the sign-in is told.
func (d *demoRun) people(ctx context.Context) error {
	now := d.now()
	secret, err := d.hashing.hash(ctx, newCode(20))
	if err != nil {
		return err
	}
	d.instructor, err = d.store.AddStaff(ctx, store.NewStaff{
		Email: demoInstructor, Name: "Rosa Quill", PasswordHash: secret, MayTeach: true, At: now.AddDate(0, -2, 0)})
	if err != nil {
		return err
	}
	d.class, err = d.store.AddClass(ctx, store.ClassSettings{
		Name: "Tuesday evening, Alder Lane", Zone: "UTC", Units: "mm", Projection: "first", FitWord: "tight",
		LengthStep: 0.1, AngleStep: 0.1,
	}, newCode(classCodeLen), d.instructor.ID, now.AddDate(0, -2, 0))
	if err != nil {
		return err
	}
	_, err = d.store.AddStudents(ctx, d.class.ID, d.instructor.ID, now.AddDate(0, -2, 0),
		func([]store.Student) ([]store.NewStudent, error) {
			add := make([]store.NewStudent, len(class18))
			for i, p := range class18 {
				add[i] = store.NewStudent{Name: p.Name, Bench: i + 1}
			}
			return add, nil
		})
	if err != nil {
		return err
	}
	d.students, err = d.store.Students(ctx, d.class.ID)
	return err
}

// demoAssignment is one assignment of the demo.
type demoAssignment struct {
	Exercise, Title string
	Opens           time.Time
	Days            int // from opening to due
	Release         string
	Insight         float64 // how likely a hint is understood
	Running         bool    // still in the middle of it
}

func (d *demoRun) assign(ctx context.Context, a demoAssignment) error {
	shipped, ok := d.cfg.Lessons.Exercise(a.Exercise)
	if !ok {
		return fmt.Errorf("no exercise %s", a.Exercise)
	}
	ex, err := d.keepExercise(ctx, shipped)
	if err != nil {
		return err
	}
	sheets, err := issue(ex, d.students, nil, shopOf(d.class), func() uint64 { return d.dice.Uint64() >> 11 })
	if err != nil {
		return err
	}
	due := a.Opens.AddDate(0, 0, a.Days)
	no, err := d.store.CreateAssignment(ctx, store.Assignment{
		ClassID: d.class.ID, Exercise: ex.ID, Version: ex.Version, Title: a.Title, OpensAt: a.Opens, DueAt: &due,
		Release: a.Release, CreatedBy: d.instructor.ID, CreatedAt: a.Opens,
	}, sheets)
	if err != nil {
		return err
	}
	rows, err := d.store.Room(ctx, d.class.ID, no)
	if err != nil {
		return err
	}
	for i, r := range rows {
		if err := d.work(ctx, ex, r, class18[i], a); err != nil {
			return fmt.Errorf("bench %d: %w", r.Bench, err)
		}
	}
	return nil
}

// Benches of the running assignment that have not begun, that wait for a check,
// and that do not see through their slip.
var (
	lazyBenches   = map[int]bool{11: true}
	askingBenches = map[int]bool{3: true, 18: true}
	stuckBenches  = map[int]bool{4: true, 12: true}
)

// work lets one pupil work on one sheet, a few minutes between attempts.
func (d *demoRun) work(ctx context.Context, ex *grading.Exercise, r store.RoomRow, p pupil, a demoAssignment) error {
	if a.Running && lazyBenches[r.Bench] {
		return nil
	}
	w := newWorker(p, ex, r.Sheet(), d.dice)
	at := a.Opens.Add(time.Duration(20+d.dice.IntN(20)) * time.Minute)
	if a.Running {
		at = d.now().Add(-time.Duration(70+d.dice.IntN(15)) * time.Minute)
	}
	insight := a.Insight
	tries := 6 + d.dice.IntN(4)
	if a.Running {
		tries = 3 + d.dice.IntN(5)
		if stuckBenches[r.Bench] {
			insight, tries = 0, 5
		}
		if askingBenches[r.Bench] {
			insight, tries = 1, 12
		}
	}
	var last *grading.Result
	for try := range tries {
		up := 1 + (try+1)*len(w.sheet.Steps)/5
		w.goOn(last, up, insight)
		no, result, err := d.send(ctx, w, r, at)
		var refused *refusal
		if errors.As(err, &refused) {
			break // nothing new to send
		}
		if err != nil {
			return err
		}
		last = &result
		if complete(result) {
			return d.check(ctx, r, no, at, a)
		}
		at = at.Add(time.Duration(4+d.dice.IntN(5)) * time.Minute)
	}
	return nil
}

// send hands the pupil's numbers in through the same door as everybody's.
func (d *demoRun) send(ctx context.Context, w *worker, r store.RoomRow, at time.Time) (int, grading.Result, error) {
	texts := make(map[string]string, len(w.texts))
	for id, text := range w.texts {
		texts[id] = text
	}
	form := numbersForm{Key: newKey(), Wood: r.Wood, Texts: texts}
	no, _, err := d.store.Submit(ctx, store.Submission{
		ClassID: d.class.ID, Sheet: r.SheetNo, Key: form.Key, BodyHash: form.bodyHash(), At: at,
	}, form.judge(w.ex, unitsOf(d.class), at))
	if err != nil {
		return 0, grading.Result{}, err
	}
	attempt, err := d.store.Attempt(ctx, d.class.ID, r.SheetNo, no)
	return no, attempt.Result, err
}

// check asks for a check and, unless the bench is left waiting, clears it.
func (d *demoRun) check(ctx context.Context, r store.RoomRow, attempt int, at time.Time, a demoAssignment) error {
	asked := at.Add(time.Minute)
	if a.Running && askingBenches[r.Bench] {
		asked = d.now().Add(-time.Duration(2+r.Bench/3) * time.Minute)
	}
	if err := d.store.Ask(ctx, d.class.ID, r.SheetNo, attempt, r.Wood, asked); err != nil {
		return err
	}
	if a.Running && askingBenches[r.Bench] {
		return nil
	}
	return d.store.Clear(ctx, d.class.ID, r.SheetNo, attempt, 0, d.instructor.ID, asked.Add(5*time.Minute))
}

// demoSignIn makes a new password for the instructor and a new card for one
// student, and says how both sign in.
func (s *server) demoSignIn(ctx context.Context) ([]string, error) {
	instructor, err := s.store.StaffByEmail(ctx, demoInstructor)
	if err != nil {
		return nil, fmt.Errorf("sign in to the demo: %w", err)
	}
	password := groups(newCode(16))
	secret, err := s.hashing.hash(ctx, password)
	if err != nil {
		return nil, err
	}
	if _, err := s.store.SetPassword(ctx, instructor.ID, secret); err != nil {
		return nil, err
	}
	classes, err := s.store.ClassesOf(ctx, instructor.ID)
	if err != nil || len(classes) == 0 {
		return nil, errors.Join(err, errors.New("the demo has no class any more"))
	}
	class, err := s.store.ClassByID(ctx, classes[0].ID)
	if err != nil {
		return nil, err
	}
	lines := []string{
		"The demo: " + class.Name + ", eighteen invented students in mid-term.",
		fmt.Sprintf("Instructor: %s, password %s", demoInstructor, password),
	}
	card, err := s.demoCard(ctx, class)
	return append(lines, card), err
}

// demoCard issues a card to the first student on the roster.
func (s *server) demoCard(ctx context.Context, class store.Class) (string, error) {
	students, err := s.store.Students(ctx, class.ID)
	if err != nil || len(students) == 0 {
		return "", errors.Join(err, errors.New("the demo has no students any more"))
	}
	pick := students[min(3, len(students)-1)]
	cards, err := s.drawCards(ctx, class, []store.Student{pick})
	if err != nil {
		return "", err
	}
	if err := s.issueCards(ctx, class, cards); err != nil {
		return "", err
	}
	return fmt.Sprintf("Student %s, bench %d: class code %s, personal code %s",
		pick.Name, pick.Bench, groups(class.Code), groups(cards[0].Code)), nil
}
