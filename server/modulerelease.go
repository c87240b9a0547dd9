package server

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/server/store"
)

// postModuleUse puts the newest save in use. An edition that was in use with
// other words gets the next number, because what was given out keeps its own.
func (s *server) postModuleUse(c echo.Context) error {
	m, err := s.ownModule(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	if moduleNumber(c.FormValue("save")) != int64(m.Saves) {
		return s.notReleased(c, m, fmt.Sprintf("Nothing was put in use: save %d is the newest by now. Look at it once more.", m.Saves))
	}
	save, err := s.store.ModuleSave(ctx, m.ID, m.Saves)
	if err != nil {
		return err
	}
	pictures, err := s.store.PicturesOf(ctx, m.ID, m.Saves)
	if err != nil {
		return err
	}
	k, err := s.checkModule(ctx, m, save.Text, pictures)
	if err != nil {
		return err
	}
	if k.Bad > 0 {
		return s.notReleased(c, m, "Nothing was put in use: "+counted(k.Bad, "fault is", "faults are")+" left.")
	}
	text, edition, err := s.freshEdition(ctx, m, save, k.Module)
	if err != nil {
		return err
	}
	said, no := fmt.Sprintf("Edition %d is in use. It can be read and assigned now.", edition), save.No
	if edition != save.Edition {
		k.Module.Version = edition
		next := newSave(text, save.Author, save.Licence, k, keptPictures(pictures))
		if no, err = s.keepSave(c, &m, next); err != nil {
			return err
		}
		said += fmt.Sprintf(" Edition %d was used with other words, so save %d has the new number.", save.Edition, no)
	}
	err = s.store.ReleaseModule(ctx, m.OwnerID, m.ID, no, k.Module.ID, s.now())
	if errors.Is(err, store.ErrTaken) || errors.Is(err, store.ErrChanged) {
		return s.notReleased(c, m, fmt.Sprintf("Nothing was put in use: another module of this school has the id %s. Take another one.", k.Module.ID))
	}
	if err != nil {
		return err
	}
	s.modules.forget()
	s.log.Info("module in use", "module", m.ID, "save", no, "staff", m.OwnerID, "request", requestID(c))
	s.say(c, said)
	return goTo(c, moduleHref(m.ID))
}

func (s *server) notReleased(c echo.Context, m store.Module, why string) error {
	page, err := s.modulePage(c, m)
	if err != nil {
		return err
	}
	page.Fault = why
	return s.render(c, http.StatusUnprocessableEntity, "module", &page)
}

// keptPictures are the pictures of a save for the next one.
func keptPictures(all []store.ModulePicture) []store.NewPicture {
	var out []store.NewPicture
	for _, p := range all {
		out = append(out, store.NewPicture{Name: p.Name, ID: p.ID})
	}
	return out
}

// freshEdition finds the number under which a save can be put in use: its own,
// or the next one that is free where that number was used with other words. It
// gives the text with that number and writes the exercises down.
func (s *server) freshEdition(ctx context.Context, m store.Module, save store.ModuleSave, module *lessons.Module) (text string, edition int, err error) {
	edition = save.Edition
	if edition, err = s.unusedEdition(ctx, m, save); err != nil {
		return "", 0, err
	}
	for {
		text = save.Text
		if edition != save.Edition {
			changed, ok := lessons.WithVersion([]byte(text), edition)
			if !ok {
				return "", 0, fmt.Errorf("module %d, save %d has no line for its version", m.ID, save.No)
			}
			text = string(changed)
		}
		same := true
		for _, ex := range module.Exercises {
			kept, err := s.keptAs(ctx, ex, edition)
			if err != nil {
				return "", 0, err
			}
			same = same && kept
		}
		if same {
			return text, edition, nil
		}
		edition++
	}
}

// unusedEdition is a save's edition, or one above all that were in use where
// that one was in use with another text.
func (s *server) unusedEdition(ctx context.Context, m store.Module, save store.ModuleSave) (int, error) {
	saves, err := s.store.ModuleSaves(ctx, m.OwnerID, m.ID)
	if err != nil {
		return 0, err
	}
	edition, clash := save.Edition, false
	for _, n := range saves {
		if n.ReleasedAt == nil {
			continue
		}
		if n.Edition == save.Edition && n.No != save.No {
			before, err := s.store.ModuleSave(ctx, m.ID, n.No)
			if err != nil {
				return 0, err
			}
			clash = clash || before.Text != save.Text
		}
		edition = max(edition, n.Edition+1)
	}
	if !clash {
		return save.Edition, nil
	}
	return edition, nil
}

// keptAs writes an exercise down as one edition, and says whether it stands
// there like that: another exercise may have had its id and that number.
func (s *server) keptAs(ctx context.Context, ex *grading.Exercise, edition int) (bool, error) {
	spec := writtenOut(ex)
	spec.Version = edition
	text, err := json.Marshal(spec)
	if err != nil {
		return false, fmt.Errorf("write down exercise %s: %w", ex.ID, err)
	}
	kept, err := s.store.KeepExercise(ctx, ex.ID, edition, text)
	if err != nil {
		return false, err
	}
	var back grading.Spec
	if err := json.Unmarshal(kept, &back); err != nil {
		return false, fmt.Errorf("read exercise %s: %w", ex.ID, err)
	}
	again, err := json.Marshal(back)
	if err != nil {
		return false, fmt.Errorf("write down exercise %s: %w", ex.ID, err)
	}
	return bytes.Equal(again, text), nil
}
