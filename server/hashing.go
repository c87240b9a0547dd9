package server

import (
	"context"
	"runtime"

	"github.com/alexedwards/argon2id"
)

// hashParams are the least that OWASP's password storage cheat sheet asks of
// Argon2id: 19 MiB, two passes, one lane. They stand in each hash as well.
var hashParams = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 32, KeyLength: 32}

// hashing lets at most one hash a processor run at once: thirty sign-ins at
// the bell would otherwise take more memory than the machine has.
type hashing struct {
	turn chan struct{}
	// decoy is what an unknown name is checked against, so that it takes as
	// long as a known one.
	decoy string
}

func newHashing() (hashing, error) {
	decoy, err := argon2id.CreateHash("nobody has this password", hashParams)
	return hashing{turn: make(chan struct{}, runtime.NumCPU()), decoy: decoy}, err
}

func (h hashing) wait(ctx context.Context) error {
	select {
	case h.turn <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (h hashing) done() { <-h.turn }

// hash makes the hash of a secret.
func (h hashing) hash(ctx context.Context, secret string) (string, error) {
	if err := h.wait(ctx); err != nil {
		return "", err
	}
	defer h.done()
	return argon2id.CreateHash(secret, hashParams)
}

// compare says whether a secret is the one of a hash. An empty hash takes the
// same time and never matches. It needs a turn.
func (h hashing) compare(secret, hash string) (bool, error) {
	known := hash != ""
	if !known {
		hash = h.decoy
	}
	ok, err := argon2id.ComparePasswordAndHash(secret, hash)
	return ok && known, err
}
