package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"
)

// healthcheck asks a running server whether it is ready.
func healthcheck(ctx context.Context, t terminal, args []string) error {
	flags := newFlags("healthcheck")
	addr := flags.String("addr", defaultAddr, "`address` the server listens on")
	if err := parse(t, "healthcheck", flags, args, noArgs); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, 4*time.Second)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+reachableAddr(*addr)+"/readyz", nil)
	if err != nil {
		return wrongUse("-addr: %w", err)
	}
	// Straight to the server: never through a proxy of the environment.
	client := http.Client{Transport: &http.Transport{}}
	resp, err := client.Do(r)
	if err != nil {
		return fmt.Errorf("the server does not answer: %w", err)
	}
	defer resp.Body.Close()
	said, err := io.ReadAll(io.LimitReader(resp.Body, 200))
	if err != nil {
		return fmt.Errorf("the server does not answer: %w", err)
	}
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("the server is not ready: %s (%s)", strings.TrimSpace(string(said)), resp.Status)
	}
	fmt.Fprintln(t.stdout, "ready")
	return nil
}
