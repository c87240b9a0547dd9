// Package storetest gives every test a real PostgreSQL database of its own.
//
//	st := storetest.New(t)
//
// Each test binary runs a private server (package localpg) out of a small row
// of state folders under the system's folder for temporary files: binaries
// that run at the same time take different ones, and the next run finds them
// made. A template database holds the migrated schema; a test's own database
// is copied from it and dropped at the test's end, so tests may run in
// parallel.
//
// Where there is no PostgreSQL the test is skipped and says why, unless the
// environment variable ARRISBOOK_REQUIRE holds "db": then it fails.
package storetest
