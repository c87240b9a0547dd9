package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// The states of an instructor's own module.
const (
	ModuleDraft   = "draft"
	ModuleInUse   = "in use"
	ModuleRetired = "retired"
)

// Module is a lesson module that an instructor writes.
type Module struct {
	ID      int64  `db:"id"`
	OwnerID int64  `db:"owner_id"`
	Slug    string `db:"slug"`  // of the newest save; "" where its text does not say
	Title   string `db:"title"` // likewise
	State   string `db:"state"`
	Saves   int    `db:"saves"` // number of the newest
	// Released is the save that is or was in use; nil: none ever was.
	Released *int `db:"released"`
	// PublicSlug is the id under which everybody finds it; nil like Released.
	PublicSlug *string   `db:"public_slug"`
	CreatedAt  time.Time `db:"created_at"`
}

const moduleColumns = `id, owner_id, slug, title, state, saves, released, public_slug, created_at`

// ModuleLine is a module in its author's list.
type ModuleLine struct {
	Module
	SavedAt time.Time `db:"saved_at"` // the newest
	Faults  int       `db:"faults"`   // of the newest
	Edition int       `db:"edition"`  // of the one that is or was in use; 0: none
}

// ModulesOf gives a person's own modules, the last saved first.
func (s *Store) ModulesOf(ctx context.Context, owner int64) ([]ModuleLine, error) {
	return all[ModuleLine](ctx, s.pool, "modules", `
		SELECT `+moduleColumnsOf("m")+`, n.saved_at, n.faults, coalesce(r.edition, 0) AS edition
		FROM modules m
		JOIN module_saves n ON n.module_id = m.id AND n.no = m.saves
		LEFT JOIN module_saves r ON r.module_id = m.id AND r.no = m.released
		WHERE m.owner_id = $1
		ORDER BY n.saved_at DESC, m.id DESC`, owner)
}

// moduleColumnsOf are the columns of a module under another name of its table.
func moduleColumnsOf(m string) string {
	return m + `.id, ` + m + `.owner_id, ` + m + `.slug, ` + m + `.title, ` + m + `.state, ` + m + `.saves, ` +
		m + `.released, ` + m + `.public_slug, ` + m + `.created_at`
}

// OwnModule gives one module of its author; ErrNotFound for everybody else.
func (s *Store) OwnModule(ctx context.Context, owner, id int64) (Module, error) {
	return one[Module](ctx, s.pool, "module", `SELECT `+moduleColumns+` FROM modules WHERE id = $1 AND owner_id = $2`, id, owner)
}

// OwnModuleNamed gives the module of an author that is found under an id, or a
// draft whose newest save has it; ErrNotFound for none.
func (s *Store) OwnModuleNamed(ctx context.Context, owner int64, slug string) (Module, error) {
	return one[Module](ctx, s.pool, "module by id", `
		SELECT `+moduleColumns+` FROM modules
		WHERE owner_id = $1 AND (public_slug = $2 OR public_slug IS NULL AND slug = $2)
		ORDER BY public_slug NULLS LAST, id DESC LIMIT 1`, owner, slug)
}

// PublicModule is one save of a module that everybody may read.
type PublicModule struct {
	ID      int64  `db:"id"`
	Slug    string `db:"slug"`
	Save    int    `db:"save"`
	State   string `db:"state"`
	OwnerID int64  `db:"owner_id"`
}

// ModulesInUse gives the modules that can be assigned, with the save in use,
// in the order of their titles.
func (s *Store) ModulesInUse(ctx context.Context) ([]PublicModule, error) {
	return all[PublicModule](ctx, s.pool, "modules in use", `
		SELECT m.id, m.public_slug AS slug, m.released AS save, m.state, m.owner_id
		FROM modules m JOIN module_saves r ON r.module_id = m.id AND r.no = m.released
		WHERE m.state = 'in use'
		ORDER BY r.title, m.id`)
}

// PublicModule finds what everybody reads under an id: the save that is in
// use, or was when the module was retired. With an edition above 0 it is the
// last save that was in use as that edition. ErrNotFound for none.
func (s *Store) PublicModule(ctx context.Context, slug string, edition int) (PublicModule, error) {
	if edition > 0 {
		return one[PublicModule](ctx, s.pool, "edition of a module", `
			SELECT m.id, m.public_slug AS slug, r.no AS save, m.state, m.owner_id
			FROM modules m JOIN module_saves r ON r.module_id = m.id AND r.edition = $2 AND r.released_at IS NOT NULL
			WHERE m.public_slug = $1
			ORDER BY r.no DESC LIMIT 1`, slug, edition)
	}
	return one[PublicModule](ctx, s.pool, "public module", `
		SELECT id, public_slug AS slug, released AS save, state, owner_id
		FROM modules WHERE public_slug = $1 AND released IS NOT NULL`, slug)
}

// ReleaseModule puts a save in use, under an id that the module keeps from
// then on. ErrTaken: another module has that id; ErrChanged: the module has
// another one already.
func (s *Store) ReleaseModule(ctx context.Context, owner, id int64, save int, slug string, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		tag, err := tx.Exec(ctx, `
			UPDATE modules SET state = 'in use', released = $3, public_slug = $4
			WHERE id = $1 AND owner_id = $2 AND (public_slug IS NULL OR public_slug = $4) AND saves >= $3`, id, owner, save, slug)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return ErrChanged
		}
		_, err = tx.Exec(ctx, `
			UPDATE module_saves SET released_at = coalesce(released_at, $3) WHERE module_id = $1 AND no = $2`, id, save, at)
		return err
	})
	return fault("release module", err)
}

// RetireModule takes a module out of use: nothing new is made of it.
func (s *Store) RetireModule(ctx context.Context, owner, id int64) error {
	tag, err := s.pool.Exec(ctx, `
		UPDATE modules SET state = 'retired' WHERE id = $1 AND owner_id = $2 AND state <> 'retired'`, id, owner)
	if err == nil && tag.RowsAffected() == 0 {
		err = ErrChanged
	}
	return fault("retire module", err)
}
