package server

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

// moduleShelf keeps instructors' own modules as they are read from their
// texts, each save once: reading one takes a thousand times as long as sending
// it. A save never changes, so nothing here goes stale; when it is full it
// begins anew.
type moduleShelf struct {
	mu    sync.Mutex
	built map[saveKey]shelvedModule
	// shown are the pages that everybody got last, by the module's id.
	shown map[string]shownPage
}

// shownPage is a page with the time until which it is sent without asking.
type shownPage struct {
	page  packedPage
	until time.Time
}

// shownFor is how long the edition in use is sent without asking the database
// which one that is. This server forgets at once when an edition is put in use;
// the time is for what another server of the same database does.
const shownFor = 2 * time.Second

type saveKey struct {
	module int64
	save   int
}

// shelvedModule is a module with its page, ready to send.
type shelvedModule struct {
	module *lessons.Module
	page   packedPage
}

// mostShelved is how many saves are kept: a school's modules in use several
// times over, at some 100 kB each.
const mostShelved = 300

func (m *moduleShelf) get(k saveKey) (shelvedModule, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	s, ok := m.built[k]
	return s, ok
}

func (m *moduleShelf) put(k saveKey, s shelvedModule) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.built == nil || len(m.built) >= mostShelved {
		m.built = map[saveKey]shelvedModule{}
	}
	m.built[k] = s
}

// show keeps the page of a module's edition in use for those who ask next.
func (m *moduleShelf) show(slug string, page packedPage, now time.Time) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.shown == nil || len(m.shown) >= mostShelved {
		m.shown = map[string]shownPage{}
	}
	m.shown[slug] = shownPage{page, now.Add(shownFor)}
}

// ready gives a page that was shown just now.
func (m *moduleShelf) ready(slug string, now time.Time) (packedPage, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	s, ok := m.shown[slug]
	return s.page, ok && now.Before(s.until)
}

// forget is called when another edition may be in use.
func (m *moduleShelf) forget() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.shown = nil
}

// library is every lesson there is: those that come with the program, then
// instructors' own that are in use. One that has an id of the program's own
// stays out, whatever it was before that came.
func (s *server) library(ctx context.Context) (*lessons.Library, error) {
	inUse, err := s.store.ModulesInUse(ctx)
	if err != nil || len(inUse) == 0 {
		return s.cfg.Lessons, err
	}
	lib := &lessons.Library{Modules: slices.Clone(s.cfg.Lessons.Modules)}
	for _, p := range inUse {
		own, err := s.shelved(ctx, p.ID, p.Save)
		if err != nil {
			return nil, err
		}
		if !shadows(lib, own.module) {
			lib.Modules = append(lib.Modules, own.module)
		}
	}
	return lib, nil
}

// shadows says whether a module has an id, or an exercise, that is had already.
func shadows(lib *lessons.Library, m *lessons.Module) bool {
	if _, had := lib.Module(m.ID); had {
		return true
	}
	return slices.ContainsFunc(m.Exercises, func(ex *grading.Exercise) bool {
		_, had := lib.Exercise(ex.ID)
		return had
	})
}

// shelved gives a save of a module as it was read, with its page.
func (s *server) shelved(ctx context.Context, module int64, no int) (shelvedModule, error) {
	key := saveKey{module, no}
	if own, ok := s.modules.get(key); ok {
		return own, nil
	}
	save, err := s.store.ModuleSave(ctx, module, no)
	if err != nil {
		return shelvedModule{}, err
	}
	pictures, err := s.store.PicturesOf(ctx, module, no)
	if err != nil {
		return shelvedModule{}, err
	}
	m, _ := draftOf(save.Text, pictures).Read()
	if m == nil {
		m = &lessons.Module{Title: save.Title}
	}
	// What the text says by a later version of the program does not matter.
	m.ID, m.Version = save.Slug, save.Edition
	own := shelvedModule{module: m}
	if own.page, err = s.packLesson(ctx, m, creditOf(save)); err != nil {
		return shelvedModule{}, err
	}
	s.modules.put(key, own)
	return own, nil
}

// moduleFile is what faults call the text of a module.
const moduleFile = "module.md"

// draftOf is a text with its pictures as lessons read it.
func draftOf(text string, pictures []store.ModulePicture) lessons.Draft {
	return lessons.Draft{File: moduleFile, Text: []byte(text), Lessons: "/lessons/", Picture: func(name string) (string, bool) {
		i := slices.IndexFunc(pictures, func(p store.ModulePicture) bool { return p.Name == name })
		if i < 0 {
			return "", false
		}
		return "/pictures/" + pictures[i].ID, true
	}}
}

// creditOf says who wrote a save and how it may be used; "": it does not say.
func creditOf(save store.ModuleSave) string {
	var parts []string
	if save.Author != "" {
		parts = append(parts, "Written by "+save.Author+stop(save.Author))
	}
	if save.Licence != "" {
		parts = append(parts, "Licence: "+save.Licence+stop(save.Licence))
	}
	return strings.Join(parts, " ")
}

// lessonHref is where the lesson of an exercise stands. For an instructor's own
// module that is the edition which the exercise was given out from.
func (s *server) lessonHref(ex *grading.Exercise) string {
	if _, shipped := s.cfg.Lessons.Module(ex.Module); shipped {
		return "/lessons/" + ex.Module
	}
	return "/lessons/" + ex.Module + "?edition=" + strconv.Itoa(ex.Version)
}

// lessonLink leads from an exercise to the lesson that teaches it; ok is false
// where there is none by now.
func (s *server) lessonLink(ctx context.Context, ex *grading.Exercise) (link Link, ok bool, err error) {
	link = Link{Text: "Lesson", Href: s.lessonHref(ex)}
	if _, shipped := s.cfg.Lessons.Module(ex.Module); shipped {
		return link, true, nil
	}
	_, err = s.store.PublicModule(ctx, ex.Module, ex.Version)
	if errors.Is(err, store.ErrNotFound) {
		return link, false, nil
	}
	return link, err == nil, err
}
