package server

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"time"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
)

// matrix has one row for each route.
var matrix = map[string]row{
	"GET /healthz":         {open: everybody},
	"GET /readyz":          {open: everybody},
	"GET /static/*":        {open: everybody},
	"GET /lessons":         {open: everybody},
	"GET /lessons/:module": {open: everybody},
	// No lesson of the program shows a picture file; TestLessonPicture sends one.
	"GET /lessons/:module/:picture": {open: everybody, status: http.StatusNotFound},
	"GET /glossary":                 {open: everybody},
	"GET /":                         {open: everybody},
	"GET /skills":                   {open: allStudents},
	"GET /classes/:class/skills":    {open: instructors},
	"GET /classes/:class/students/:student/skills": {open: instructors},
	"GET /practice/:exercise":                      {open: everybody, set: aPractice},
	"POST /practice/:exercise":                     {open: everybody, set: aPractice, status: http.StatusOK, keeps: true},

	"GET /modules":                       {open: teachers},
	"GET /modules/new":                   {open: teachers},
	"POST /modules":                      {open: teachers, set: moduleFields},
	"POST /modules/check":                {open: teachers, set: moduleFields, status: http.StatusOK, keeps: true},
	"GET /modules/:own":                  {open: instructors},
	"GET /modules/:own/edit":             {open: instructors},
	"POST /modules/:own/edit":            {open: instructors, set: moduleFields},
	"POST /modules/:own/use":             {open: instructors, set: toUse},
	"POST /modules/:own/retire":          {open: instructors, set: used},
	"GET /modules/:own/saves/:save":      {open: instructors},
	"GET /modules/:own/differences":      {open: instructors},
	"GET /modules/:own/try":              {open: instructors},
	"POST /modules/:own/try":             {open: instructors, set: tried, status: http.StatusOK, keeps: true},
	"GET /modules/:own/file":             {open: instructors},
	"GET /pictures/:picture":             {open: everybody},
	"POST /modules/import":               {open: teachers, status: http.StatusUnprocessableEntity, keeps: true},
	"GET /modules/import/:upload":        {open: instructors},
	"POST /modules/import/:upload":       {open: instructors, set: toTakeIn},
	"POST /modules/imports/:import/undo": {open: instructors, set: takenIn},

	"GET /classes/:class/course":      {open: instructors},
	"GET /classes/:class/course/file": {open: instructors},

	"GET /signin":         {open: everybody},
	"POST /signin":        {open: everybody, set: signInForm, keeps: true},
	"GET /join/:token":    {open: everybody, set: aLink},
	"POST /join/:token":   {open: everybody, set: aLinkAndAccount},
	"GET /enter":          {open: everybody},
	"POST /enter":         {open: everybody, set: bothCodes, keeps: true},
	"GET /enter/:code":    {open: everybody},
	"POST /enter/:code":   {open: everybody, set: personalCode, keeps: true},
	"GET /card/:token":    {open: everybody},
	"POST /card/:token":   {open: everybody, keeps: true},
	"POST /leave":         {open: everybody, keeps: true},
	"POST /next":          {open: everybody, keeps: true},
	"GET /me":             {open: allStaff},
	"POST /me/password":   {open: allStaff, set: newPassword},
	"GET /classes":        {open: allStaff},
	"GET /classes/new":    {open: teachers},
	"POST /classes":       {open: teachers, set: classSettings},
	"GET /classes/:class": {open: classStaff},

	"GET /classes/:class/settings":                   {open: instructors},
	"POST /classes/:class/settings":                  {open: instructors, set: classSettings},
	"GET /classes/:class/people":                     {open: instructors},
	"POST /classes/:class/people/links":              {open: instructors, set: linkKind, status: http.StatusOK},
	"POST /classes/:class/people/links/end":          {open: instructors, set: aLink},
	"POST /classes/:class/people/:staff/clearing":    {open: instructors, set: newAssistant("may", "yes")},
	"POST /classes/:class/people/:staff/remove":      {open: instructors, set: newAssistant()},
	"GET /classes/:class/roster":                     {open: instructors},
	"POST /classes/:class/roster":                    {open: instructors, set: oneName},
	"POST /classes/:class/roster/preview":            {open: instructors, set: nameList, status: http.StatusOK, keeps: true},
	"POST /classes/:class/roster/add":                {open: instructors, set: nameList},
	"POST /classes/:class/roster/undo/:import":       {open: instructors, set: anImport, foreign: http.StatusConflict},
	"GET /classes/:class/students/:student":          {open: instructors},
	"POST /classes/:class/students/:student":         {open: instructors, set: renamed},
	"POST /classes/:class/students/:student/remove":  {open: instructors, set: newStudent(false)},
	"POST /classes/:class/students/:student/restore": {open: instructors, set: newStudent(true)},
	"GET /classes/:class/cards":                      {open: instructors},
	"GET /classes/:class/cards/again":                {open: instructors, set: cardChoice},
	"POST /classes/:class/cards":                     {open: instructors, set: cardForm, status: http.StatusOK},

	"GET /classes/:class/assignments/new":                     {open: instructors},
	"POST /classes/:class/assignments/new":                    {open: instructors, set: assignmentFields},
	"GET /classes/:class/assignments/:assignment":             {open: classStaff},
	"GET /classes/:class/assignments/:assignment/room":        {open: classStaff},
	"GET /classes/:class/assignments/:assignment/review":      {open: classStaff},
	"GET /classes/:class/assignments/:assignment/review/wall": {open: classStaff},
	// The class has no wrong answers, so that nothing is on its way when the next one looks.
	"GET /classes/:class/assignments/:assignment/review/findings":       {open: instructors},
	"POST /classes/:class/assignments/:assignment/review/findings":      {open: instructors, keeps: true},
	"POST /classes/:class/assignments/:assignment/review/findings/stop": {open: instructors, keeps: true},
	"POST /classes/:class/assignments/:assignment/review/findings/keep": {open: instructors, set: aFinding},
	"GET /classes/:class/report":                                        {open: instructors},
	"GET /classes/:class/report.csv":                                    {open: instructors},
	"GET /classes/:class/skills.csv":                                    {open: instructors},
	"GET /classes/:class/students/:student/report":                      {open: instructors},
	"GET /classes/:class/students/:student/report.csv":                  {open: instructors},
	"GET /classes/:class/assignments/:assignment/alike":                 {open: instructors},
	"GET /classes/:class/assignments/:assignment/key":                   {open: instructors},
	"POST /classes/:class/assignments/:assignment/key/preview":          {open: instructors, set: keyFields, status: http.StatusOK, keeps: true},
	"POST /classes/:class/assignments/:assignment/key":                  {open: instructors, set: keySeen},
	"POST /classes/:class/assignments/:assignment/key/undo":             {open: instructors, set: keyMade},
	"POST /classes/:class/assignments/:assignment/terms":                {open: instructors, set: termsFields},
	"POST /classes/:class/assignments/:assignment/missing":              {open: instructors, set: newStudent(false)},
	"POST /classes/:class/assignments/:assignment/release":              {open: instructors},
	"POST /classes/:class/assignments/:assignment/takeback":             {open: instructors, set: releasedKey},
	"POST /classes/:class/assignments/:assignment/withdraw":             {open: instructors, set: givenOut},
	"POST /classes/:class/assignments/:assignment/giveout":              {open: instructors, set: withdrawn},

	"GET /classes/:class/assignments/:assignment/paper":       {open: classStaff},
	"POST /classes/:class/assignments/:assignment/paper":      {open: classStaff, set: printFields, keeps: true},
	"GET /classes/:class/assignments/:assignment/paper/pdf":   {open: classStaff, set: printedPaper},
	"POST /classes/:class/assignments/:assignment/paper/stop": {open: classStaff, set: printedPaper, keeps: true},
	"GET /classes/:class/sheets/:sheet/paper":                 {open: owner},

	"GET /p/:code":                                      {open: everybody, set: aSheetCode, status: http.StatusSeeOther},
	"GET /classes/:class/typed":                         {open: classStaff},
	"GET /classes/:class/sheets/:sheet/typed":           {open: classStaff},
	"POST /classes/:class/sheets/:sheet/typed":          {open: classStaff, set: numbers},
	"POST /classes/:class/sheets/:sheet/typed/check":    {open: classStaff, set: numbers, status: http.StatusOK, keeps: true},
	"POST /classes/:class/sheets/:sheet/typed/readings": {open: classStaff, set: numbers, status: http.StatusOK, keeps: true},
	"POST /classes/:class/sheets/:sheet/typed/takeback": {open: classStaff, set: typedIn},

	"GET /joints/:family/model.glb":                     {open: everybody},
	"GET /classes/:class/sheets/:sheet/model.glb":       {open: owner},
	"GET /classes/:class/sheets/:sheet/bench/model.glb": {open: classStaff},

	"GET /classes/:class/sheets/:sheet/bench":   {open: classStaff},
	"POST /classes/:class/sheets/:sheet/clear":  {open: clearers, set: toClear},
	"POST /classes/:class/sheets/:sheet/revoke": {open: clearers, set: clearedSheet},

	"GET /sheets":                                         {open: allStudents},
	"GET /classes/:class/sheets/:sheet":                   {open: owner},
	"POST /classes/:class/sheets/:sheet/ask":              {open: owner, set: readySheet},
	"POST /classes/:class/sheets/:sheet/unask":            {open: owner, set: askedSheet},
	"POST /classes/:class/sheets/:sheet/readings":         {open: owner, set: numbers, status: http.StatusOK, keeps: true},
	"POST /classes/:class/sheets/:sheet/check":            {open: owner, set: numbers, status: http.StatusOK, keeps: true},
	"POST /classes/:class/sheets/:sheet/attempts":         {open: owner, set: numbers},
	"GET /classes/:class/sheets/:sheet/attempts/:attempt": {open: owner},
	"GET /classes/:class/sheets/:sheet/wood":              {open: owner},
	"POST /classes/:class/sheets/:sheet/wood":             {open: owner, set: woodFields},
}

// made is what a row's set gives.
type made = map[string]string

func signInForm(s *school) (made, []string) {
	return nil, []string{"email", s.otherStaff.Email, "password", testPassword}
}

func bothCodes(s *school) (made, []string) {
	return nil, []string{"class", s.class.Code, "code", s.code, "shared", "on"}
}

func personalCode(s *school) (made, []string) { return nil, []string{"code", s.code, "shared", "on"} }

// aLink makes a one-time link into the class.
func aLink(s *school) (made, []string) {
	token, hash := newToken()
	s.must(s.Store.Invite(context.Background(), s.elsewhere.ID, hash, "assistant", false, s.Now().Add(time.Hour)))
	_, other := newToken()
	s.must(s.Store.Invite(context.Background(), s.class.ID, other, "assistant", false, s.Now().Add(time.Hour)))
	return made{"token": token}, nil
}

func aLinkAndAccount(s *school) (made, []string) {
	// Whoever belongs to the class already would not use the link up.
	s.must(s.leaveElsewhere())
	params, _ := aLink(s)
	return params, []string{"name", "Henk Test", "email", s.word() + "@shop.example", "password", "seven slow otters"}
}

func (s *school) leaveElsewhere() error {
	_, err := s.db.Exec(context.Background(), `DELETE FROM class_staff WHERE class_id = $1`, s.elsewhere.ID)
	return err
}

// word is a new one each time.
func (s *school) word() string {
	s.words++
	return fmt.Sprintf("n%d", s.words)
}

func newPassword(s *school) (made, []string) {
	return nil, []string{"old", testPassword, "new", "nine quiet herons " + s.word()}
}

func classSettings(s *school) (made, []string) {
	return nil, []string{"name", "Class " + s.word(), "zone", "Europe/Lisbon", "units", "mm", "projection", "first",
		"fit_word", "tight", "length_step", "0.1", "angle_step", "0.1", "paper", "A4"}
}

func linkKind(*school) (made, []string) { return nil, []string{"kind", "assistant"} }

// newAssistant takes somebody new into the class.
func newAssistant(form ...string) func(*school) (made, []string) {
	return func(s *school) (made, []string) {
		p := s.account(s.word(), false)
		s.member(s.class, p, "assistant", false)
		return made{"staff": fmt.Sprint(p.ID)}, form
	}
}

func oneName(s *school) (made, []string) {
	return nil, []string{"name", "Name " + s.word(), "bench", ""}
}

func nameList(s *school) (made, []string) {
	roster, err := s.Store.Students(context.Background(), s.class.ID)
	s.must(err)
	list := "First " + s.word() + "\nSecond " + s.word() + ", 17"
	return nil, []string{"list", list, "print", planRoster(readRosterList(list), roster).print()}
}

// anImport adds a name and gives the number of the adding.
func anImport(s *school) (made, []string) {
	s.harness.students(s.class, s.instructor, "Added "+s.word())
	return made{"import": fmt.Sprint(queryOne[int](s.world, `SELECT max(no) FROM roster_imports WHERE class_id = $1`, s.class.ID))}, nil
}

func renamed(s *school) (made, []string) {
	return nil, []string{"name", "Wanda " + s.word(), "bench", "3"}
}

// newStudent adds a student, and takes it off the roster again.
func newStudent(removed bool) func(*school) (made, []string) {
	return func(s *school) (made, []string) {
		st := s.harness.students(s.class, s.instructor, "Student "+s.word())[0]
		if removed {
			s.must(s.Store.RemoveStudent(context.Background(), s.class.ID, st.No, s.Now()))
		}
		return made{"student": fmt.Sprint(st.No)}, nil
	}
}

func cardChoice(s *school) (made, []string) {
	return made{"?": fmt.Sprintf("?student=%d", s.students[1].No)}, nil
}

func cardForm(s *school) (made, []string) {
	st, err := s.Store.StudentByNo(context.Background(), s.class.ID, s.students[1].No)
	s.must(err)
	return nil, []string{"student", fmt.Sprint(st.No), "print", cardsPrint([]store.Student{st})}
}

func assignmentFields(s *school) (made, []string) {
	return nil, []string{"exercise", "head-v-joint-first", "who", "some", "student", fmt.Sprint(s.students[1].No),
		"opens", "2026-11-30 09:00", "due", "", "attempts", "0", "release", "hand"}
}

func termsFields(s *school) (made, []string) {
	s.words++
	return nil, []string{"due", "2027-01-30 09:00", "attempts", fmt.Sprint(90 + s.words%9), "release", "hand"}
}

// keyFields sets a tolerance, each time another.
func keyFields(s *school) (made, []string) {
	s.words++
	return nil, []string{"why", "too fine for this shop", "tolerance-half_angle", fmt.Sprintf("0.%d", 20+s.words%70)}
}

// keySeen is a change whose effect was looked at.
func keySeen(s *school) (made, []string) {
	_, form := keyFields(s)
	return nil, append(form, "print", s.keyPrint(s.class, s.instructor, s.work.assignment.No, form))
}

// keyPrint looks at what a change of the key would do.
func (s *school) keyPrint(class store.Class, by store.Staff, assignment int, form []string) string {
	s.t.Helper()
	p := s.ask(call{Method: http.MethodPost, Path: keyHref(class, assignment) + "/preview", Token: s.staffToken(by.ID), Body: fields(form...).Encode()})
	if p.field("print") == nil {
		s.t.Fatalf("looking at a key = %d: %s", p.Status, p.text())
	}
	return attr(p.field("print"), "value")
}

// keyMade makes a key that can be taken back.
func keyMade(s *school) (made, []string) {
	s.rekey(s.class, s.instructor, s.work.assignment.No)
	return nil, nil
}

// rekey makes a key through its form.
func (s *school) rekey(class store.Class, by store.Staff, assignment int) {
	s.t.Helper()
	_, form := keyFields(s)
	form = append(form, "print", s.keyPrint(class, by, assignment, form))
	p := s.ask(call{Method: http.MethodPost, Path: keyHref(class, assignment), Token: s.staffToken(by.ID), Body: fields(form...).Encode()})
	if p.Status != http.StatusSeeOther {
		s.t.Fatalf("making a key = %d: %s", p.Status, p.text())
	}
}

// act brings the assignment into a state, whatever it was in.
func (s *school) act(do func(context.Context, int64, int, store.Act) error) {
	// ErrChanged says that it is in that state.
	_ = do(context.Background(), s.class.ID, s.work.assignment.No, store.Act{By: s.instructor.ID, At: s.Now()})
}

func releasedKey(s *school) (made, []string) {
	s.act(s.Store.ReleaseKey)
	return nil, []string{"note", "too early"}
}

func givenOut(s *school) (made, []string) {
	s.act(s.Store.GiveOutAgain)
	return nil, nil
}

func withdrawn(s *school) (made, []string) {
	s.act(s.Store.Withdraw)
	return nil, nil
}

// running makes the sheet one that takes numbers.
func (s *school) running() store.Sheet {
	s.act(s.Store.TakeKeyBack)
	s.act(s.Store.GiveOutAgain)
	sheet, err := s.Store.Sheet(context.Background(), s.class.ID, s.sheet)
	s.must(err)
	return sheet
}

func readySheet(s *school) (made, []string) {
	s.running()
	s.complete(s.work, s.sheet)
	s.must(s.Store.Unask(context.Background(), s.class.ID, s.sheet))
	return nil, nil
}

func askedSheet(s *school) (made, []string) {
	sheet := s.running()
	no := s.complete(s.work, s.sheet)
	s.must(s.Store.Ask(context.Background(), s.class.ID, s.sheet, no, sheet.Wood, s.Now()))
	return nil, nil
}

func toClear(s *school) (made, []string) {
	s.running()
	return nil, []string{"attempt", fmt.Sprint(s.complete(s.work, s.sheet))}
}

func clearedSheet(s *school) (made, []string) {
	s.running()
	no := s.complete(s.work, s.sheet)
	s.must(s.Store.Clear(context.Background(), s.class.ID, s.sheet, no, s.keyNo(), s.instructor.ID, s.Now()))
	return nil, []string{"why", "Show me the far edge first."}
}

// numbers fills in the form of the sheet.
func numbers(s *school) (made, []string) {
	sheet := s.running()
	form := []string{"key", newKey(), "wood", fmt.Sprint(sheet.Wood)}
	for id, text := range s.rightTexts(s.work, sheet) {
		form = append(form, fieldOf(id), text)
	}
	return nil, form
}

// woodFields measures the blank, each time another way.
func woodFields(s *school) (made, []string) {
	s.words++
	return nil, measured(s.work, s.running(), 0.1*float64(s.words%9-4))
}

// measured is the form that puts a sheet on wood which is off by so much, as
// it is sent once the readings were seen.
func measured(g given, sheet store.Sheet, off float64) []string {
	sizes := woodOf(g.exercise)
	f := woodForm{Texts: map[string]string{}}
	form := []string{"wood", fmt.Sprint(sheet.Wood), "step", "use"}
	for _, p := range sizes {
		v := sheet.Issued.Parameters[p.ID]
		if p.Unit == joint.MM {
			v += off
		}
		f.Texts[p.ID] = bare(grading.Print(v, p.Unit, grading.Millimetres))
		form = append(form, woodFieldOf(p.ID), f.Texts[p.ID])
	}
	return append(form, "seen", f.canonical(sizes))
}

// keyNo is the key of the school's assignment.
func (s *school) keyNo() int {
	a, err := s.Store.Assignment(context.Background(), s.class.ID, s.work.assignment.No)
	s.must(err)
	return a.KeyNo
}

// aSheetCode is the code of the school's sheet.
func aSheetCode(s *school) (made, []string) {
	return made{"code": sheetCode(s.class.ID, s.sheet)}, nil
}

// typedIn has the sheet's numbers typed in from paper, each time anew.
func typedIn(s *school) (made, []string) {
	sheet := s.running()
	_, f := numbers(s)
	texts := map[string]string{}
	for i := 4; i < len(f); i += 2 {
		texts[strings.TrimPrefix(f[i], fieldOf(""))] = f[i+1]
	}
	form := numbersForm{Key: f[1], Wood: sheet.Wood, KeyNo: s.keyNo(), Texts: texts, Paper: true}
	no, _, err := s.Store.Submit(context.Background(), store.Submission{
		ClassID: s.class.ID, Sheet: s.sheet, Key: form.Key, BodyHash: form.bodyHash(), At: s.Now(), TypedBy: s.instructor.ID,
	}, func(b store.Before) (store.Judged, error) {
		b.Assignment.Attempts = 0 // other forms set a limit on the way
		return form.judge(s.work.exercise, unitsOf(s.class), s.Now())(b)
	})
	s.must(err)
	return nil, []string{"attempt", fmt.Sprint(no)}
}

// aFinding is a formula that was found, each time another, as its form sends it.
func aFinding(s *school) (made, []string) {
	s.words++
	text := fmt.Sprintf("atan(v_width/(%d*v_length))", 10+s.words)
	s.must(s.Store.KeepSearch(context.Background(), s.class.ID, s.work.assignment.No, store.Search{
		Step: "half_angle", Answers: 6, AskedBy: s.instructor.ID, EndedAt: s.Now(), Findings: []store.Finding{{Formula: text, Says: "x", Sheets: []int{s.sheet}, Of: 6}},
	}))
	return nil, []string{"step", "half_angle", "formula", text, "says-half_angle-0", "This is the number you get if the tenth part is taken.", "hint-half_angle-0", "", "why-half_angle-0", "seen often"}
}
