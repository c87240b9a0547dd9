// Package store keeps everything in PostgreSQL. SQL stands as a literal in the
// method that fills the type it is for; ownership stands in its WHERE. Times
// are UTC. Methods return errors that wrap [ErrNotFound], [ErrTaken] or
// [ErrChanged] where a caller can act on them.
package store
