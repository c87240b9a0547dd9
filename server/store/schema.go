package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"arrisbook/migrations"
)

// SchemaError says that the database's schema is not the one this program
// was written for.
type SchemaError struct {
	Have, Know int64 // versions; Have 0: the database is empty
}

// Error is one sentence that says what to do.
func (e *SchemaError) Error() string {
	switch {
	case e.Have > e.Know:
		return fmt.Sprintf("the database's schema is version %d and this program knows only up to %d: it belongs to a newer Arrisbook, so start that one", e.Have, e.Know)
	case e.Have == 0:
		return "the database is empty: run arrisbook migrate"
	}
	return fmt.Sprintf("the database's schema is version %d and this program needs %d: run arrisbook migrate", e.Have, e.Know)
}

// CheckSchema gives a *SchemaError unless the database has exactly the schema
// this program knows.
func (s *Store) CheckSchema(ctx context.Context) error {
	have, err := s.SchemaVersion(ctx)
	if err != nil {
		return err
	}
	know, err := knownVersion(migrations.FS)
	if err != nil {
		return err
	}
	if have != know {
		return &SchemaError{Have: have, Know: know}
	}
	return nil
}

// SchemaVersion gives the number of the last migration applied; 0: none.
func (s *Store) SchemaVersion(ctx context.Context) (int64, error) {
	var kept bool
	err := s.pool.QueryRow(ctx, `SELECT to_regclass('goose_db_version') IS NOT NULL`).Scan(&kept)
	if err != nil || !kept {
		return 0, fault("schema version", err)
	}
	var v int64
	err = s.pool.QueryRow(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied`).Scan(&v)
	return v, fault("schema version", err)
}

// knownVersion is the number of the newest migration of the program.
func knownVersion(fsys fs.FS) (int64, error) {
	names, err := fs.Glob(fsys, "*.sql")
	if err != nil {
		return 0, fmt.Errorf("migrations: %w", err)
	}
	var newest int64
	for _, name := range names {
		v, err := goose.NumericComponent(name)
		if err != nil {
			return 0, fmt.Errorf("migration %s: %w", name, err)
		}
		newest = max(newest, v)
	}
	return newest, nil
}

// Migrate brings the database up to the schema this program knows, and gives
// the version numbers of the migrations it applied. Several programs may call
// it at once: one migrates, the others wait. A newer schema is a *SchemaError.
func (s *Store) Migrate(ctx context.Context) ([]int64, error) {
	if err := s.CheckSchema(ctx); err == nil {
		return []int64{}, nil
	} else if se, ok := errors.AsType[*SchemaError](err); !ok || se.Have > se.Know {
		return nil, err
	}
	db := s.migrationDB()
	defer db.Close()
	return up(ctx, db, migrations.FS)
}

// migrationDB is a connection of its own: a migration may take longer than a
// page may wait, but must not hold up the pages behind a lock for longer.
func (s *Store) migrationDB() *sql.DB {
	cfg := s.pool.Config().ConnConfig
	limit(cfg, 0)
	cfg.RuntimeParams["idle_in_transaction_session_timeout"] = "0"
	return stdlib.OpenDB(*cfg)
}

func up(ctx context.Context, db *sql.DB, fsys fs.FS) ([]int64, error) {
	// Looked for every second, for two minutes.
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 120), lock.WithUnlockTimeout(1, 10))
	if err != nil {
		return nil, fault("migrate", err)
	}
	p, err := goose.NewProvider(goose.DialectPostgres, db, fsys, goose.WithSessionLocker(locker), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return nil, fault("migrate", err)
	}
	done, err := p.Up(ctx)
	if err != nil {
		return nil, migrationFault(err)
	}
	versions := []int64{}
	for _, r := range done {
		versions = append(versions, r.Source.Version)
	}
	return versions, nil
}

// migrationFault names the step that failed. What it did is undone; what went
// before it stays, and the next start goes on from there.
func migrationFault(err error) error {
	if p, ok := errors.AsType[*goose.PartialError](err); ok {
		return fmt.Errorf("store: migration %s failed after %v: %w", p.Failed.Source.Path, p.Failed.Duration.Round(time.Millisecond), p.Err)
	}
	return fault("migrate", err)
}
