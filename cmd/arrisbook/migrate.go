package main

import (
	"context"
	"fmt"
	"log/slog"
)

// migrate brings the database up to this program's schema.
func migrate(ctx context.Context, t terminal, args []string) (err error) {
	flags := newFlags("migrate")
	state := flags.String("state", "", "`folder` of the private database (or ARRISBOOK_STATE)")
	if err := parse(t, "migrate", flags, args, noArgs); err != nil {
		return err
	}
	db, err := openDatabase(ctx, t, *state, false, newLog(t, slog.LevelWarn))
	if err != nil {
		return err
	}
	defer func() {
		if closed := db.close(context.WithoutCancel(ctx)); err == nil {
			err = closed
		}
	}()
	applied, err := db.Migrate(ctx)
	if err != nil {
		return err
	}
	version, err := db.SchemaVersion(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(t.stdout, "The schema is version %d; %d migrations applied now.\n", version, len(applied))
	return nil
}
