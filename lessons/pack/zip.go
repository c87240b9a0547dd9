package pack

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What an archive may be at most. The limits lie far above a course of forty
// modules with their pictures, and are all checked before anything is unpacked.
const (
	// MaxFile is the most bytes a file that is sent in may have.
	MaxFile = 16 << 20

	mostEntries = 600
	mostTotal   = 32 << 20 // bytes, all entries unpacked
	mostRatio   = 200      // unpacked to packed; text and drawings stay under 30
	ratioFrom   = 64 << 10 // bytes from which on the ratio counts: short texts of one letter do no harm
	longestName = 200      // bytes
	deepest     = 4        // folders in folders
)

// entry is one file of an archive, unpacked.
type entry struct {
	name string
	body []byte
}

// unpack gives the files of an archive in its order. What operating systems
// add on their own is passed over. The error is a sentence about the first
// thing that is wrong.
func unpack(body []byte) ([]entry, error) {
	if len(body) > MaxFile {
		return nil, fmt.Errorf("the file has more than %d MB", MaxFile>>20)
	}
	r, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil {
		return nil, fmt.Errorf("this is no zip file that can be read")
	}
	if err := checkDirectory(r.File); err != nil {
		return nil, err
	}
	var out []entry
	for _, f := range r.File {
		if f.Mode().IsDir() || isLitter(f.Name) {
			continue
		}
		text, err := open(f)
		if err != nil {
			return nil, err
		}
		out = append(out, entry{f.Name, text})
	}
	return out, nil
}

// checkDirectory looks at what an archive says it holds, before any of it is
// unpacked.
func checkDirectory(files []*zip.File) error {
	if len(files) > mostEntries {
		return fmt.Errorf("the zip file holds %d files; %d are the most", len(files), mostEntries)
	}
	var total uint64
	seen := map[string]bool{}
	for _, f := range files {
		if err := checkName(f); err != nil {
			return err
		}
		// Where letters count as the same, the later would hide the earlier.
		key := strings.ToLower(strings.TrimSuffix(f.Name, "/"))
		if seen[key] {
			return fmt.Errorf("the zip file holds %s twice", shown(f.Name))
		}
		seen[key] = true
		size := f.UncompressedSize64
		if size > mostTotal || total+size > mostTotal {
			return fmt.Errorf("the zip file unpacks to more than %d MB", mostTotal>>20)
		}
		total += size
		if size > ratioFrom && size/mostRatio > f.CompressedSize64 {
			return fmt.Errorf("%s unpacks to more than %d times its size: that is no text and no picture", shown(f.Name), mostRatio)
		}
	}
	return nil
}

// checkName refuses names that lead out of the archive, and everything that is
// neither a plain file nor a folder.
func checkName(f *zip.File) error {
	name := strings.TrimSuffix(f.Name, "/")
	bad := func(r rune) bool { return unicode.IsControl(r) || r == '\\' || r == ':' || r == utf8.RuneError }
	switch mode := f.Mode(); {
	case len(name) > longestName:
		return fmt.Errorf("%s… is too long for a file name", shown(name[:40]))
	case !utf8.ValidString(name) || strings.ContainsFunc(name, bad) || !fs.ValidPath(name) || name == ".":
		return fmt.Errorf("the zip file holds %s, which is no plain file name", shown(f.Name))
	case strings.Count(name, "/") > deepest:
		return fmt.Errorf("%s lies too deep in folders", shown(f.Name))
	case mode&fs.ModeType != 0 && !mode.IsDir():
		return fmt.Errorf("%s is no plain file", shown(f.Name))
	case mode.IsDir() != strings.HasSuffix(f.Name, "/"), mode.IsDir() && f.UncompressedSize64 > 0:
		return fmt.Errorf("%s is a file and a folder at once", shown(f.Name))
	case f.Flags&1 != 0:
		return fmt.Errorf("%s is locked with a password", shown(f.Name))
	case f.Method != zip.Store && f.Method != zip.Deflate:
		return fmt.Errorf("%s is packed in a way that is not read here", shown(f.Name))
	}
	return nil
}

// open unpacks one entry, never more than it says it holds.
func open(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("%s cannot be unpacked", shown(f.Name))
	}
	defer r.Close()
	text, err := io.ReadAll(io.LimitReader(r, int64(f.UncompressedSize64)+1))
	if err != nil || uint64(len(text)) != f.UncompressedSize64 {
		return nil, fmt.Errorf("%s is damaged", shown(f.Name))
	}
	return text, nil
}

// isLitter says whether a file is one that operating systems leave about.
func isLitter(name string) bool {
	base := path.Base(name)
	return strings.HasPrefix(name, "__MACOSX/") || strings.HasPrefix(base, ".") || strings.EqualFold(base, "Thumbs.db") || strings.EqualFold(base, "desktop.ini")
}

// shown writes a name from outside so that it can stand in a sentence.
func shown(name string) string { return fmt.Sprintf("%.60q", name) }
