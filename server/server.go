package server

import (
	"fmt"
	"html/template"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"arrisbook/server/store"
	"arrisbook/web"
)

// bodyLimit is far above the longest form (a pasted roster) and far below
// what could hurt.
const bodyLimit = "256K"

type server struct {
	cfg      Config
	store    *store.Store
	now      func() time.Time
	log      *slog.Logger
	sessions *scs.SessionManager
	assets   *web.Assets
	pages    web.Pages
	hashing  hashing
	failures *failures
	shelf    exerciseShelf
	prints   *printJobs
	findings *findingJobs
	// lessonPages are the lessons, ready to send, by module.
	lessonPages map[string]packedPage
	modules     moduleShelf
	uploading   chan struct{} // a place for each upload that is looked at
}

// New builds the handler that serves everything.
func New(cfg Config) (http.Handler, error) {
	s, err := newServer(cfg)
	if err != nil {
		return nil, fmt.Errorf("build the server: %w", err)
	}
	return s.handler(), nil
}

func (s *server) handler() http.Handler {
	app := s.echo()
	withSession := s.withSession(app)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if page, ok := s.readyLesson(r); ok {
			page.ServeHTTP(w, r)
			return
		}
		if sessionless(r.URL.Path) {
			app.ServeHTTP(w, r)
			return
		}
		withSession.ServeHTTP(w, r)
	})
}

// sessionless says which addresses answer without a session, and so without
// the database: health must be told while it is away.
func sessionless(path string) bool {
	return path == "/healthz" || path == "/readyz" || strings.HasPrefix(path, "/static/")
}

func newServer(cfg Config) (*server, error) {
	assets, err := web.LoadAssets()
	if err != nil {
		return nil, err
	}
	pages, err := web.LoadPages(template.FuncMap{"asset": assets.Path})
	if err != nil {
		return nil, err
	}
	hashing, err := newHashing()
	if err != nil {
		return nil, err
	}
	s := &server{
		cfg: cfg, store: cfg.Store, now: cfg.Now, log: cfg.Log,
		sessions: newSessions(cfg), assets: assets, pages: pages,
		hashing: hashing, failures: newFailures(cfg.Now), prints: newPrintJobs(cfg.Now), findings: newFindingJobs(), uploading: make(chan struct{}, uploadsAtOnce),
	}
	s.lessonPages, err = s.packLessons()
	return s, err
}

func (s *server) echo() *echo.Echo {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.HTTPErrorHandler = s.answerError
	e.IPExtractor = echo.ExtractIPDirect()
	if s.cfg.TrustProxy {
		e.IPExtractor = echo.ExtractIPFromXFFHeader()
	}
	e.Pre(forgetClientID)
	e.Use(middleware.RequestID(), s.secureHeaders, middleware.RecoverWithConfig(middleware.RecoverConfig{LogErrorFunc: s.panicked}), limitBody(), s.fromOwnPages, s.identify, readForm)
	for _, r := range routes() {
		e.Add(r.Method, r.Path, s.handle(r))
	}
	return e
}

// panicked logs what broke and where; the answer is made from the error like
// any other fault of ours.
func (s *server) panicked(c echo.Context, err error, stack []byte) error {
	s.log.Error("panic", "error", err, "request", requestID(c), "stack", string(stack))
	return err
}
