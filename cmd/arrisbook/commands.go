package main

import (
	"context"
	"fmt"
	"strings"

	"arrisbook/geom/joint"
)

// command is one subcommand.
type command struct {
	name    string
	args    string // for the usage line
	summary string
	run     func(ctx context.Context, t terminal, args []string) error
}

// commands lists the subcommands, the server first.
func commands() []command {
	return []command{
		{"serve", "[-addr 127.0.0.1:8080] [-state DIR] [-demo] [-public URL]", "run the workbook for a class", serve},
		{"layout", "FAMILY id=value … [-json]", "lay a joint out on one blank", layout},
		{"fit", "FAMILY id=value … -as id=value … [-json]", "see how submitted numbers would close at the bench", fit},
		{"generate", "EXERCISE -seed N [-count K] [-key] [-json] [-spread] [-lessons DIR]", "draw the blanks of an exercise", generate},
		{"grade", "[-json] [-lessons DIR] < FILE", "judge answers, one JSON object a line", grade},
		{"review", "[-json] [-lessons DIR] < FILE", "find what the wrong answers of a class have in common", review},
		{"draw", "FAMILY id=value … -o FILE.svg|.pdf [-view NAME] [-template] [-paper A4|Letter]", "draw a joint on one blank, or a full-size template", draw},
		{"lessons", "check DIR", "find every fault in a folder of lesson modules", checkLessons},
		{"migrate", "[-state DIR]", "bring the database up to this program's schema", migrate},
		{"recount", "[-check] [-state DIR]", "count all answers anew from what was sent, or only look", recount},
		{"healthcheck", "[-addr 127.0.0.1:8080]", "ask a running server whether it is ready", healthcheck},
	}
}

func (c command) usage() string { return c.name + " " + c.args }

func lookup(name string) (command, bool) {
	for _, c := range commands() {
		if c.name == name {
			return c, true
		}
	}
	return command{}, false
}

func commandNames() []string {
	names := []string{}
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return names
}

// overview is the help for the whole program.
func overview() string {
	var b strings.Builder
	b.WriteString("usage: arrisbook COMMAND …\n\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-12s %s\n", c.name, c.summary)
	}
	b.WriteString(`
Values are millimetres and degrees, or carry a unit: thickness=25 width=2-3/8in head_angle="9° 30'"
Exit codes: 0 done, 1 failed, 2 wrong use. Help for one command: arrisbook help COMMAND
`)
	return b.String()
}

// help answers the command "help".
func help(ctx context.Context, t terminal, args []string) int {
	if len(args) == 0 {
		fmt.Fprint(t.stdout, overview())
		return exitDone
	}
	c, ok := lookup(args[0])
	if !ok {
		fmt.Fprintf(t.stderr, "arrisbook: %s is not a command%s\n", args[0], meant(args[0], commandNames()))
		return exitUsage
	}
	return c.exit(t, c.run(ctx, t, []string{"-h"}))
}

// meant is the end of a message about an unknown word: the one that was
// probably meant, else all there are.
func meant(word string, known []string) string {
	if near := joint.Nearest(word, known); near != "" {
		return ": did you mean " + near + "?"
	}
	return ": there are " + strings.Join(known, ", ")
}
