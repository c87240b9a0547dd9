package server

import (
	"time"

	"arrisbook/server/store"
)

// released says whether a student may see the key of a sheet: true shapes, the
// right numbers, gaps in figures. cleared says that leave to cut stands for
// what the sheet is now: measuring the blank again or sending new numbers ends
// it, and with it the sight of the key, which would be another one.
func released(a store.Assignment, cleared bool, now time.Time) bool {
	if a.ReleasedAt != nil && !a.ReleasedAt.After(now) {
		return true
	}
	switch a.Release {
	case store.ReleaseCleared:
		return cleared
	case store.ReleaseDue:
		return a.DueAt != nil && !now.Before(*a.DueAt)
	}
	return false
}

// shut says why nothing can be sent any more; "" while it can. The server's
// clock decides.
func shut(a store.Assignment, attempts int, now time.Time) string {
	switch {
	case a.WithdrawnAt != nil:
		return "The instructor has withdrawn this sheet. What you sent is kept."
	case now.Before(a.OpensAt):
		return "This sheet has not begun yet."
	case a.ReleasedAt != nil && !a.ReleasedAt.After(now):
		return "The key is released, so nothing more can be sent."
	case a.DueAt != nil && !now.Before(*a.DueAt):
		return "The due time is over, so nothing more can be sent."
	case a.Attempts > 0 && attempts >= a.Attempts:
		return "All attempts are used. Talk to your instructor."
	}
	return ""
}
