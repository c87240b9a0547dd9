package localpg

import (
	"context"
	"fmt"
	"log/slog"
	"time"
)

// Names inside the private server.
const (
	role     = "arrisbook"
	database = "arrisbook"
	port     = "5432" // names the socket only: nothing listens on the network
)

// Config says where the private server lives and what it runs on.
type Config struct {
	// State is the state folder; see [StateFolder].
	State string
	// PGBin, when not empty, is the only folder where PostgreSQL's programs
	// are looked for.
	PGBin string
	// PGUser is the account that runs PostgreSQL when this process is root.
	// Empty: the account postgres, or nobody. An existing data folder's owner
	// goes before it.
	PGUser string
	// Log receives what a person running the server may want to know.
	// Nil: nothing is said.
	Log *slog.Logger
	// Alone refuses with [ErrHeld], instead of attaching, where another process
	// holds the folder.
	Alone bool
	// Disposable gives up safety against a crash for speed. For tests.
	Disposable bool
}

// Server is a running private PostgreSQL.
type Server struct {
	// Attached says that another live process owns the server: Stop leaves it
	// running.
	Attached bool

	url  string
	done chan error
	stop func(context.Context) error
}

// URL is the connection string of the workbook's database. It holds no secret.
func (s *Server) URL() string { return s.url }

// Done gives one error if the server ends without being asked to, and is
// closed when there is nothing more to come.
func (s *Server) Done() <-chan error { return s.done }

// Stop ends the server and waits until it is gone: first a fast shutdown, then
// harder as ctx runs out. An attached server is left alone.
func (s *Server) Stop(ctx context.Context) error { return s.stop(ctx) }

// patience is how long Start waits for a server that is starting: recovery
// after a crash takes the longest.
const patience = 60 * time.Second

// Start brings the private server up, or attaches to the one another process
// runs on the same folder. ctx ends the attempt, not the server.
func Start(ctx context.Context, cfg Config) (*Server, error) {
	if cfg.Log == nil {
		cfg.Log = slog.New(slog.DiscardHandler)
	}
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	dir, err := openFolder(cfg.State)
	if err != nil {
		return nil, err
	}
	for {
		l, mine, err := takeLock(dir.lock())
		if err != nil {
			return nil, err
		}
		if mine {
			return own(ctx, cfg, dir, l)
		}
		if cfg.Alone {
			return nil, ErrHeld
		}
		s, err := attach(ctx, dir)
		if err == nil || refusal(err) {
			return s, err
		}
		// The owner is still starting, or has just gone: look again.
		if pause(ctx) != nil {
			return nil, fmt.Errorf("another process holds %s, but its database does not answer: %w", dir.lock(), err)
		}
	}
}

// own starts the server under the lock. It keeps the lock on success only.
func own(ctx context.Context, cfg Config, dir folder, l lock) (*Server, error) {
	s, err := startOwned(ctx, cfg, dir, l)
	if err != nil {
		l.release()
	}
	return s, err
}

func startOwned(ctx context.Context, cfg Config, dir folder, l lock) (*Server, error) {
	acct, err := serverAccount(dir.data(), cfg.PGUser)
	if err != nil {
		return nil, err
	}
	bin, err := findBinaries(cfg.PGBin, dir.data())
	if err != nil {
		return nil, err
	}
	if err := dir.prepare(acct); err != nil {
		return nil, err
	}
	sock, err := dir.socketFolder(acct)
	if err != nil {
		return nil, err
	}
	if err := clearLeftovers(ctx, dir.data(), sock, acct, cfg.Log); err != nil {
		return nil, err
	}
	if err := ensureCluster(ctx, cfg, dir, bin, acct); err != nil {
		return nil, err
	}
	if err := writeAccess(dir.data(), acct); err != nil {
		return nil, err
	}
	pm, err := launch(dir, sock, bin, acct, cfg.Disposable)
	if err != nil {
		return nil, err
	}
	if err := ready(ctx, pm, sock); err != nil {
		pm.stop(context.WithoutCancel(ctx))
		return nil, err
	}
	if err := l.write(sock); err != nil {
		pm.stop(context.WithoutCancel(ctx))
		return nil, err
	}
	cfg.Log.Info("private database ready", "state", dir.root, "version", bin.version, "account", acct.name)
	return pm.server(dir, sock, l), nil
}

// pause waits a moment between two looks, or until ctx ends.
func pause(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(20 * time.Millisecond):
		return nil
	}
}
