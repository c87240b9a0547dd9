package localpg

import (
	"errors"
	"path/filepath"
)

// StateFolder decides where the state folder is: what was asked for, then
// ARRISBOOK_STATE, then /var/lib/arrisbook for root and
// XDG_STATE_HOME/arrisbook or ~/.local/state/arrisbook for anybody else.
func StateFolder(asked string, uid int, getenv func(string) string) (string, error) {
	if asked == "" {
		asked = getenv("ARRISBOOK_STATE")
	}
	switch {
	case asked != "":
		return filepath.Abs(asked)
	case uid == 0:
		return "/var/lib/arrisbook", nil
	case filepath.IsAbs(getenv("XDG_STATE_HOME")):
		return filepath.Join(getenv("XDG_STATE_HOME"), "arrisbook"), nil
	case getenv("HOME") != "":
		return filepath.Join(getenv("HOME"), ".local", "state", "arrisbook"), nil
	}
	return "", errors.New("there is no HOME to keep the workbook's state under: name a folder with -state or ARRISBOOK_STATE")
}
