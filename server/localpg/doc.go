// Package localpg runs the workbook's own private PostgreSQL, for a school
// that has no database server: one folder holds everything, nothing listens on
// the network, and no password lies on the disk.
//
// # The state folder
//
//	data/        the database itself (0700, owned by the server's account)
//	run/         its socket
//	server.log   what PostgreSQL says
//	lock         held by the process that owns the database
//
// [Start] takes the lock and starts the server; where another live process
// holds the lock it attaches to that process's server instead, so that a
// subcommand works while the workbook runs. Access is by the socket and the
// operating system's word for who is asking (peer), never by password.
//
// # What it promises
//
// The server ends with the process that started it, however that process ends.
// What kill -9 leaves behind is cleared at the next start, and only when it is
// certainly ours: a process whose working folder is data/. The data folder is
// never changed by a program of another major version, and nothing is ever
// installed or downloaded.
//
//	srv, err := localpg.Start(ctx, localpg.Config{State: "/var/lib/arrisbook"})
//	defer srv.Stop(ctx)
//	pool, err := pgxpool.New(ctx, srv.URL())
//
// The package speaks to the server through pgconn, the lowest layer of pgx,
// only to see that it is ready and to make the empty database.
package localpg
