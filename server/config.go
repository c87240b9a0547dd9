package server

import (
	"log/slog"
	"time"

	"arrisbook/lessons"
	"arrisbook/server/store"
)

// Config is everything the server is given; it reads nothing else.
type Config struct {
	Store   *store.Store
	Lessons *lessons.Library
	// Now is the clock that decides about due times and sessions.
	Now func() time.Time
	Log *slog.Logger
	// PublicURL is where people reach the server ("https://book.example"),
	// printed on cards. Empty: taken from each request.
	PublicURL string
	// TrustProxy says that a proxy on a private address in front of the
	// server may tell the client's address.
	TrustProxy bool
}
