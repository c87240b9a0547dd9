//go:build unix && !linux

package localpg

import "syscall"

// childAttr puts a child in a process group of its own, so that a Ctrl-C at
// the terminal reaches the workbook first. Ending the child with this process
// is something only Linux offers.
func childAttr(c *syscall.Credential) *syscall.SysProcAttr {
	return &syscall.SysProcAttr{Setpgid: true, Credential: c}
}
