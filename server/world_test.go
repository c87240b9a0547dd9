package server

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"golang.org/x/net/html"

	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/server/store"
	"arrisbook/server/store/storetest"
)

// world is a small school for tests that try every door: a server whose
// requests need no network, a look into its tables, and people who are signed
// in without typing anything.
type world struct {
	*harness
	handler http.Handler
	db      *pgx.Conn
	hash    string       // of testPassword, so that no test hashes it for everybody
	sum     string       // the statement of checksum
	sent    atomic.Int64 // see rightTexts
}

func newWorld(t testing.TB, options ...func(*Config)) *world {
	t.Helper()
	url := storetest.URL(t)
	st, err := store.Open(context.Background(), url, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(st.Close)
	options = append([]func(*Config){func(c *Config) { c.Store, c.Lessons = st, shippedLessons(t) }}, options...)
	w := &world{harness: startServer(t, options...)}
	w.Store = st
	w.handler = w.Server.handler()
	if w.db, err = pgx.Connect(context.Background(), url); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.db.Close(context.Background()) })
	if w.hash, err = w.Server.hashing.hash(context.Background(), testPassword); err != nil {
		t.Fatal(err)
	}
	w.sum = w.checksumSQL()
	return w
}

// checksumSQL is the statement that sums up everything that is kept, but for
// sessions: those tell when somebody was last seen.
func (w *world) checksumSQL() string {
	return w.checksumOf(`SELECT table_name::text FROM information_schema.tables
		WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name NOT IN ('sessions', 'goose_db_version')
		ORDER BY 1`, "true")
}

// checksumOf sums up the rows for which a condition holds in the tables that a
// statement names.
func (w *world) checksumOf(tables, where string) string {
	var parts []string
	for _, name := range queryAll[string](w, tables) {
		parts = append(parts, "SELECT '"+name+" ' || t::text AS r FROM "+name+" t WHERE "+where)
	}
	if len(parts) < 8 {
		w.t.Fatalf("only %d tables: %s", len(parts), tables)
	}
	return "SELECT coalesce(md5(string_agg(r, ';' ORDER BY r)), '') FROM (" + strings.Join(parts, " UNION ALL ") + ") rows"
}

// checksum changes when any row of any table but sessions does.
func (w *world) checksum() string { return queryOne[string](w, w.sum) }

func queryOne[T any](w *world, sql string, args ...any) T {
	w.t.Helper()
	var v T
	if err := w.db.QueryRow(context.Background(), sql, args...).Scan(&v); err != nil {
		w.t.Fatalf("%v: %s", err, sql)
	}
	return v
}

func queryAll[T any](w *world, sql string, args ...any) []T {
	w.t.Helper()
	rows, err := w.db.Query(context.Background(), sql, args...)
	if err != nil {
		w.t.Fatalf("%v: %s", err, sql)
	}
	all, err := pgx.CollectRows(rows, pgx.RowTo[T])
	if err != nil {
		w.t.Fatalf("%v: %s", err, sql)
	}
	return all
}

func (w *world) must(err error) {
	w.t.Helper()
	if err != nil {
		w.t.Fatal(err)
	}
}

// account makes one of the staff.
func (w *world) account(word string, mayTeach bool) store.Staff {
	w.t.Helper()
	p, err := w.Store.AddStaff(context.Background(), store.NewStaff{
		Email: word + "@shop.example", Name: strings.ToUpper(word[:1]) + word[1:] + " Test",
		PasswordHash: w.hash, MayTeach: mayTeach, At: w.Now(),
	})
	w.must(err)
	return p
}

// member takes one of the staff into a class.
func (w *world) member(class store.Class, p store.Staff, role string, mayClear bool) {
	w.t.Helper()
	ctx := context.Background()
	_, hash := newToken()
	w.must(w.Store.Invite(ctx, class.ID, hash, role, mayClear, w.Now().Add(time.Hour)))
	w.must(w.Store.JoinAs(ctx, hash, p.ID, w.Now()))
}

// staffToken starts a session of one of the staff, as it now stands in the book.
func (w *world) staffToken(id int64) string {
	w.t.Helper()
	p, err := w.Store.StaffByID(context.Background(), id)
	w.must(err)
	return w.session(func(ctx context.Context) error { return w.Server.signInStaff(ctx, p) })
}

// studentToken starts a student's session at an own device or a shared PC.
func (w *world) studentToken(class store.Class, no int, shared bool) string {
	w.t.Helper()
	p, err := w.Store.StudentByNo(context.Background(), class.ID, no)
	w.must(err)
	return w.session(func(ctx context.Context) error { return w.Server.signInStudent(ctx, p, class.Code, shared) })
}

func (w *world) session(start func(context.Context) error) string {
	w.t.Helper()
	m := w.Server.sessions
	ctx, err := m.Load(context.Background(), "")
	w.must(err)
	w.must(start(ctx))
	token, _, err := m.Commit(ctx)
	w.must(err)
	return token
}

// call is one request. A body without a type is a form.
type call struct {
	Method, Path string
	Token        string // of the session; empty: nobody
	Body         string
	Type         string
	Header       http.Header
	Untold       bool // the length of the body is not told
	Context      context.Context
	Addr         string // where the network says it comes from; empty: the usual
}

// ask sends a request past the network, and follows no redirect.
func (w *world) ask(c call) *page {
	w.t.Helper()
	var body io.Reader = http.NoBody // as a request that came over the network has
	if c.Body != "" {
		body = strings.NewReader(c.Body)
	}
	ctx := c.Context
	if ctx == nil {
		ctx = context.Background()
	}
	req, err := http.NewRequestWithContext(ctx, c.Method, w.URL+c.Path, body)
	w.must(err)
	if c.Untold {
		req.ContentLength = -1
	}
	req.RemoteAddr, req.RequestURI = cmp.Or(c.Addr, "192.0.2.7:4000"), req.URL.RequestURI()
	for name, values := range c.Header {
		req.Header[name] = values
	}
	if c.Type == "" && c.Method == http.MethodPost {
		c.Type = "application/x-www-form-urlencoded"
	}
	if c.Type != "" {
		req.Header.Set("Content-Type", c.Type)
	}
	if c.Token != "" {
		req.AddCookie(&http.Cookie{Name: w.Server.sessions.Cookie.Name, Value: c.Token})
	}
	rec := httptest.NewRecorder()
	w.handler.ServeHTTP(rec, req)
	p := &page{Status: rec.Code, Path: c.Path, Header: rec.Header(), Body: rec.Body.String(), Doc: &html.Node{}}
	if strings.HasPrefix(p.Header.Get("Content-Type"), "text/html") {
		p.Doc, err = html.Parse(bytes.NewReader(rec.Body.Bytes()))
		w.must(err)
	}
	return p
}

// given is an exercise handed to students.
type given struct {
	assignment store.Assignment
	exercise   *grading.Exercise
}

// give hands out an exercise. The blanks follow from the seed alone.
func (w *world) give(class store.Class, by store.Staff, exercise string, students []store.Student, seed uint64, change func(*store.Assignment)) given {
	w.t.Helper()
	ctx := context.Background()
	shipped, ok := w.Server.cfg.Lessons.Exercise(exercise)
	if !ok {
		w.t.Fatalf("no exercise %s", exercise)
	}
	ex, err := w.Server.keepExercise(ctx, shipped)
	w.must(err)
	next := seed
	sheets, err := issue(ex, students, nil, shopOf(class), func() uint64 { next++; return next })
	w.must(err)
	a := store.Assignment{
		ClassID: class.ID, Exercise: ex.ID, Version: ex.Version, Title: ex.Title, OpensAt: w.Now().Add(-time.Minute),
		Release: store.ReleaseByHand, CreatedBy: by.ID, CreatedAt: w.Now(),
	}
	if change != nil {
		change(&a)
	}
	a.No, err = w.Store.CreateAssignment(ctx, a, sheets)
	w.must(err)
	return given{a, ex}
}

// sheetOf is the number of a student's newest sheet.
func (w *world) sheetOf(class store.Class, student int) int {
	w.t.Helper()
	return queryOne[int](w, `SELECT max(no) FROM sheets WHERE class_id = $1 AND student_no = $2`, class.ID, student)
}

// rightTexts are the right numbers of a sheet, written each time with other
// last decimals, so that they are never the ones that were sent before.
func (w *world) rightTexts(g given, sheet store.Sheet) map[string]string {
	texts := map[string]string{}
	key, n := grading.Key(g.exercise, sheet.Current().Parameters), w.sent.Add(1)
	for _, st := range sheet.Current().Steps {
		texts[st.ID] = strconv.FormatFloat(key[st.ID], 'f', 4, 64) + fmt.Sprintf("%05d", n)
		if st.Unit == joint.MM {
			texts[st.ID] += " mm" // in a class that counts in inches as well
		}
	}
	return texts
}

// complete sends all right numbers and gives the number of the attempt.
func (w *world) complete(g given, sheet int) int {
	w.t.Helper()
	ctx := context.Background()
	class := mustClass(w.t, w.harness, g.assignment.ClassID)
	sh, err := w.Store.Sheet(ctx, class.ID, sheet)
	w.must(err)
	a, ex, err := w.Server.loadAssignment(ctx, class.ID, sh.AssignmentNo)
	w.must(err)
	form := numbersForm{Key: newKey(), Wood: sh.Wood, KeyNo: a.KeyNo, Texts: w.rightTexts(g, sh)}
	no, _, err := w.Store.Submit(ctx, store.Submission{
		ClassID: class.ID, Sheet: sheet, Key: form.Key, BodyHash: form.bodyHash(), At: w.Now(),
	}, form.judge(ex, unitsOf(class), w.Now()))
	w.must(err)
	return no
}
