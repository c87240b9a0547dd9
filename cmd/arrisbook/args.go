package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strconv"
)

// errHelp says that help was asked for and given.
var errHelp = errors.New("help")

// parse reads a command's arguments. Flags may stand before, between and after
// the others, which each gets one by one, in order.
func parse(t terminal, name string, flags *flag.FlagSet, args []string, each func(arg string) error) error {
	flags.SetOutput(io.Discard)
	for {
		if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
			return giveHelp(t, name, flags)
		} else if err != nil {
			return &usageError{err}
		}
		if flags.NArg() == 0 {
			return nil
		}
		if err := each(flags.Arg(0)); err != nil {
			return err
		}
		args = flags.Args()[1:]
	}
}

func giveHelp(t terminal, name string, flags *flag.FlagSet) error {
	c, _ := lookup(name)
	fmt.Fprintf(t.stdout, "usage: arrisbook %s\n\n%s.\n", c.usage(), c.summary)
	flags.SetOutput(t.stdout)
	flags.PrintDefaults()
	return errHelp
}

// noArgs is for commands that take flags only.
func noArgs(arg string) error {
	return wrongUse("what is %q for? there is nothing it could mean here", arg)
}

// newFlags makes a command's flag set.
func newFlags(name string) *flag.FlagSet { return flag.NewFlagSet(name, flag.ContinueOnError) }

// optional is a whole number that may be left out.
type optional struct {
	value uint64
	given bool
}

// String is for the flag package.
func (o *optional) String() string {
	if !o.given {
		return ""
	}
	return strconv.FormatUint(o.value, 10)
}

// Set reads the number.
func (o *optional) Set(text string) error {
	v, err := strconv.ParseUint(text, 10, 64)
	if err != nil {
		return errors.New("write a whole number from 0")
	}
	o.value, o.given = v, true
	return nil
}
