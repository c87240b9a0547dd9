package store_test

import (
	"errors"
	"reflect"
	"testing"
	"time"

	"arrisbook/server/store"
)

func saveOf(slug, text string, pictures ...store.NewPicture) store.NewSave {
	return store.NewSave{Text: text, Slug: slug, Title: "Title of " + slug, Edition: 1, Author: "A", Licence: "L", Pictures: pictures, At: opening}
}

var dot = store.NewPicture{Name: "dot.png", ID: "p1", Type: "image/png", Width: 1, Height: 1, Body: []byte("dot")}

// other is another instructor of the school.
func (s shop) other() store.Staff {
	s.t.Helper()
	p, err := s.AddStaff(s.t.Context(), store.NewStaff{Email: "bela@shop.example", Name: "Bela", PasswordHash: "-", MayTeach: true, At: opening})
	if err != nil {
		s.t.Fatal(err)
	}
	return p
}

func wantErr(t *testing.T, what string, got, want error) {
	t.Helper()
	if !errors.Is(got, want) {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

// Every save is kept, belongs to its author alone, and carries its pictures on.
func TestModuleSavesAreKept(t *testing.T) {
	t.Parallel()
	s, ctx := newShop(t, 1), t.Context()
	bela := s.other()
	id, err := s.AddModule(ctx, s.staff.ID, saveOf("a", "first", dot))
	if err != nil {
		t.Fatal(err)
	}
	no, err := s.SaveModule(ctx, s.staff.ID, id, saveOf("b", "second", store.NewPicture{Name: "dot.png", ID: "p1"}))
	if err != nil || no != 2 {
		t.Fatalf("SaveModule = %d, %v, want 2", no, err)
	}
	first, err := s.ModuleSave(ctx, id, 1)
	if err != nil || first.Text != "first" {
		t.Errorf("ModuleSave(1) = %+v, %v, want the first text", first, err)
	}
	pictures, err := s.PicturesOf(ctx, id, 2)
	if err != nil || !reflect.DeepEqual(pictures, []store.ModulePicture{{Name: "dot.png", ID: "p1", Width: 1, Height: 1, Bytes: 3}}) {
		t.Errorf("PicturesOf(2) = %+v, %v, want the dot", pictures, err)
	}
	m, err := s.OwnModule(ctx, s.staff.ID, id)
	if err != nil || m.Slug != "b" || m.Saves != 2 || m.State != store.ModuleDraft || m.Released != nil {
		t.Errorf("OwnModule = %+v, %v, want a draft of two saves", m, err)
	}
	_, err = s.OwnModule(ctx, bela.ID, id)
	wantErr(t, "OwnModule of somebody else", err, store.ErrNotFound)
	_, err = s.SaveModule(ctx, bela.ID, id, saveOf("b", "mine"))
	wantErr(t, "SaveModule of somebody else", err, store.ErrNotFound)
	stolen, err := s.AddModule(ctx, bela.ID, saveOf("c", "x", store.NewPicture{Name: "dot.png", ID: "p1"}))
	wantErr(t, "a picture of somebody else's module", err, store.ErrNotFound)
	_, err = s.OwnModule(ctx, bela.ID, stolen)
	wantErr(t, "what was broken off", err, store.ErrNotFound)
}

// A picture is seen by its author, and by others once its save was in use.
func TestPicturesShowWithTheirModule(t *testing.T) {
	t.Parallel()
	s, ctx := newShop(t, 1), t.Context()
	id, err := s.AddModule(ctx, s.staff.ID, saveOf("a", "first", dot))
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Picture(ctx, "p1", s.staff.ID)
	if err != nil || string(got.Body) != "dot" {
		t.Errorf("Picture for its author = %+v, %v", got, err)
	}
	_, err = s.Picture(ctx, "p1", 0)
	wantErr(t, "a draft's picture for others", err, store.ErrNotFound)
	if err := s.ReleaseModule(ctx, s.staff.ID, id, 1, "a", opening); err != nil {
		t.Fatal(err)
	}
	if _, err = s.Picture(ctx, "p1", 0); err != nil {
		t.Errorf("a picture in use for others = %v", err)
	}
}

// An id is one module's for good, and a module has one id.
func TestReleaseKeepsIDs(t *testing.T) {
	t.Parallel()
	s, ctx := newShop(t, 1), t.Context()
	bela := s.other()
	id, err := s.AddModule(ctx, s.staff.ID, saveOf("a", "first"))
	if err != nil {
		t.Fatal(err)
	}
	second, err := s.AddModule(ctx, bela.ID, saveOf("a", "second"))
	if err != nil {
		t.Fatal(err)
	}
	wantErr(t, "ReleaseModule", s.ReleaseModule(ctx, s.staff.ID, id, 1, "a", opening), nil)
	wantErr(t, "ReleaseModule of a taken id", s.ReleaseModule(ctx, bela.ID, second, 1, "a", opening), store.ErrTaken)
	wantErr(t, "ReleaseModule under another id", s.ReleaseModule(ctx, s.staff.ID, id, 1, "b", opening), store.ErrChanged)
	wantErr(t, "ReleaseModule of no such save", s.ReleaseModule(ctx, s.staff.ID, id, 2, "a", opening), store.ErrChanged)
	wantErr(t, "RetireModule of somebody else", s.RetireModule(ctx, bela.ID, id), store.ErrChanged)
	wantErr(t, "RetireModule", s.RetireModule(ctx, s.staff.ID, id), nil)
	inUse, err := s.ModulesInUse(ctx)
	if err != nil || len(inUse) != 0 {
		t.Errorf("ModulesInUse = %v, %v, want none", inUse, err)
	}
	wantErr(t, "ReleaseModule of a retired one's id", s.ReleaseModule(ctx, bela.ID, second, 1, "a", opening), store.ErrTaken)
	m, err := s.PublicModule(ctx, "a", 0)
	if err != nil || m.ID != id || m.State != store.ModuleRetired {
		t.Errorf("PublicModule = %+v, %v, want the retired module", m, err)
	}
	_, err = s.PublicModule(ctx, "a", 2)
	wantErr(t, "PublicModule of no such edition", err, store.ErrNotFound)
}

// upload sends a file in and gives its number.
func (s shop) upload() int64 {
	s.t.Helper()
	id, err := s.KeepUpload(s.t.Context(), s.staff.ID, "a.zip", []byte("zip"), opening, opening.Add(-24*time.Hour))
	if err != nil {
		s.t.Fatal(err)
	}
	return id
}

func (s shop) course() *store.NewCourse {
	return &store.NewCourse{
		Settings: store.ClassSettings{Name: "Next year", Zone: "UTC", Units: "mm", Projection: "first", FitWord: "tight", LengthStep: 0.1, AngleStep: 0.1},
		Code:     "NEXT",
		Plan:     []store.Assignment{{Exercise: "e", Version: 1, Title: "First", OpensAt: opening, Release: store.ReleaseByHand}},
	}
}

// An import is one thing: it is added whole, and taken back whole.
func TestImportIsTakenBack(t *testing.T) {
	t.Parallel()
	s, ctx := newShop(t, 1), t.Context()
	old, err := s.AddModule(ctx, s.staff.ID, saveOf("old", "first"))
	if err != nil {
		t.Fatal(err)
	}
	wantErr(t, "ReleaseModule", s.ReleaseModule(ctx, s.staff.ID, old, 1, "old", opening), nil)
	before, err := s.ModulesOf(ctx, s.staff.ID)
	if err != nil {
		t.Fatal(err)
	}
	upload := s.upload()
	add := store.NewImport{Staff: s.staff.ID, Upload: upload, Course: s.course(), At: opening, Modules: []store.ImportedModule{
		{Save: saveOf("new", "text", dot), Release: true}, {Module: old, Save: saveOf("old", "other text"), Release: true},
	}}
	id, class, modules, err := s.Import(ctx, add)
	if err != nil || class == 0 || len(modules) != 2 || modules[1] != old {
		t.Fatalf("Import = %d, %d, %v, %v", id, class, modules, err)
	}
	_, _, _, err = s.Import(ctx, add)
	wantErr(t, "Import of the same file again", err, store.ErrChanged)
	plan, err := s.Assignments(ctx, class)
	if err != nil || len(plan) != 1 || plan[0].Title != "First" || plan[0].CreatedBy != s.staff.ID {
		t.Errorf("Assignments = %+v, %v, want the plan", plan, err)
	}
	inUse, err := s.ModulesInUse(ctx)
	if err != nil || len(inUse) != 2 {
		t.Errorf("ModulesInUse = %+v, %v, want two", inUse, err)
	}
	wantErr(t, "UndoModuleImport of somebody else", s.UndoModuleImport(ctx, s.other().ID, id, opening.Add(-time.Hour), opening), store.ErrNotFound)
	wantErr(t, "UndoModuleImport too late", s.UndoModuleImport(ctx, s.staff.ID, id, opening, opening), store.ErrChanged)
	wantErr(t, "UndoModuleImport", s.UndoModuleImport(ctx, s.staff.ID, id, opening.Add(-time.Hour), opening), nil)
	after, err := s.ModulesOf(ctx, s.staff.ID)
	if err != nil || !reflect.DeepEqual(after, before) {
		t.Errorf("modules after the undo = %+v, %v, want %+v", after, err, before)
	}
	_, err = s.ClassByID(ctx, class)
	wantErr(t, "the class after the undo", err, store.ErrNotFound)
	_, err = s.Picture(ctx, "p1", s.staff.ID)
	wantErr(t, "the picture after the undo", err, store.ErrNotFound)
	wantErr(t, "UndoModuleImport twice", s.UndoModuleImport(ctx, s.staff.ID, id, opening.Add(-time.Hour), opening), store.ErrChanged)
}

// What others lean on by now is not taken back.
func TestImportInUseStays(t *testing.T) {
	t.Parallel()
	s, ctx := newShop(t, 1), t.Context()
	cases := []struct {
		name string
		then func(class, module int64) error
	}{
		{"somebody is in the class", func(class, _ int64) error {
			_, err := s.AddStudents(ctx, class, s.staff.ID, opening, func([]store.Student) ([]store.NewStudent, error) {
				return []store.NewStudent{{Name: "W", Bench: 1}}, nil
			})
			return err
		}},
		{"the module was saved again", func(_, module int64) error {
			_, err := s.SaveModule(ctx, s.staff.ID, module, saveOf("x", "more"))
			return err
		}},
		{"an exercise of it is assigned", func(_, module int64) error {
			save, err := s.ModuleSave(ctx, module, 1)
			if err != nil {
				return err
			}
			if _, err := s.KeepExercise(ctx, "of-"+save.Slug, 1, []byte(`{"module":"`+save.Slug+`"}`)); err != nil {
				return err
			}
			_, err = s.CreateAssignment(ctx, store.Assignment{ClassID: s.class.ID, Exercise: "of-" + save.Slug, Version: 1, Title: "T", OpensAt: opening, Release: store.ReleaseByHand, CreatedBy: s.staff.ID, CreatedAt: opening}, nil)
			return err
		}},
	}
	for i, c := range cases {
		course := s.course()
		course.Code = c.name[:8]
		id, class, modules, err := s.Import(ctx, store.NewImport{Staff: s.staff.ID, Upload: s.upload(), Course: course, At: opening,
			Modules: []store.ImportedModule{{Save: saveOf([]string{"m0", "m1", "m2"}[i], "text"), Release: true}}})
		if err != nil {
			t.Fatal(err)
		}
		if err := c.then(class, modules[0]); err != nil {
			t.Fatal(err)
		}
		wantErr(t, "UndoModuleImport where "+c.name, s.UndoModuleImport(ctx, s.staff.ID, id, opening.Add(-time.Hour), opening), store.ErrChanged)
		if _, err := s.ClassByID(ctx, class); err != nil {
			t.Errorf("%s: the class is gone all the same: %v", c.name, err)
		}
	}
}

// Files wait a day for a yes, and nobody fills the disk with them.
func TestUploadsGo(t *testing.T) {
	t.Parallel()
	s, ctx := newShop(t, 1), t.Context()
	var ids []int64
	for range 6 {
		ids = append(ids, s.upload())
	}
	for i, id := range ids {
		_, err := s.Upload(ctx, s.staff.ID, id)
		if want := i >= 2; (err == nil) != want {
			t.Errorf("Upload(%d of 6) = %v, want it kept: %v", i+1, err, want)
		}
	}
	_, err := s.Upload(ctx, s.other().ID, ids[5])
	wantErr(t, "Upload for somebody else", err, store.ErrNotFound)
	tomorrow := opening.Add(25 * time.Hour)
	if _, err := s.KeepUpload(ctx, s.staff.ID, "a.zip", []byte("zip"), tomorrow, tomorrow.Add(-24*time.Hour)); err != nil {
		t.Fatal(err)
	}
	_, err = s.Upload(ctx, s.staff.ID, ids[5])
	wantErr(t, "Upload after a day", err, store.ErrNotFound)
}
