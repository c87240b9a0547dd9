// Package migrations holds the numbered SQL that builds the database.
package migrations

import "embed"

// FS holds the migrations, NNNNN_name.sql, in goose's format.
//
//go:embed *.sql
var FS embed.FS
