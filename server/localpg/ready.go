package localpg

import (
	"context"
	"errors"
	"fmt"
	"net/url"

	"github.com/jackc/pgx/v5/pgconn"
)

// urlOf is the connection string of a database behind a socket folder.
func urlOf(sock, db string) string {
	q := url.Values{"host": {sock}, "port": {port}, "user": {role}}
	return "postgres:///" + db + "?" + q.Encode()
}

// probe signs in and out again.
func probe(ctx context.Context, sock, db string) error {
	c, err := pgconn.Connect(ctx, urlOf(sock, db))
	if err != nil {
		return err
	}
	return c.Close(ctx)
}

// SQLSTATEs of a server on its way up, and of a database that is not there.
const (
	cannotConnectNow = "57P03"
	noSuchDatabase   = "3D000"
)

// code is the server's own code of an error; "": it did not come from there.
func code(err error) string {
	var said *pgconn.PgError
	if !errors.As(err, &said) {
		return ""
	}
	return said.Code
}

// refusal says that the server answered, and that waiting will not help.
func refusal(err error) bool {
	c := code(err)
	return c != "" && c != cannotConnectNow && c != noSuchDatabase
}

// ready waits until the workbook's database answers, and makes it where it is
// missing: the cluster is new, or its first start was cut short.
func ready(ctx context.Context, pm *postmaster, sock string) error {
	for {
		err := probe(ctx, sock, database)
		switch {
		case err == nil:
			return nil
		case code(err) == noSuchDatabase:
			return createDatabase(ctx, sock)
		case refusal(err):
			return fmt.Errorf("the private database refuses: %w", err)
		}
		select {
		case <-pm.exited:
			return fmt.Errorf("the private database did not start: %w", pm.why())
		default:
		}
		if err := pause(ctx); err != nil {
			return fmt.Errorf("the private database did not get ready: %w\n%s", err, pm.tail())
		}
	}
}

func createDatabase(ctx context.Context, sock string) error {
	c, err := pgconn.Connect(ctx, urlOf(sock, "postgres"))
	if err != nil {
		return fmt.Errorf("make the database: %w", err)
	}
	defer c.Close(ctx)
	if _, err := c.Exec(ctx, "CREATE DATABASE "+database).ReadAll(); err != nil {
		return fmt.Errorf("make the database: %w", err)
	}
	return nil
}
