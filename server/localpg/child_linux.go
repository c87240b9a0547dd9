package localpg

import "syscall"

// childAttr puts a child in a process group of its own, so that a Ctrl-C at
// the terminal reaches the workbook first, and has the system end it (a fast
// shutdown) when this process dies without a word.
func childAttr(c *syscall.Credential) *syscall.SysProcAttr {
	return &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGINT, Credential: c}
}
