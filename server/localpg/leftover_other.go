//go:build unix && !linux

package localpg

import (
	"context"
	"log/slog"
)

// clearLeftovers leaves all to PostgreSQL's own checks: without /proc there is
// no telling whose process it is.
func clearLeftovers(_ context.Context, _, _ string, _ account, _ *slog.Logger) error { return nil }
