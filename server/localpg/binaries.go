package localpg

import (
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// oldest is the oldest major version the workbook's SQL is written for.
const oldest = 15

// binaries is a folder with PostgreSQL's server programs.
type binaries struct {
	folder       string
	version      string // "15.18"
	major, minor int
}

func (b binaries) postgres() string { return filepath.Join(b.folder, "postgres") }
func (b binaries) initdb() string   { return filepath.Join(b.folder, "initdb") }

// findBinaries chooses the programs: the newest found, or of exactly the
// version an existing data folder was made by.
func findBinaries(strict, data string) (binaries, error) {
	places := usualPlaces()
	if strict != "" {
		places = []place{{"ARRISBOOK_PG_BIN", []string{strict}}}
	}
	return choose(places, madeBy(data))
}

// madeBy reads the major version that made a data folder; 0: there is none.
func madeBy(data string) int {
	text, err := os.ReadFile(filepath.Join(data, "PG_VERSION"))
	if err != nil {
		return 0
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		return 0
	}
	return major
}

// place is somewhere to look, with the folders found there.
type place struct {
	name    string
	folders []string
}

// usualPlaces lists where PostgreSQL's server programs lie on the systems we
// know: Debian puts them off PATH, others by version under /usr.
func usualPlaces() []place {
	p := []place{{"PATH", filepath.SplitList(os.Getenv("PATH"))}, {"pg_config --bindir", pgConfig()}}
	for _, pattern := range []string{
		"/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/usr/local/pgsql*/bin",
		"/opt/homebrew/opt/postgresql*/bin", "/usr/local/opt/postgresql*/bin",
	} {
		found, _ := filepath.Glob(pattern) // fails on a bad pattern only
		p = append(p, place{pattern, found})
	}
	return p
}

func pgConfig() []string {
	out, err := exec.Command("pg_config", "--bindir").Output()
	if err != nil {
		return nil
	}
	return []string{strings.TrimSpace(string(out))}
}

// choose takes the newest usable folder. want, when not 0, is the one major
// version that will do.
func choose(places []place, want int) (binaries, error) {
	var found []binaries
	missing := &NoBinariesError{Want: want}
	for _, p := range places {
		var said []string
		for _, folder := range p.folders {
			b, note := inspect(folder)
			switch {
			case note != "":
				said = append(said, note)
			case b.major == 0: // nothing here
			case b.major < oldest:
				said = append(said, fmt.Sprintf("%s has PostgreSQL %s, older than %d", folder, b.version, oldest))
			case want != 0 && b.major != want:
				said = append(said, fmt.Sprintf("%s has PostgreSQL %s", folder, b.version))
			default:
				found = append(found, b)
			}
		}
		missing.Tried = append(missing.Tried, p.name+": "+cmp.Or(strings.Join(said, "; "), "nothing"))
	}
	if len(found) == 0 {
		return binaries{}, missing
	}
	return slices.MaxFunc(found, func(a, b binaries) int {
		return cmp.Or(cmp.Compare(a.major, b.major), cmp.Compare(a.minor, b.minor))
	}), nil
}

var versionText = regexp.MustCompile(`\(PostgreSQL\) ((\d+)(?:\.(\d+))?\S*)`)

// inspect reads the version of the programs in a folder. A folder without them
// gives major 0 and, where half of them are there, a note that says so.
func inspect(folder string) (binaries, string) {
	b := binaries{folder: folder}
	if !program(b.postgres()) {
		return b, ""
	}
	if !program(b.initdb()) {
		return b, folder + " has postgres but no initdb"
	}
	out, err := exec.Command(b.postgres(), "--version").Output()
	if err != nil {
		return b, fmt.Sprintf("%s does not run: %v", b.postgres(), err)
	}
	m := versionText.FindStringSubmatch(string(out))
	if m == nil {
		return b, fmt.Sprintf("%s does not tell its version", b.postgres())
	}
	b.version = m[1]
	b.major, _ = strconv.Atoi(m[2])
	b.minor, _ = strconv.Atoi(cmp.Or(m[3], "0")) // "17beta1" has none
	return b, ""
}

// program says whether a path is a program that can be run.
func program(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular() && info.Mode()&0o111 != 0
}

// Available says whether there is a PostgreSQL for a new state folder: nil, or
// a *[NoBinariesError]. strict is as in [Config].
func Available(strict string) error {
	_, err := findBinaries(strict, "")
	return err
}
