package storetest

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
)

// Multiply copies a class with all that belongs to it so many times, under new
// numbers, and brings the planner's figures up to date: a quick way to a large
// school whose every row is a real one. Cards sign nobody in to a copy.
func Multiply(t testing.TB, url string, class int64, copies int) {
	t.Helper()
	ctx := context.Background()
	c, err := pgx.Connect(ctx, url)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(ctx)
	run := func(sql string, args ...any) {
		t.Helper()
		if _, err := c.Exec(ctx, sql, args...); err != nil {
			t.Fatalf("%v: %s", err, sql)
		}
	}
	// What is copied refers to what is copied with it.
	run("SET session_replication_role = replica")
	rows, err := c.Query(ctx, `
		SELECT c.table_name::text, c.column_name::text
		FROM information_schema.columns c
		JOIN information_schema.tables t USING (table_schema, table_name)
		WHERE c.table_schema = 'public' AND t.table_type = 'BASE TABLE' AND c.is_identity = 'NO'
		  AND EXISTS (SELECT FROM information_schema.columns k
		              WHERE k.table_schema = 'public' AND k.table_name = c.table_name AND k.column_name = 'class_id')
		  AND c.table_name NOT IN ('invitations')
		ORDER BY 1, c.ordinal_position`)
	if err != nil {
		t.Fatal(err)
	}
	columns := map[string][]string{}
	var table, column string
	if _, err := pgx.ForEachRow(rows, []any{&table, &column}, func() error {
		columns[table] = append(columns[table], column)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	var first int64
	if err := c.QueryRow(ctx, `SELECT max(id) + 1 FROM classes`).Scan(&first); err != nil {
		t.Fatal(err)
	}
	run(`INSERT INTO classes OVERRIDING SYSTEM VALUE
		SELECT (jsonb_populate_record(k, jsonb_build_object('id', n, 'code', k.code || n))).*
		FROM classes k, generate_series($2::bigint, $3::bigint) AS n WHERE k.id = $1`, class, first, first+int64(copies)-1)
	for table, names := range columns {
		run(copySQL(table, names), class, first, first+int64(copies)-1)
	}
	run("VACUUM ANALYZE")
}

// copySQL copies a class's rows of one table to classes from $2 to $3.
func copySQL(table string, columns []string) string {
	from := make([]string, len(columns))
	for i, name := range columns {
		switch from[i] = "x." + name; name {
		case "class_id":
			from[i] = "n"
		case "token_hash":
			from[i] = "NULL::bytea"
		}
	}
	return fmt.Sprintf("INSERT INTO %s (%s) SELECT %s FROM %s x, generate_series($2::bigint, $3::bigint) AS n WHERE x.class_id = $1",
		table, strings.Join(columns, ", "), strings.Join(from, ", "), table)
}
