package server

import (
	"context"
	"fmt"
	"strings"
	"time"

	"arrisbook/lessons/pack"
	"arrisbook/server/store"
)

// makeModules gives the instructor a module in use with a picture, and another
// instructor a draft; either has sent a file in.
func (s *school) makeModules() {
	s.picture = strings.Repeat("0f", 16)
	s.own = s.module(s.instructor, "own-one", store.NewPicture{
		Name: "gauge.png", ID: s.picture, Type: "image/png", Width: 30, Height: 20, Body: gaugePicture(s.t)})
	s.must(s.Store.ReleaseModule(context.Background(), s.instructor.ID, s.own, 1, "own-one", s.Now()))
	s.otherOwn = s.module(s.otherStaff, "own-two")
	s.file, s.otherFile = s.sendFile(s.instructor), s.sendFile(s.otherStaff)
}

// textNamed is a sound module of an id; its exercise has the same.
func textNamed(id string) string {
	return strings.NewReplacer("id: marking-gauge", "id: "+id, "id: gauge-line", "id: "+id+"-line").Replace(gaugeText)
}

// module makes a module of one save.
func (s *school) module(by store.Staff, id string, pictures ...store.NewPicture) int64 {
	s.t.Helper()
	text := textNamed(id)
	if len(pictures) == 0 {
		text = strings.Replace(text, "![A gauge on its edge](gauge.png)", "", 1)
	}
	no, err := s.Store.AddModule(context.Background(), by.ID, store.NewSave{
		Text: text, Slug: id, Title: "The marking gauge", Edition: 1, Pictures: pictures, At: s.Now()})
	s.must(err)
	return no
}

// sendFile sends in a module that nobody has yet.
func (s *school) sendFile(by store.Staff) int64 {
	s.t.Helper()
	var b strings.Builder
	text := strings.Replace(textNamed("sent-"+s.word()), "![A gauge on its edge](gauge.png)", "", 1)
	s.must(pack.WriteModule(&b, pack.Module{ID: "sent", Text: []byte(text)}))
	id, err := s.Store.KeepUpload(context.Background(), by.ID, "sent.zip", []byte(b.String()), s.Now(), s.Now().Add(-time.Hour))
	s.must(err)
	return id
}

func moduleFields(s *school) (made, []string) {
	return nil, []string{"module_text", textNamed("text-" + s.word()), "module_author", "Ada Test", "module_licence", "CC0", "module_from", "1", "do", "save"}
}

// newOwn makes a module of the instructor's that passes.
func (s *school) newOwn() (made, int64) {
	id := s.module(s.instructor, "new-"+s.word())
	return made{"own": fmt.Sprint(id)}, id
}

func toUse(s *school) (made, []string) {
	params, _ := s.newOwn()
	return params, []string{"save", "1"}
}

func used(s *school) (made, []string) {
	params, id := s.newOwn()
	s.must(s.Store.ReleaseModule(context.Background(), s.instructor.ID, id, 1, "used-"+s.word(), s.Now()))
	return params, nil
}

func tried(*school) (made, []string) {
	return nil, []string{"exercise", "own-one-line", "units", "mm", "seed", "2", "n-gauge_line", "12.5"}
}

func toTakeIn(s *school) (made, []string) {
	id := s.sendFile(s.instructor)
	up, err := s.Store.Upload(context.Background(), s.instructor.ID, id)
	s.must(err)
	file, _ := pack.Read(up.Name, up.Body)
	plan, err := s.Server.planImport(context.Background(), s.instructor.ID, file)
	s.must(err)
	return made{"upload": fmt.Sprint(id)}, []string{"print", plan.print()}
}

func takenIn(s *school) (made, []string) {
	id, _, _, err := s.Store.Import(context.Background(), store.NewImport{
		Staff: s.instructor.ID, Upload: s.sendFile(s.instructor), At: s.Now(),
		Modules: []store.ImportedModule{{Save: store.NewSave{Text: "x", Slug: "x-" + s.word(), Title: "X", At: s.Now()}}},
	})
	s.must(err)
	return made{"import": fmt.Sprint(id)}, nil
}
