package store_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"arrisbook/server/store/storetest"
)

// What fails is undone, what succeeds stays.
func TestInTx(t *testing.T) {
	t.Parallel()
	url := storetest.URL(t)
	st := openAt(t, url)
	execAt(t, url, `CREATE TABLE kept (n int)`)
	add := func(n int, end error) error {
		return st.InTx(t.Context(), func(tx pgx.Tx) error {
			if _, err := tx.Exec(t.Context(), `INSERT INTO kept VALUES ($1)`, n); err != nil {
				return err
			}
			return end
		})
	}
	wrong := errors.New("wrong")
	if err := add(1, nil); err != nil {
		t.Errorf("InTx = %v, want nil", err)
	}
	if err := add(2, wrong); err != wrong {
		t.Errorf("InTx = %v, want what f returned", err)
	}
	var got []int
	err := st.InTx(t.Context(), func(tx pgx.Tx) error {
		rows, _ := tx.Query(t.Context(), `SELECT n FROM kept`)
		var err error
		got, err = pgx.CollectRows(rows, pgx.RowTo[int])
		return err
	})
	if err != nil || fmt.Sprint(got) != "[1]" {
		t.Errorf("rows = %v, %v, want [1]", got, err)
	}
}

// Transactions that deadlock are run again until each is through.
func TestInTxDeadlock(t *testing.T) {
	t.Parallel()
	url := storetest.URL(t)
	st := openAt(t, url)
	execAt(t, url, `CREATE TABLE counted (id int PRIMARY KEY, n int NOT NULL); INSERT INTO counted VALUES (1, 0), (2, 0)`)
	// Both have their first row before either asks for its second one.
	var both sync.WaitGroup
	both.Add(2)
	runs := make([]int, 2)
	cross := func(me, first, second int) error {
		return st.InTx(t.Context(), func(tx pgx.Tx) error {
			runs[me]++
			for i, id := range []int{first, second} {
				if _, err := tx.Exec(t.Context(), `UPDATE counted SET n = n + 1 WHERE id = $1`, id); err != nil {
					return err
				}
				if i == 0 && runs[me] == 1 {
					both.Done()
					both.Wait()
				}
			}
			return nil
		})
	}
	var all sync.WaitGroup
	all.Go(func() { check(t, cross(0, 1, 2)) })
	all.Go(func() { check(t, cross(1, 2, 1)) })
	all.Wait()
	if runs[0]+runs[1] < 3 {
		t.Errorf("runs = %v: there was no deadlock to get over", runs)
	}
	var n int
	check(t, st.InTx(t.Context(), func(tx pgx.Tx) error {
		return tx.QueryRow(t.Context(), `SELECT sum(n) FROM counted`).Scan(&n)
	}))
	if n != 4 {
		t.Errorf("counted %d, want each of the two transactions once on two rows: 4", n)
	}
}

// A fault that stays is given up on after a bounded number of tries.
func TestInTxGivesUp(t *testing.T) {
	t.Parallel()
	st := storetest.New(t)
	runs := 0
	err := st.InTx(t.Context(), func(tx pgx.Tx) error {
		runs++
		_, err := tx.Exec(t.Context(), `DO $$ BEGIN RAISE EXCEPTION USING errcode = '40001'; END $$`)
		return err
	})
	var pg *pgconn.PgError
	if !errors.As(err, &pg) || pg.Code != "40001" || runs != 5 {
		t.Errorf("InTx = %v after %d runs, want 40001 after 5", err, runs)
	}
}

// A lock held elsewhere ends in an error, not in a page that hangs.
func TestLockTimeout(t *testing.T) {
	t.Parallel()
	url := storetest.URL(t)
	st := openAt(t, url)
	c, err := pgx.Connect(t.Context(), url)
	check(t, err)
	defer c.Close(context.Background())
	_, err = c.Exec(t.Context(), `BEGIN; CREATE TABLE held (n int); COMMIT; BEGIN; LOCK TABLE held`)
	check(t, err)
	began := time.Now()
	err = st.InTx(t.Context(), func(tx pgx.Tx) error {
		_, err := tx.Exec(t.Context(), `INSERT INTO held VALUES (1)`)
		return err
	})
	var pg *pgconn.PgError
	if !errors.As(err, &pg) || pg.Code != "55P03" {
		t.Errorf("writing to a held table: %v, want lock_not_available", err)
	}
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("it took %v, want about 3 s", took)
	}
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Error(err)
	}
}
