package main

import (
	"context"
	"fmt"
	"os"
	"strings"
	"time"
)

// stopWithGoTool stops a server started by "go run" together with the go
// tool, which passes Ctrl-C on but not a termination: when it goes, this
// process gets another parent.
func stopWithGoTool(ctx context.Context, stop func()) {
	parent := os.Getppid()
	name, err := os.ReadFile(fmt.Sprintf("/proc/%d/comm", parent))
	if err != nil || strings.TrimSpace(string(name)) != "go" {
		return
	}
	go func() {
		tick := time.NewTicker(200 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
				if os.Getppid() != parent {
					stop()
					return
				}
			}
		}
	}()
}
