package localpg

import (
	"context"
	"errors"
	"time"
)

// errNotReady says that the owner of the folder has no server to offer yet.
var errNotReady = errors.New("the database is not ready")

// attach uses the server that another process runs on the folder.
func attach(ctx context.Context, dir folder) (*Server, error) {
	sock := socketOf(dir.lock())
	if sock == "" {
		return nil, errNotReady
	}
	if err := probe(ctx, sock, database); err != nil {
		return nil, err
	}
	s := &Server{Attached: true, url: urlOf(sock, database), done: make(chan error, 1)}
	watch, leave := context.WithCancel(context.WithoutCancel(ctx))
	go watchOwner(watch, dir.lock(), s.done)
	s.stop = func(context.Context) error {
		leave()
		return nil
	}
	return s, nil
}

// watchOwner reports when the owning process lets go of the lock.
func watchOwner(ctx context.Context, lock string, done chan<- error) {
	defer close(done)
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			if !held(lock) {
				done <- errors.New("the process that ran the database has ended, and the database with it")
				return
			}
		}
	}
}
