package server

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/html"
)

// setUp follows the one-time link of a new server and gives the path.
func setUp(t *testing.T, h *harness) string {
	t.Helper()
	path, needed, err := SetUpPath(context.Background(), h.Server.cfg)
	if err != nil || !needed {
		t.Fatalf("SetUpPath = %q, %v, %v, want a path", path, needed, err)
	}
	return path
}

func TestFirstAccount(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b := h.browser()
	b.get("/").want(t, 200, "one-time link")
	old := setUp(t, h)
	path := setUp(t, h)
	b.get(old).want(t, 404, "This link can no longer be used") // a new start renews it
	form := b.get(path).want(t, 200, "first instructor")

	b.press(form, path, "name", "", "email", "ada@", "password", "short").
		want(t, 422, "Type your name.", "This is not an e-mail address", "At least 15 characters")
	refused := b.press(form, path, "name", "Ada Sawyer", "email", "ada@shop.example", "password", "adasawyeradasawyer1")
	refused.want(t, 422, "little more than")
	if attr(refused.field("email"), "value") != "ada@shop.example" {
		t.Error("what was typed is lost")
	}
	b.press(form, path, "name", "Ada Sawyer", "email", "ada@shop.example", "password", testPassword).
		want(t, 200, "Your account is made", "No class yet")

	other := h.browser()
	other.get(path).want(t, 404, "This link can no longer be used")
	other.press(form, path, "name", "Eve", "email", "eve@shop.example", "password", testPassword).want(t, 404)
	if _, needed, err := SetUpPath(context.Background(), h.Server.cfg); needed || err != nil {
		t.Errorf("SetUpPath with staff: needed %v, %v", needed, err)
	}
	b.press(b.get("/me"), "/leave").want(t, 200, "I have a card")
	b.get("/classes").want(t, 200, "Sign in to teach")
	b.post("/signin", "email", "ADA@shop.example", "password", testPassword, "to", "/me").want(t, 200, "Ada Sawyer")
}

// Two presses of the button make one account, even at the same moment.
func TestFirstAccountPressedTwice(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	path := setUp(t, h)
	var presses sync.WaitGroup
	statuses := make([]int, 4)
	for i := range statuses {
		b := h.browser()
		email := []string{"ada@shop.example", "ada@shop.example", "bo@shop.example", "cy@shop.example"}[i]
		presses.Go(func() {
			statuses[i] = b.post(path, "name", "Ada Sawyer", "email", email, "password", testPassword).Status
		})
	}
	presses.Wait()
	made := 0
	for _, status := range statuses {
		switch status {
		case 200:
			made++
		case 404:
		default:
			t.Errorf("a press gave %d", status)
		}
	}
	if made != 1 {
		t.Errorf("%d accounts made, want 1", made)
	}
}

func TestFirstLinkEnds(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	path := setUp(t, h)
	h.pass(7*24*time.Hour + time.Second)
	h.browser().get(path).want(t, 404)
}

// Unknown and wrong get the same words; only failures count; after some the
// answer says how long to wait, and does so before looking at the password.
func TestSignInRefusals(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, p := h.staff("ada", true)
	b := h.browser()
	unknown := b.post("/signin", "email", "eve@shop.example", "password", testPassword).want(t, 422)
	wrong := b.post("/signin", "email", p.Email, "password", "not the password").want(t, 422)
	if strings.ReplaceAll(unknown.Body, "eve@", "ada@") != wrong.Body {
		t.Errorf("unknown and wrong differ:\n%s\n%s", unknown.text(), wrong.text())
	}
	for range 5 {
		b.post("/signin", "email", p.Email, "password", "not the password").want(t, 422)
	}
	slow := b.post("/signin", "email", strings.ToUpper(p.Email), "password", testPassword)
	slow.want(t, 429, "Wait 2 seconds")
	if got := slow.Header.Get("Retry-After"); got != "2" {
		t.Errorf("Retry-After = %q, want 2", got)
	}
	// Somebody else at the same address is not slowed.
	h.staff("bo", true)
	h.pass(3 * time.Second)
	b.post("/signin", "email", p.Email, "password", testPassword).want(t, 200, "No class yet")
	if log := h.Log.String(); strings.Contains(log, "ada@") || strings.Contains(log, "not the password") || !strings.Contains(log, "sign-in refused") {
		t.Errorf("the log holds what it should not, or lacks refusals:\n%s", log)
	}
}

// Thirty right sign-ins from one address in one minute are never slowed.
func TestRightSignInsAreNeverSlowed(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, staff := h.staff("ada", true)
	class := h.class(staff)
	var names []string
	for i := range 30 {
		names = append(names, "Learner "+string(rune('A'+i)))
	}
	for _, st := range h.students(class, staff, names...) {
		_, code := h.card(class, st)
		h.browser().post("/enter/"+class.Code, "code", "", "shared", "on").want(t, 422)
		b := h.browser()
		if p := b.post("/enter/"+class.Code, "code", code, "shared", "on"); p.Path != "/sheets" {
			t.Fatalf("student %d: %s %d %s", st.No, p.Path, p.Status, p.text())
		}
	}
}

func TestSignInGoesOnlyToOwnPages(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	_, p := h.staff("ada", true)
	for _, to := range []string{"https://evil.example/", "//evil.example/", `/\evil.example`, "javascript:alert(1)"} {
		got := h.browser().post("/signin", "email", p.Email, "password", testPassword, "to", to)
		if got.Path != "/classes" {
			t.Errorf("to %q went to %s", to, got.Path)
		}
	}
}

func TestChangePassword(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	here, p := h.staff("ada", true)
	there := h.browser()
	there.post("/signin", "email", p.Email, "password", testPassword).want(t, 200)
	page := here.get("/me").want(t, 200, p.Email)
	const fresh = "eight quick snails"
	here.press(page, "/me/password", "old", "wrong wrong wrong", "new", fresh).want(t, 422, "This is not your password until now.")
	here.press(page, "/me/password", "old", testPassword, "new", testPassword).want(t, 422, "the password you have already")
	here.press(page, "/me/password", "old", testPassword, "new", "short").want(t, 422, "At least 15")
	here.press(page, "/me/password", "old", testPassword, "new", fresh).want(t, 200, "Your password is changed")
	here.get("/classes").want(t, 200, "No class yet")
	there.get("/classes").want(t, 200, "Sign in to teach")
	there.post("/signin", "email", p.Email, "password", testPassword).want(t, 422)
	there.post("/signin", "email", p.Email, "password", fresh).want(t, 200, "No class yet")
}

func TestInvitations(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	ada, staff := h.staff("ada", true)
	class := h.class(staff)
	people := classPath(class, "/people")
	link := func(kind string) string {
		made := ada.press(ada.get(people), people+"/links", "kind", kind).want(t, 200, "copy it")
		return strings.TrimPrefix(attr(made.find(byID("link")), "value"), h.URL)
	}

	// An assistant with a new account: may not make classes, sees this one.
	path := link("assistant")
	ada.get(people).lacks(t, path) // shown once
	bo := h.browser()
	bo.press(bo.get(path).want(t, 200, "asked to help teach Wednesday evening"), path,
		"name", "Bo Test", "email", "bo@shop.example", "password", testPassword).want(t, 200, "One class", "you assist")
	bo.get("/classes/new").want(t, 404)
	bo.get(classPath(class, "")).want(t, 200, "do not clear people to cut")
	bo.get(people).want(t, 404)
	bo.get(classPath(class, "/roster")).want(t, 404)

	// Leave to clear can be given and taken.
	ada.post(people+"/"+personNo(t, ada, people, "Bo Test")+"/clearing", "may", "yes").want(t, 200, "may now clear")
	bo.get(classPath(class, "")).want(t, 200, "may clear people to cut")

	// Somebody with an account, signed in, joins with one press; the same
	// link does not work twice.
	cy, _ := h.staff("cy", false)
	path = link("instructor")
	cy.press(cy.get(path).want(t, 200, "Join Wednesday evening", "Join as Cy Test"), path).want(t, 200, "You have joined")
	cy.get("/classes/new").want(t, 200)
	h.browser().get(path).want(t, 404)

	// An e-mail address that has an account is told so, and the link survives.
	path = link("clearer")
	dan := h.browser()
	dan.press(dan.get(path), path, "name", "Bo Test", "email", "BO@shop.example", "password", testPassword).
		want(t, 422, "has an account already")
	// Bo belongs to the class already: nothing is used up.
	bo.post(path).want(t, 200, "You teach in this class already")
	dan.get(path).want(t, 200)
	ada.press(ada.get(people).want(t, 200, "Not used yet"), people+"/links/end").want(t, 200, "No unused link")
	dan.get(path).want(t, 404)

	// The last instructor stays; somebody removed is out with the next press.
	cy.post(people+"/"+personNo(t, cy, people, "Ada Test")+"/remove").want(t, 200, "no longer belongs")
	ada.get(classPath(class, "")).want(t, 404)
	cy.post(people+"/"+personNo(t, cy, people, "Cy Test")+"/remove").want(t, 409, "A class needs an instructor")
	cy.get(classPath(class, "")).want(t, 200)
	ada.post(people+"/links", "kind", "assistant").want(t, 404)
}

func byID(id string) func(*html.Node) bool {
	return func(n *html.Node) bool { return attr(n, "id") == id }
}

// personNo reads somebody's number off the people page.
func personNo(t *testing.T, b *browser, people, name string) string {
	t.Helper()
	staff, err := b.h.Store.StaffByEmail(context.Background(), strings.ToLower(strings.Fields(name)[0])+"@shop.example")
	if err != nil {
		t.Fatal(err)
	}
	id := strconv.FormatInt(staff.ID, 10)
	if b.get(people).form(people+"/"+id+"/remove") == nil && name != "Cy Test" {
		t.Fatalf("%s cannot be removed on the page", name)
	}
	return id
}

// Two instructors who remove each other at once do not both go.
func TestLastInstructorsAtOnce(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	ada, a := h.staff("ada", true)
	class := h.class(a)
	bo, b := h.staff("bo", true)
	token, hash := newToken()
	if err := h.Store.Invite(context.Background(), class.ID, hash, "instructor", true, h.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	bo.post("/join/"+token).want(t, 200)
	people := classPath(class, "/people/")
	var both sync.WaitGroup
	both.Go(func() { ada.post(people + strconv.FormatInt(b.ID, 10) + "/remove") })
	both.Go(func() { bo.post(people + strconv.FormatInt(a.ID, 10) + "/remove") })
	both.Wait()
	left, err := h.Store.People(context.Background(), class.ID)
	if err != nil || len(left) != 1 {
		t.Errorf("%d instructors left (%v), want 1", len(left), err)
	}
}

// A form from another site is refused.
func TestFormsFromOtherSites(t *testing.T) {
	t.Parallel()
	h := startServer(t)
	b, _ := h.staff("ada", true)
	b.Header.Set("Sec-Fetch-Site", "cross-site")
	b.post("/classes", "name", "Evil").want(t, http.StatusForbidden)
	b.post("/leave").want(t, http.StatusForbidden)
}
