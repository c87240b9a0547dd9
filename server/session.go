package server

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// How long a session lasts. At a shared PC it ends soon; an own device stays
// signed in over a fortnight's holiday.
const (
	staffIdle, staffMost   = 30 * time.Minute, 12 * time.Hour
	sharedIdle, sharedMost = 3 * time.Minute, 45 * time.Minute
	ownIdle, ownMost       = 14 * 24 * time.Hour, 30 * 24 * time.Hour
)

// What a session holds. Times are Unix seconds of the server's clock.
const (
	sessionStaff   = "staff"   // int64: id
	sessionEpoch   = "epoch"   // int: staff epoch or student card
	sessionClass   = "class"   // int64: a student's class
	sessionStudent = "student" // int: number in the class
	sessionCode    = "code"    // string: the code of that class, for the way back
	sessionShared  = "shared"  // bool
	sessionStarted = "started" // int64
	sessionSeen    = "seen"    // int64
	sessionSaid    = "said"    // string: one sentence for the next page
)

func newSessions(cfg Config) *scs.SessionManager {
	m := scs.New()
	m.Store = cfg.Store.Sessions(cfg.Now)
	m.HashTokenInStore = true
	m.Lifetime = ownMost
	m.Cookie.Name = "arrisbook"
	m.Cookie.SameSite = http.SameSiteLaxMode
	m.Cookie.HttpOnly = true
	m.Cookie.Path = "/"
	if strings.HasPrefix(cfg.PublicURL, "https://") {
		m.Cookie.Name = "__Host-arrisbook"
		m.Cookie.Secure = true
	}
	return m
}

// sessionLoaded is the key under which a request says whether its session
// could be loaded.
type sessionLoaded struct{}

// withSession loads the session before a request and keeps it afterwards. When
// it cannot be loaded, that is a fault like any other. When it cannot be kept,
// the answer is made already and goes out: what it tells has happened.
func (s *server) withSession(app *echo.Echo) http.Handler {
	s.sessions.ErrorFunc = func(w http.ResponseWriter, r *http.Request, err error) {
		if loaded, _ := r.Context().Value(sessionLoaded{}).(*bool); loaded != nil && *loaded {
			s.log.Error("a session was not kept", "error", err)
			return
		}
		c := app.NewContext(r, w)
		if err := s.secureHeaders(func(echo.Context) error { return err })(c); err != nil {
			s.answerError(err, c)
		}
	}
	inner := s.sessions.LoadAndSave(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		*r.Context().Value(sessionLoaded{}).(*bool) = true
		app.ServeHTTP(w, r)
	}))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		inner.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), sessionLoaded{}, new(bool))))
	})
}

// newSession starts an empty session under a new token: nothing of whoever
// sat here before may reach the next one.
func (s *server) newSession(ctx context.Context) error {
	if err := s.sessions.Clear(ctx); err != nil {
		return err
	}
	return s.sessions.RenewToken(ctx)
}

// signInStaff starts a session under a new token.
func (s *server) signInStaff(ctx context.Context, p store.Staff) error {
	if err := s.newSession(ctx); err != nil {
		return err
	}
	s.sessions.Put(ctx, sessionStaff, p.ID)
	s.sessions.Put(ctx, sessionEpoch, p.Epoch)
	s.stamp(ctx)
	return nil
}

// signInStudent starts a student's session under a new token.
func (s *server) signInStudent(ctx context.Context, p store.Student, classCode string, shared bool) error {
	if err := s.newSession(ctx); err != nil {
		return err
	}
	s.sessions.Put(ctx, sessionClass, p.ClassID)
	s.sessions.Put(ctx, sessionStudent, p.No)
	s.sessions.Put(ctx, sessionCode, classCode)
	s.sessions.Put(ctx, sessionEpoch, p.Card)
	s.sessions.Put(ctx, sessionShared, shared)
	s.stamp(ctx)
	return nil
}

func (s *server) stamp(ctx context.Context) {
	s.sessions.Put(ctx, sessionStarted, s.now().Unix())
	s.sessions.Put(ctx, sessionSeen, s.now().Unix())
}

// identify finds out who sends the request. Rights are read from the database
// every time: a right taken away is gone with the next request.
func (s *server) identify(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if sessionless(c.Request().URL.Path) {
			return next(c)
		}
		p, err := s.principal(c.Request().Context())
		if err != nil {
			return err
		}
		c.Set(keyPrincipal, p)
		return next(c)
	}
}

func (s *server) principal(ctx context.Context) (principal, error) {
	p, err := s.sessionHolder(ctx)
	if errors.Is(err, store.ErrNotFound) {
		return principal{}, s.sessions.Destroy(ctx)
	}
	if err != nil || (p.Staff == nil && p.Student == nil) {
		return principal{}, err
	}
	if s.expired(ctx, p) {
		lapsed := principal{Lapsed: s.wayBack(ctx, p)}
		return lapsed, s.sessions.Destroy(ctx)
	}
	// Seen is brought up to date every 20 seconds at most, not at every request.
	if now := s.now().Unix(); now-s.sessions.GetInt64(ctx, sessionSeen) >= 20 {
		s.sessions.Put(ctx, sessionSeen, now)
	}
	return p, nil
}

// wayBack is where somebody signs in again.
func (s *server) wayBack(ctx context.Context, p principal) string {
	if p.Student == nil {
		return "/signin"
	}
	return enterPath(s.sessions.GetString(ctx, sessionCode))
}

func (s *server) sessionHolder(ctx context.Context) (principal, error) {
	epoch := s.sessions.GetInt(ctx, sessionEpoch)
	if id := s.sessions.GetInt64(ctx, sessionStaff); id != 0 {
		p, err := s.store.StaffByID(ctx, id)
		if err == nil && p.Epoch != epoch {
			err = store.ErrNotFound
		}
		return principal{Staff: &p}, err
	}
	if no := s.sessions.GetInt(ctx, sessionStudent); no != 0 {
		p, err := s.store.StudentByNo(ctx, s.sessions.GetInt64(ctx, sessionClass), no)
		if err == nil && p.Card != epoch {
			err = store.ErrNotFound
		}
		return principal{Student: &p, Shared: s.sessions.GetBool(ctx, sessionShared)}, err
	}
	return principal{}, nil
}

func (s *server) expired(ctx context.Context, p principal) bool {
	idle, most := ownIdle, ownMost
	switch {
	case p.Staff != nil:
		idle, most = staffIdle, staffMost
	case p.Shared:
		idle, most = sharedIdle, sharedMost
	}
	now := s.now()
	return now.Sub(time.Unix(s.sessions.GetInt64(ctx, sessionSeen), 0)) > idle ||
		now.Sub(time.Unix(s.sessions.GetInt64(ctx, sessionStarted), 0)) > most
}

// say keeps one sentence for the next page.
func (s *server) say(c echo.Context, sentence string) {
	s.sessions.Put(c.Request().Context(), sessionSaid, sentence)
}
