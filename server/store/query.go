package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// querier is the pool, or one transaction on it.
type querier interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
}

// one gives exactly one row; [ErrNotFound] for none.
func one[T any](ctx context.Context, q querier, op, sql string, args ...any) (T, error) {
	var none T
	rows, err := q.Query(ctx, sql, args...)
	if err != nil {
		return none, fault(op, err)
	}
	t, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[T])
	if err != nil {
		return none, fault(op, err)
	}
	return t, nil
}

// all gives every row.
func all[T any](ctx context.Context, q querier, op, sql string, args ...any) ([]T, error) {
	rows, err := q.Query(ctx, sql, args...)
	if err != nil {
		return nil, fault(op, err)
	}
	ts, err := pgx.CollectRows(rows, pgx.RowToStructByName[T])
	if err != nil {
		return nil, fault(op, err)
	}
	return ts, nil
}
