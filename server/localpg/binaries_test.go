package localpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// fakeBinaries makes a folder whose postgres tells a version.
func fakeBinaries(t *testing.T, version string, programs ...string) string {
	t.Helper()
	dir := t.TempDir()
	script := fmt.Sprintf("#!/bin/sh\necho 'postgres (PostgreSQL) %s'\n", version)
	for _, p := range programs {
		if err := os.WriteFile(filepath.Join(dir, p), []byte(script), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestChoose(t *testing.T) {
	old := fakeBinaries(t, "14.9 (Debian 14.9-1)", "postgres", "initdb")
	good := fakeBinaries(t, "15.18 (Debian 15.18-0)", "postgres", "initdb")
	better := fakeBinaries(t, "15.9", "postgres", "initdb")
	newest := fakeBinaries(t, "17beta1", "postgres", "initdb")
	half := fakeBinaries(t, "18.1", "postgres")
	empty := t.TempDir()
	for _, c := range []struct {
		name    string
		folders []string
		want    int
		folder  string
	}{
		{"newest wins", []string{good, newest, old}, 0, newest},
		{"18 is newer than 9", []string{better, good}, 0, good},
		{"the data's version wins", []string{newest, good}, 15, good},
		{"too old", []string{old}, 0, ""},
		{"no initdb", []string{half}, 0, ""},
		{"nothing", []string{empty}, 0, ""},
		{"not the data's version", []string{newest}, 15, ""},
	} {
		got, err := choose([]place{{"here", c.folders}}, c.want)
		if got.folder != c.folder || (err == nil) != (c.folder != "") {
			t.Errorf("%s: choose = %q, %v, want %q", c.name, got.folder, err, c.folder)
		}
	}
}

// A machine without PostgreSQL gets a message that says what was tried and
// every way out.
func TestNoBinaries(t *testing.T) {
	empty := t.TempDir()
	_, err := Start(context.Background(), Config{State: stateFolder(t), PGBin: empty})
	var none *NoBinariesError
	if !errors.As(err, &none) {
		t.Fatalf("Start without binaries: %v, want a *NoBinariesError", err)
	}
	for _, want := range []string{
		"No PostgreSQL 15 or newer", "ARRISBOOK_PG_BIN: nothing", "apt-get install postgresql",
		"DATABASE_URL=", "ARRISBOOK_PG_BIN=", "docker compose up",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("message lacks %q:\n%v", want, err)
		}
	}
}

func TestStateFolder(t *testing.T) {
	for _, c := range []struct {
		name, asked string
		uid         int
		env         map[string]string
		want        string
	}{
		{"asked", "/srv/book", 0, map[string]string{"ARRISBOOK_STATE": "/other"}, "/srv/book"},
		{"environment", "", 1000, map[string]string{"ARRISBOOK_STATE": "/other", "HOME": "/home/a"}, "/other"},
		{"root", "", 0, map[string]string{"HOME": "/root"}, "/var/lib/arrisbook"},
		{"xdg", "", 1000, map[string]string{"XDG_STATE_HOME": "/home/a/.s", "HOME": "/home/a"}, "/home/a/.s/arrisbook"},
		{"relative xdg is ignored", "", 1000, map[string]string{"XDG_STATE_HOME": "s", "HOME": "/home/a"}, "/home/a/.local/state/arrisbook"},
		{"home", "", 1000, map[string]string{"HOME": "/home/a"}, "/home/a/.local/state/arrisbook"},
		{"nowhere", "", 1000, nil, ""},
	} {
		got, err := StateFolder(c.asked, c.uid, func(k string) string { return c.env[k] })
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%s: StateFolder(%q) = %q, %v, want %q", c.name, c.asked, got, err, c.want)
		}
	}
}
