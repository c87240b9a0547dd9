package server

import (
	"context"
	_ "embed"
	"fmt"

	"arrisbook/server/store"
)

// demoModule is a module as an instructor may write it, for the demo.
//
//go:embed demomodule.md
var demoModule string

// ownModule puts a module of the instructor's own in use.
func (d *demoRun) ownModule(ctx context.Context) error {
	k, err := d.checkModule(ctx, store.Module{}, demoModule, nil)
	if err == nil && k.Bad > 0 {
		err = fmt.Errorf("%s: %+v", k.Says(), k.Faults)
	}
	if err != nil {
		return fmt.Errorf("the demo's own module: %w", err)
	}
	n := newSave(demoModule, d.instructor.Name, "free to use in any shop class", k, nil)
	n.At = d.now().AddDate(0, 0, -30)
	id, err := d.store.AddModule(ctx, d.instructor.ID, n)
	if err != nil {
		return err
	}
	return d.store.ReleaseModule(ctx, d.instructor.ID, id, 1, n.Slug, n.At)
}
