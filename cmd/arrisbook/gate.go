package main

import (
	"io"
	"log/slog"
	"net/http"
	"sync/atomic"
	"time"
)

// gate answers for the workbook while it is starting or stopping, so that
// whoever watches it sees a process that lives and is not ready.
type gate struct {
	inner atomic.Pointer[http.Handler]
	says  atomic.Pointer[string]
}

func newGate() *gate {
	g := &gate{}
	g.say("starting")
	return g
}

func (g *gate) say(what string) { g.says.Store(&what) }

// open lets requests through to h.
func (g *gate) open(h http.Handler) { g.inner.Store(&h) }

// shut turns new requests away; those inside go on.
func (g *gate) shut() {
	g.say("stopping")
	g.inner.Store(nil)
}

// ServeHTTP passes on, or answers by itself.
func (g *gate) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if h := g.inner.Load(); h != nil {
		(*h).ServeHTTP(w, r)
		return
	}
	head := w.Header()
	head.Set("Content-Type", "text/plain; charset=utf-8")
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
	head.Set("Cache-Control", "no-store")
	if r.URL.Path == "/healthz" {
		io.WriteString(w, "ok\n")
		return
	}
	head.Set("Retry-After", "2")
	w.WriteHeader(http.StatusServiceUnavailable)
	if r.URL.Path == "/readyz" {
		io.WriteString(w, *g.says.Load()+"\n")
		return
	}
	io.WriteString(w, "The workbook is "+*g.says.Load()+". Load this page again in a moment.\n")
}

// newHTTPServer sets the limits that Go leaves off: a slow or endless request
// must not hold a connection for ever.
func newHTTPServer(h http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       15 * time.Second,
		WriteTimeout:      30 * time.Second,
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
}

// newLog writes to standard error.
func newLog(t terminal, level slog.Level) *slog.Logger {
	return slog.New(slog.NewTextHandler(t.stderr, &slog.HandlerOptions{Level: level}))
}
