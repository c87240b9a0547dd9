package localpg

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// writeAccess writes who may sign in: this process's account and the server's
// own, known by the operating system's word, as the one role. Both files are
// written afresh at each start, so that a restored or edited folder cannot
// lock the workbook out or let anybody else in.
func writeAccess(data string, a account) error {
	hba := "# Written at every start: changes are lost.\nlocal all " + role + " peer map=" + role + "\n"
	if err := replaceFile(filepath.Join(data, "pg_hba.conf"), hba, a); err != nil {
		return err
	}
	var ident strings.Builder
	ident.WriteString("# Written at every start: changes are lost.\n")
	for _, name := range distinct(a.self, a.name) {
		fmt.Fprintf(&ident, "%s \"%s\" %s\n", role, strings.ReplaceAll(name, `"`, `""`), role)
	}
	return replaceFile(filepath.Join(data, "pg_ident.conf"), ident.String(), a)
}

func distinct(a, b string) []string {
	if a == b {
		return []string{a}
	}
	return []string{a, b}
}

// replaceFile puts a whole new file in place of the old one.
func replaceFile(path, text string, a account) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".new-")
	if err != nil {
		return fmt.Errorf("access rules: %w", err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.WriteString(text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = a.chown(f.Name())
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("access rules: %w", err)
	}
	return nil
}
