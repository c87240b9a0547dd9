package server

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"arrisbook/server/store"
)

// school is the world of the matrix: class is what every address leads to,
// other is where strangers to it come from, elsewhere a class in which one of
// the assistants is an instructor.
type school struct {
	*world
	class, other, elsewhere store.Class
	instructor, otherStaff  store.Staff
	plain, clearer          store.Staff // assistants
	gone, former            store.Staff // an assistant and an instructor, removed
	students                []store.Student
	others                  []store.Student
	work, otherWork         given
	sheet, otherSheet       int
	own, otherOwn           int64  // a module of the instructor's and one of another's
	picture                 string // of the instructor's module, which is in use
	file, otherFile         int64  // sent in by either
	token, code             string // of the first student's card
	words                   int    // see word
	// twin is a class with the same numbers of students, assignments, sheets,
	// attempts and clearances, so that a statement that forgets the class reads
	// or writes there.
	twin    store.Class
	twinSum string // the statement of twinChecksum
}

func newSchool(t testing.TB) *school {
	t.Helper()
	s := &school{world: newWorld(t)}
	s.instructor, s.otherStaff = s.account("ada", true), s.account("bela", true)
	s.plain, s.clearer = s.account("cleo", false), s.account("dario", false)
	s.gone, s.former = s.account("edda", false), s.account("falk", true)
	s.class, s.other, s.elsewhere = s.harness.class(s.instructor), s.harness.class(s.otherStaff), s.harness.class(s.plain)
	s.member(s.class, s.plain, "assistant", false)
	s.member(s.class, s.clearer, "assistant", true)
	s.member(s.class, s.gone, "assistant", true)
	s.member(s.class, s.former, "instructor", true)
	// Numbers of the other class lie beyond those of this one.
	_, err := s.db.Exec(context.Background(), `UPDATE classes SET students = 500, assignments = 500, sheets = 500 WHERE id = $1`, s.other.ID)
	s.must(err)
	s.students = s.harness.students(s.class, s.instructor, "Wanda Petersen", "Oskar Hale", "Ines Brandt", "Rolf Quist")
	s.others = s.harness.students(s.other, s.otherStaff, "Vera Moss", "Anton Reed")
	s.work = s.give(s.class, s.instructor, "head-v-joint-first", s.students, 100, nil)
	s.otherWork = s.give(s.other, s.otherStaff, "head-v-joint-first", s.others, 300, nil)
	s.sheet, s.otherSheet = s.sheetOf(s.class, s.students[0].No), s.sheetOf(s.other, s.others[1].No)
	s.complete(s.work, s.sheet)
	s.complete(s.otherWork, s.otherSheet)
	s.token, s.code = s.card(s.class, s.students[0])
	s.makeModules()
	return s
}

// actor is one kind of person who sends a request.
type actor struct {
	name  string
	token func() string // a session, started anew for each request
	sheet int           // the sheet that addresses name; 0: the first student's
	// staff and student say what the session is good for; lapsed, that its time
	// was up.
	staff, student, lapsed bool
	back                   string // where somebody lapsed signs in again
}

// actors are everybody. Sessions of those who lost a right were started before
// they lost it.
func (s *school) actors() []actor {
	ctx := context.Background()
	staff := func(p store.Staff) func() string { return func() string { return s.staffToken(p.ID) } }
	student := func(c store.Class, p store.Student) func() string {
		return func() string { return s.studentToken(c, p.No, false) }
	}
	s.must(s.Store.RemoveStudent(ctx, s.class.ID, s.students[2].No, s.Now()))
	s.card(s.class, s.students[3])
	s.must(s.Store.RemovePerson(ctx, s.class.ID, s.gone.ID))
	s.must(s.Store.RemovePerson(ctx, s.class.ID, s.former.ID))
	locked := s.account("gerd", true)
	s.member(s.class, locked, "instructor", true)
	_, err := s.Store.SetPassword(ctx, locked.ID, s.hash)
	s.must(err)
	// Sessions that were started when the person still had the right.
	oldStudent := func(p store.Student) func() string {
		return func() string {
			return s.session(func(ctx context.Context) error { return s.Server.signInStudent(ctx, p, s.class.Code, false) })
		}
	}
	oldStaff := func() string {
		return s.session(func(ctx context.Context) error { return s.Server.signInStaff(ctx, locked) })
	}
	return []actor{
		{name: "anonymous", token: func() string { return "" }},
		{name: "student", token: student(s.class, s.students[0]), student: true},
		{name: "classmate", token: student(s.class, s.students[1]), student: true},
		{name: "student of another class", token: student(s.other, s.others[1]), student: true},
		{name: "assistant", token: staff(s.plain), staff: true},
		{name: "assistant who clears", token: staff(s.clearer), staff: true},
		{name: "instructor", token: staff(s.instructor), staff: true},
		{name: "instructor of another class", token: staff(s.otherStaff), staff: true},
		{name: "removed assistant", token: staff(s.gone), staff: true},
		{name: "removed instructor", token: staff(s.former), staff: true},
		{name: "removed student", token: oldStudent(s.students[2]), sheet: s.sheetOf(s.class, s.students[2].No)},
		{name: "student with a reprinted card", token: oldStudent(s.students[3]), sheet: s.sheetOf(s.class, s.students[3].No)},
		{name: "instructor with a new password", token: oldStaff},
		{name: "lapsed student", token: s.lapsed(func() string { return s.studentToken(s.class, s.students[0].No, true) }), lapsed: true, back: enterPath(s.class.Code)},
		{name: "lapsed instructor", token: s.lapsed(staff(s.instructor)), lapsed: true, back: "/signin"},
	}
}

// lapsed starts sessions whose time is up.
func (s *school) lapsed(token func() string) func() string {
	return func() string {
		s.pass(-time.Hour)
		defer s.pass(time.Hour)
		return token()
	}
}

// gate is a group of people that an address is open to.
type gate struct {
	names  []string // nil: everybody
	signIn string   // where strangers who ask for a page are sent
}

var (
	everybody   = gate{}
	allStaff    = gate{[]string{"assistant", "assistant who clears", "instructor", "instructor of another class", "removed assistant", "removed instructor"}, "/signin"}
	teachers    = gate{[]string{"instructor", "instructor of another class", "removed instructor"}, "/signin"}
	classStaff  = gate{[]string{"assistant", "assistant who clears", "instructor"}, "/signin"}
	instructors = gate{[]string{"instructor"}, "/signin"}
	clearers    = gate{[]string{"assistant who clears", "instructor"}, "/signin"}
	allStudents = gate{[]string{"student", "classmate", "student of another class"}, "/enter"}
	owner       = gate{[]string{"student"}, "/enter"}
)

func (g gate) admits(a actor) bool { return g.names == nil || slices.Contains(g.names, a.name) }

// row says what becomes of the requests to one route.
type row struct {
	open gate
	// set makes the request one that would be taken: it brings the world into
	// the state for it and gives what differs from the usual address, and the
	// form as the page would send it.
	set func(*school) (params map[string]string, form []string)
	// status is what those admitted get; 0: 200 for a page, 303 for a form.
	status int
	// keeps says that an unsafe request changes nothing.
	keeps bool
	// foreign is what the class's own people get with the inner number of
	// another class; 0: 404.
	foreign int
}

var paramShape = regexp.MustCompile(`:[a-z]+`)

// address fills in the parameters of a route.
func (s *school) address(path string, params map[string]string, a actor) string {
	usual := map[string]string{
		"class": fmt.Sprint(s.class.ID), "sheet": fmt.Sprint(s.sheet), "assignment": fmt.Sprint(s.work.assignment.No),
		"attempt": "1", "student": fmt.Sprint(s.students[0].No), "staff": fmt.Sprint(s.plain.ID), "import": "1",
		"code": s.class.Code, "token": s.token, "module": "head-v-joint",
		"family": "head-v-joint",
		"own":    fmt.Sprint(s.own), "save": "1", "picture": s.picture, "upload": fmt.Sprint(s.file),
	}
	if a.sheet != 0 {
		usual["sheet"] = fmt.Sprint(a.sheet)
	}
	path = paramShape.ReplaceAllStringFunc(path, func(name string) string {
		if v, ok := params[name[1:]]; ok {
			return v
		}
		return url.PathEscape(usual[name[1:]])
	})
	if strings.HasSuffix(path, "/*") {
		path = s.Server.assets.Path("app.css")
	}
	return path + params["?"]
}

// request makes the request of a row.
func (s *school) request(r route, rw row) (params map[string]string, c call) {
	var form []string
	if rw.set != nil {
		params, form = rw.set(s)
	}
	return params, call{Method: r.Method, Body: fields(form...).Encode()}
}

// Every address gives each kind of person what the table says and nothing
// else; who is refused learns nothing and changes nothing.
func TestMatrix(t *testing.T) {
	t.Parallel()
	s := newSchool(t)
	s.makeTwin()
	people, count := s.actors(), 0
	seen := map[string]bool{}
	for _, r := range inOrder(routes()) {
		name := r.Method + " " + r.Path
		rw, ok := matrix[name]
		seen[name] = true
		if !ok {
			t.Errorf("%s has no row: say who may use it", name)
			continue
		}
		s.refuses(t, r, rw, people)
		s.hides(t, r, rw, people)
		s.admits(t, r, rw, people)
		count += len(people)
	}
	for name := range matrix {
		if !seen[name] {
			t.Errorf("the row %s has no route", name)
		}
	}
	t.Logf("%d routes × %d people = %d", len(seen), len(people), count)
}

// inOrder puts pages before forms, and forms that take people away last.
func inOrder(all []route) []route {
	slices.SortStableFunc(all, func(a, b route) int { return strings.Compare(a.Method, b.Method) })
	return all
}

// refuses tries everybody who may not use a route, and whoever may from
// another site.
func (s *school) refuses(t *testing.T, r route, rw row, people []actor) {
	params, c := s.request(r, rw)
	before := s.checksum()
	for _, a := range people {
		c.Token, c.Path, c.Header = a.token(), s.address(r.Path, params, a), nil
		if rw.open.admits(a) {
			if r.Method == http.MethodPost {
				s.refusesOtherSites(t, c, a)
			}
			continue
		}
		p := s.ask(c)
		inspect(t, s.harness, p)
		switch want := refusal303(r, rw, a, c.Path); {
		case want != "":
			if p.Status != http.StatusSeeOther || p.Header.Get("Location") != want {
				t.Errorf("%s %s as %s = %d to %q, want 303 to %s", r.Method, r.Path, a.name, p.Status, p.Header.Get("Location"), want)
			}
		case a.lapsed:
			if p.Status != http.StatusUnauthorized || p.link("sign in again") != a.back {
				t.Errorf("%s %s as %s = %d, leads back to %q, want 401 and %s", r.Method, r.Path, a.name, p.Status, p.link("sign in again"), a.back)
			}
		default:
			s.isNowhere(t, p, c, a)
		}
		if after := s.checksum(); after != before {
			t.Errorf("%s %s as %s was refused (%d) and has written all the same", r.Method, r.Path, a.name, p.Status)
			before = after
		}
	}
	if after := s.checksum(); after != before {
		t.Errorf("%s %s from another site has written", r.Method, r.Path)
	}
}

// refusal303 is where somebody refused is sent; "": nowhere.
func refusal303(r route, rw row, a actor, path string) string {
	switch {
	case r.Method != http.MethodGet || a.staff || a.student:
		return ""
	case a.lapsed:
		if a.back == "/signin" {
			return "/signin?to=" + url.QueryEscape(path)
		}
		return a.back
	case rw.open.signIn == "/signin":
		return "/signin?to=" + url.QueryEscape(path)
	}
	return rw.open.signIn
}

// isNowhere holds an answer to the one for an address that nobody has.
func (s *school) isNowhere(t *testing.T, p *page, c call, a actor) {
	t.Helper()
	c.Path, c.Method, c.Body, c.Token = "/nowhere/at/all", http.MethodGet, "", a.token()
	nowhere := s.ask(c)
	if p.Status != http.StatusNotFound || p.Body != nowhere.Body {
		t.Errorf("%s as %s = %d, want the 404 of an address that does not exist:\n%s", p.Path, a.name, p.Status, p.text())
	}
	for _, name := range []string{"Date", "X-Request-Id", "Set-Cookie", "Cache-Control"} {
		p.Header.Del(name)
		nowhere.Header.Del(name)
	}
	if fmt.Sprint(p.Header) != fmt.Sprint(nowhere.Header) {
		t.Errorf("%s as %s answers with %v, an address that does not exist with %v", p.Path, a.name, p.Header, nowhere.Header)
	}
}

// refusesOtherSites sends a form as other sites would make a browser send it.
func (s *school) refusesOtherSites(t *testing.T, c call, a actor) {
	for name, h := range map[string]http.Header{
		"fetch metadata":   {"Sec-Fetch-Site": {"cross-site"}},
		"of the same site": {"Sec-Fetch-Site": {"same-site"}},
		"foreign origin":   {"Origin": {"https://elsewhere.example"}},
		"opaque origin":    {"Origin": {"null"}},
	} {
		c.Header = h
		if p := s.ask(c); p.Status != http.StatusForbidden || p.heading() != "That came from another site" {
			t.Errorf("%s as %s from another site (%s) = %d, want 403", c.Path, a.name, name, p.Status)
		}
	}
}

// hides tries the class's own people with the inner number of another class.
func (s *school) hides(t *testing.T, r route, rw row, people []actor) {
	foreign := map[string]string{
		":sheet": fmt.Sprint(s.otherSheet), ":assignment": fmt.Sprint(s.otherWork.assignment.No), ":attempt": "400",
		":student": fmt.Sprint(s.others[1].No), ":staff": fmt.Sprint(s.otherStaff.ID), ":import": "300",
		":own": fmt.Sprint(s.otherOwn), ":upload": fmt.Sprint(s.otherFile),
	}
	for _, name := range paramShape.FindAllString(r.Path, -1) {
		value, ok := foreign[name]
		if !ok || rw.open.names == nil {
			continue
		}
		params, c := s.request(r, rw)
		if params == nil {
			params = map[string]string{}
		}
		params[name[1:]] = value
		before := s.checksum()
		for _, a := range people {
			if !rw.open.admits(a) {
				continue
			}
			c.Token, c.Path = a.token(), s.address(r.Path, params, a)
			p := s.ask(c)
			inspect(t, s.harness, p)
			if rw.foreign != 0 {
				if p.Status != rw.foreign {
					t.Errorf("%s %s as %s = %d, want %d", r.Method, c.Path, a.name, p.Status, rw.foreign)
				}
			} else {
				s.isNowhere(t, p, c, a)
			}
		}
		if s.checksum() != before {
			t.Errorf("%s %s with %s of another class has written", r.Method, r.Path, name)
		}
	}
}

// admits lets everybody in who may, and sees that forms do something: else
// that nothing was written by the refused would say nothing.
func (s *school) admits(t *testing.T, r route, rw row, people []actor) {
	for _, a := range people {
		if !rw.open.admits(a) {
			continue
		}
		params, c := s.request(r, rw)
		c.Token, c.Path = a.token(), s.address(r.Path, params, a)
		if r.Method == http.MethodPost {
			c.Header = http.Header{"Sec-Fetch-Site": {"same-origin"}, "Origin": {s.URL}}
		}
		before, twin := s.checksum(), queryOne[string](s.world, s.twinSum)
		p := s.ask(c)
		inspect(t, s.harness, p)
		s.keepsTwin(t, p, twin)
		want := rw.status
		if want == 0 {
			want = http.StatusOK
			if r.Method == http.MethodPost {
				want = http.StatusSeeOther
			}
		}
		if r.Path == "/" && (a.staff || a.student) || r.Path == "/signin" && a.staff {
			want = http.StatusSeeOther // to where they work
		}
		if p.Status != want {
			t.Errorf("%s %s as %s = %d, want %d:\n%s", r.Method, c.Path, a.name, p.Status, want, p.text())
		}
		if wrote := s.checksum() != before; wrote != (r.Method == http.MethodPost && !rw.keeps) {
			t.Errorf("%s %s as %s: written = %v", r.Method, r.Path, a.name, wrote)
		}
	}
}
