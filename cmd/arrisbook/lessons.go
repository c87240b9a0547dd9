package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"arrisbook/lessons"
)

// checkLessons finds every fault in a folder of lesson modules. Warnings are
// printed and fail nothing.
func checkLessons(_ context.Context, t terminal, args []string) error {
	var words []string
	err := parse(t, "lessons", newFlags("lessons"), args, func(arg string) error {
		words = append(words, arg)
		return nil
	})
	if err != nil {
		return err
	}
	if len(words) != 2 || words[0] != "check" {
		return wrongUse("say which folder to check")
	}
	dir := words[1]
	if info, err := os.Stat(dir); err != nil {
		return err
	} else if !info.IsDir() {
		return fmt.Errorf("%s is not a folder", dir)
	}
	shipped, err := lessons.Shipped()
	if err != nil {
		return fmt.Errorf("the shipped lessons: %w", err)
	}
	found := lessons.Check(os.DirFS(dir), shipped)
	for _, f := range found {
		f.File = filepath.Join(dir, f.File)
		fmt.Fprintln(t.stderr, f)
	}
	if faults := lessons.Faults(found); len(faults) > 0 {
		return fmt.Errorf("faults found: %d", len(faults))
	}
	fmt.Fprintln(t.stdout, "No faults found.")
	return nil
}
