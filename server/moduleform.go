package server

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// moduleForm is a module as typed, with what is wrong with the form itself.
// What is wrong with the text is another matter: that can be saved all the
// same.
type moduleForm struct {
	Text, Author, Licence                string
	TextFault, AuthorFault, LicenceFault string
	FilesFault                           string
	From                                 int             // the save that the form was filled with
	Drop                                 map[string]bool // pictures to leave out, by name
	Files                                []pack.Picture  // sent along
}

// textMost is the longest text in bytes; lessons read no longer one.
const textMost = 128 << 10

// picturesMost is how many pictures a module may have.
const picturesMost = 60

// readModuleForm reads the texts of the form.
func readModuleForm(c echo.Context) moduleForm {
	f := moduleForm{
		Text: tidyLines(c.FormValue("module_text")), Author: tidyName(c.FormValue("module_author")),
		Licence: tidyName(c.FormValue("module_licence")), Drop: map[string]bool{},
	}
	f.From, _ = strconv.Atoi(c.FormValue("module_from"))
	if values, err := c.FormParams(); err == nil {
		for _, name := range values["module_drop"] {
			f.Drop[name] = true
		}
	}
	f.TextFault = textFault(f.Text)
	if utf8.RuneCountInString(f.Author) > pack.LongestAuthor {
		f.AuthorFault = fmt.Sprintf("Keep the author under %d letters.", pack.LongestAuthor)
	}
	if utf8.RuneCountInString(f.Licence) > pack.LongestLicence {
		f.LicenceFault = fmt.Sprintf("Keep the licence under %d letters: its name will do.", pack.LongestLicence)
	}
	return f
}

// tidyLines ends every line as the rest of the program expects it, and takes
// out what cannot be kept: browsers send two signs for a line's end.
func tidyLines(text string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n", "\x00", "").Replace(strings.ToValidUTF8(text, "\uFFFD"))
}

// textFault says why a text cannot even be saved; "": it can.
func textFault(text string) string {
	switch {
	case strings.TrimFunc(text, unicode.IsSpace) == "":
		return "There is no text yet."
	case len(text) > textMost:
		return fmt.Sprintf("The text has %d kB; a module has at most %d kB. Make two of it.", len(text)>>10, textMost>>10)
	}
	return ""
}

// readFiles takes in the pictures that were sent along.
func (f *moduleForm) readFiles(c echo.Context) error {
	for _, h := range filesOf(c, "module_files") {
		body, err := contents(h)
		if err != nil {
			return err
		}
		name := pictureNameOf(h.Filename)
		p, err := pack.Clean(name, body)
		if err != nil {
			f.FilesFault = fmt.Sprintf("%s: %s.", h.Filename, err)
			continue
		}
		f.Files = append(f.Files, p)
	}
	return nil
}

// pictureNameOf makes a name that a text can link to out of what a camera or a
// person called a file.
func pictureNameOf(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	if pack.IsPictureName(name) {
		return name
	}
	name = strings.Trim(notInNames.ReplaceAllString(strings.ToLower(name), "-"), "-.")
	return strings.ReplaceAll(name, "-.", ".")
}

var (
	notInNames   = regexp.MustCompile(`[^a-z0-9._]+`)
	pictureShape = regexp.MustCompile(`^[0-9a-f]{32}$`)
)

// kept are the pictures of the save before that stay.
func (f moduleForm) kept(before []store.ModulePicture) []store.ModulePicture {
	return slices.DeleteFunc(slices.Clone(before), func(p store.ModulePicture) bool {
		return f.Drop[p.Name] || slices.ContainsFunc(f.Files, func(n pack.Picture) bool { return n.Name == p.Name })
	})
}

// pictures are all that the next save has: those kept and those sent along,
// with addresses of their own.
func (f *moduleForm) pictures(before []store.ModulePicture) []store.NewPicture {
	var all []store.NewPicture
	for _, p := range f.kept(before) {
		all = append(all, store.NewPicture{Name: p.Name, ID: p.ID})
	}
	all = append(all, newPictures(f.Files)...)
	if len(all) > picturesMost {
		f.FilesFault = fmt.Sprintf("A module has at most %d pictures.", picturesMost)
	}
	return all
}

// newPictures gives each picture an address that nobody guesses.
func newPictures(files []pack.Picture) []store.NewPicture {
	var all []store.NewPicture
	for _, p := range files {
		all = append(all, store.NewPicture{
			Name: p.Name, ID: newPictureID(), Type: p.Type, Width: p.Width, Height: p.Height, Body: p.Body,
		})
	}
	return all
}

// shown are pictures as a draft shows them.
func shownPictures(all []store.NewPicture) []store.ModulePicture {
	var out []store.ModulePicture
	for _, p := range all {
		out = append(out, store.ModulePicture{Name: p.Name, ID: p.ID})
	}
	return out
}

func (f moduleForm) faulty() bool {
	return f.TextFault != "" || f.AuthorFault != "" || f.LicenceFault != "" || f.FilesFault != ""
}

// moduleNumber reads the number of a module or a save; 0: none.
func moduleNumber(text string) int64 {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 1 || n > 1<<30 {
		return 0
	}
	return n
}
