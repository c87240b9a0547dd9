package main

import (
	"context"
	"fmt"
	"log/slog"

	"arrisbook/server/store"
)

// recount counts the answers of every class anew from what was sent, or with
// -check only says what differs.
func recount(ctx context.Context, t terminal, args []string) (err error) {
	flags := newFlags("recount")
	state := flags.String("state", "", "`folder` of the private database (or ARRISBOOK_STATE)")
	check := flags.Bool("check", false, "change nothing: say what differs, and fail if anything does")
	if err := parse(t, "recount", flags, args, noArgs); err != nil {
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
	if err := db.CheckSchema(ctx); err != nil {
		return err
	}
	count := db.Recount
	if *check {
		count = db.CheckCounts
	}
	total, err := countAll(ctx, t, db.Store, count)
	if err != nil {
		return err
	}
	return total.tell(t, *check)
}

// countTotal is what was found in all classes together.
type countTotal struct{ classes, attempts, wrong int }

func countAll(ctx context.Context, t terminal, st *store.Store, count func(context.Context, int64) (store.Counted, error)) (countTotal, error) {
	var total countTotal
	ids, err := st.ClassIDs(ctx)
	if err != nil {
		return total, err
	}
	for _, id := range ids {
		c, err := count(ctx, id)
		if err != nil {
			return total, err
		}
		total.classes, total.attempts, total.wrong = total.classes+1, total.attempts+c.Attempts, total.wrong+len(c.Faults)
		for _, f := range c.Faults {
			is := "is missing"
			if f.Surplus {
				is = "should not be there"
			}
			fmt.Fprintf(t.stderr, "class %d, %s: %s %s\n", f.ClassID, f.Table, f.Row, is)
		}
	}
	return total, nil
}

// tell says what was found, and fails where something is left wrong.
func (c countTotal) tell(t terminal, check bool) error {
	said := fmt.Sprintf("%d classes, %d attempts", c.classes, c.attempts)
	switch {
	case c.wrong == 0:
		fmt.Fprintf(t.stdout, "%s: every count is right.\n", said)
	case check:
		fmt.Fprintf(t.stdout, "%s: %d counts differ.\n", said, c.wrong)
		return fmt.Errorf("%d counts differ; arrisbook recount puts them right", c.wrong)
	default:
		fmt.Fprintf(t.stdout, "%s: %d counts differed and were made anew.\n", said, c.wrong)
	}
	return nil
}
