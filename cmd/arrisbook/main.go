package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	// A second signal ends the program at once.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// terminal is what a subcommand is given of the outside.
type terminal struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	getenv         func(string) string
}

// Exit codes: done, failed, wrong use.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

// run runs one command line and gives its exit code. ctx ends what runs long.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	t := terminal{stdin: stdin, stdout: stdout, stderr: stderr, getenv: os.Getenv}
	if len(args) == 0 {
		fmt.Fprint(stderr, overview())
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		return help(ctx, t, args[1:])
	}
	c, ok := lookup(args[0])
	if !ok {
		fmt.Fprintf(stderr, "arrisbook: %s is not a command%s\n\n%s", args[0], meant(args[0], commandNames()), overview())
		return exitUsage
	}
	return c.exit(t, c.run(ctx, t, args[1:]))
}

// exit turns a command's error into its message and exit code.
func (c command) exit(t terminal, err error) int {
	var use *usageError
	switch {
	case err == nil || errors.Is(err, errHelp):
		return exitDone
	case errors.Is(err, errTold):
		return exitFailed
	case errors.As(err, &use):
		fmt.Fprintf(t.stderr, "arrisbook %s: %v\nusage: arrisbook %s\n", c.name, err, c.usage())
		return exitUsage
	}
	fmt.Fprintf(t.stderr, "arrisbook %s: %v\n", c.name, err)
	return exitFailed
}

// errTold says that the command failed and has said why already.
var errTold = errors.New("told already")

// usageError is a wrong use of the command line.
type usageError struct{ err error }

// Error says what is wrong.
func (e *usageError) Error() string { return e.err.Error() }

// Unwrap gives the cause.
func (e *usageError) Unwrap() error { return e.err }

// wrongUse makes a usageError.
func wrongUse(format string, args ...any) error { return &usageError{fmt.Errorf(format, args...)} }
