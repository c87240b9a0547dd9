package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"arrisbook/server/localpg"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"arrisbook": main})
}

// Each file in testdata/script is one story told to the whole program.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		Setup:         setUpScript,
		Condition:     condition,
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"misuse":    misuse,
			"terminate": terminate,
			"waitready": waitReady,
			"nobodyin":  nobodyIn,
		},
	})
}

// setUpScript gives a script an address to serve on, a state folder and the
// lessons that ship.
func setUpScript(e *testscript.Env) error {
	t := e.T().(testing.TB)
	e.Setenv("ADDR", freeAddr(t))
	e.Setenv("STATE", filepath.Join(openFolder(t), "state"))
	lessons, err := filepath.Abs("../../lessons/content")
	e.Setenv("LESSONS", lessons)
	return err
}

// condition knows [db]: there is a PostgreSQL to run.
func condition(name string) (bool, error) {
	if name != "db" {
		return false, fmt.Errorf("unknown condition %s", name)
	}
	err := localpg.Available("")
	if err != nil && strings.Contains(os.Getenv("ARRISBOOK_REQUIRE"), "db") {
		return false, err
	}
	return err == nil, nil
}

// misuse runs the program and wants exit code 2, the one for wrong use.
func misuse(ts *testscript.TestScript, neg bool, args []string) {
	var exit *exec.ExitError
	if err := ts.Exec("arrisbook", args...); !errors.As(err, &exit) || exit.ExitCode() != exitUsage {
		ts.Fatalf("arrisbook %s: %v, want exit code %d", strings.Join(args, " "), err, exitUsage)
	}
}

// terminate asks what runs in the background to end, as a service manager does.
func terminate(ts *testscript.TestScript, neg bool, args []string) {
	for _, cmd := range ts.BackgroundCmds() {
		ts.Check(cmd.Process.Signal(syscall.SIGTERM))
	}
}

// waitReady waits until a server says that it is ready.
func waitReady(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: waitready ADDR")
	}
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	for ctx.Err() == nil {
		resp, err := http.Get("http://" + args[0] + "/readyz")
		if err == nil {
			resp.Body.Close()
			if resp.StatusCode == http.StatusOK {
				return
			}
		}
		time.Sleep(20 * time.Millisecond)
	}
	ts.Fatalf("%s is not ready after 30 s", args[0])
}

// nobodyIn fails when a process still runs with the folder on its command line
// or as its working folder.
func nobodyIn(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: nobodyin FOLDER")
	}
	procs, err := filepath.Glob("/proc/[0-9]*")
	ts.Check(err)
	for _, p := range procs {
		cwd, _ := os.Readlink(filepath.Join(p, "cwd")) // gone or not ours: empty
		line, _ := os.ReadFile(filepath.Join(p, "cmdline"))
		if strings.HasPrefix(cwd, args[0]) || strings.Contains(string(line), args[0]) {
			ts.Fatalf("process %s is left: %s", filepath.Base(p), strings.ReplaceAll(string(line), "\x00", " "))
		}
	}
}
