package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"time"

	"arrisbook/server/localpg"
	"arrisbook/server/store"
)

// database is the store with, where there is no DATABASE_URL, the private
// server behind it.
type database struct {
	*store.Store
	local *localpg.Server // nil: somebody else runs the server
}

// openDatabase opens what DATABASE_URL names, or the private database. With
// wait it is patient with a server that does not answer yet.
func openDatabase(ctx context.Context, t terminal, state string, wait bool, log *slog.Logger) (*database, error) {
	if url := t.getenv("DATABASE_URL"); url != "" {
		st, err := openURL(ctx, url, wait, log)
		return &database{Store: st}, err
	}
	state, err := localpg.StateFolder(state, os.Getuid(), t.getenv)
	if err != nil {
		return nil, err
	}
	local, err := localpg.Start(ctx, localpg.Config{
		State: state, PGBin: t.getenv("ARRISBOOK_PG_BIN"), PGUser: t.getenv("ARRISBOOK_PG_USER"), Log: log,
	})
	if err != nil {
		return nil, err
	}
	st, err := store.Open(ctx, local.URL(), store.Options{})
	if err != nil {
		local.Stop(ctx)
		return nil, err
	}
	return &database{st, local}, nil
}

// openURL opens somebody else's server.
func openURL(ctx context.Context, url string, wait bool, log *slog.Logger) (*store.Store, error) {
	for said := ""; ; {
		st, err := store.Open(ctx, url, store.Options{})
		if err == nil || !wait || hopeless(err) || ctx.Err() != nil {
			return st, err
		}
		if said != err.Error() {
			said = err.Error()
			log.Warn("waiting for the database", "error", err)
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(time.Second):
		}
	}
}

// hopeless says that waiting will not help.
func hopeless(err error) bool {
	_, badURL := errors.AsType[*store.URLError](err)
	_, tooOld := errors.AsType[*store.ServerError](err)
	return badURL || tooOld
}

// done gives an error when the private server ends by itself; a nil channel
// never does.
func (d *database) done() <-chan error {
	if d.local == nil {
		return nil
	}
	return d.local.Done()
}

// close gives the connections back and ends the private server.
func (d *database) close(ctx context.Context) error {
	d.Store.Close()
	if d.local == nil {
		return nil
	}
	if err := d.local.Stop(ctx); err != nil {
		return fmt.Errorf("stop the private database: %w", err)
	}
	return nil
}
