package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// ModuleSave is one save of a module.
type ModuleSave struct {
	ModuleID   int64      `db:"module_id"`
	No         int        `db:"no"`
	Text       string     `db:"text"`
	Slug       string     `db:"slug"`
	Title      string     `db:"title"`
	Edition    int        `db:"edition"` // the version in its front matter; 0: none
	Faults     int        `db:"faults"`  // when it was saved
	Author     string     `db:"author"`
	Licence    string     `db:"licence"`
	SavedAt    time.Time  `db:"saved_at"`
	ReleasedAt *time.Time `db:"released_at"` // when it was first put in use
}

const saveColumns = `module_id, no, text, slug, title, edition, faults, author, licence, saved_at, released_at`

// ModulePicture is one picture of a save, without its bytes.
type ModulePicture struct {
	Name   string `db:"name"`
	ID     string `db:"id"`
	Width  int    `db:"width"`
	Height int    `db:"height"`
	Bytes  int    `db:"bytes"`
}

// NewPicture is a picture of a save that is made: one that is kept already, by
// its id, or a new one with that id and its bytes.
type NewPicture struct {
	Name, ID      string
	Type          string // "": kept already
	Width, Height int
	Body          []byte
}

// NewSave is what a save is made of.
type NewSave struct {
	Text, Slug, Title string
	Edition, Faults   int
	Author, Licence   string
	Pictures          []NewPicture
	At                time.Time
}

// AddModule makes a module of its first save and gives its number.
func (s *Store) AddModule(ctx context.Context, owner int64, n NewSave) (int64, error) {
	var id int64
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		var err error
		id, err = addModule(ctx, tx, owner, n)
		return err
	})
	return id, fault("add module", err)
}

func addModule(ctx context.Context, tx pgx.Tx, owner int64, n NewSave) (int64, error) {
	var id int64
	err := tx.QueryRow(ctx, `
		INSERT INTO modules (owner_id, slug, title, state, saves, created_at) VALUES ($1, '', '', 'draft', 0, $2)
		RETURNING id`, owner, n.At).Scan(&id)
	if err != nil {
		return 0, err
	}
	_, err = saveModule(ctx, tx, owner, id, n)
	return id, err
}

// SaveModule adds a save to an author's own module and gives its number.
func (s *Store) SaveModule(ctx context.Context, owner, id int64, n NewSave) (int, error) {
	var no int
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		var err error
		no, err = saveModule(ctx, tx, owner, id, n)
		return err
	})
	return no, fault("save module", err)
}

func saveModule(ctx context.Context, tx pgx.Tx, owner, id int64, n NewSave) (int, error) {
	var no int
	err := tx.QueryRow(ctx, `
		UPDATE modules SET saves = saves + 1, slug = $3, title = $4 WHERE id = $1 AND owner_id = $2
		RETURNING saves`, id, owner, n.Slug, n.Title).Scan(&no)
	if err != nil {
		return 0, err
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO module_saves (module_id, no, text, slug, title, edition, faults, author, licence, saved_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		id, no, n.Text, n.Slug, n.Title, n.Edition, n.Faults, n.Author, n.Licence, n.At)
	if err != nil {
		return 0, err
	}
	return no, savePictures(ctx, tx, id, no, n.Pictures)
}

// savePictures ties pictures to a save. One that is kept already must belong
// to the same module.
func savePictures(ctx context.Context, tx pgx.Tx, id int64, no int, pictures []NewPicture) error {
	for _, p := range pictures {
		if p.Type != "" {
			_, err := tx.Exec(ctx, `INSERT INTO pictures (id, type, width, height, body) VALUES ($1, $2, $3, $4, $5)`,
				p.ID, p.Type, p.Width, p.Height, p.Body)
			if err != nil {
				return err
			}
		}
		tag, err := tx.Exec(ctx, `
			INSERT INTO module_pictures (module_id, save_no, name, picture_id)
			SELECT $1, $2, $3, $4
			WHERE $5 OR EXISTS (SELECT FROM module_pictures WHERE module_id = $1 AND picture_id = $4)`,
			id, no, p.Name, p.ID, p.Type != "")
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return ErrNotFound
		}
	}
	return nil
}

// ModuleSaves gives the saves of an author's own module, the newest first,
// without their texts.
func (s *Store) ModuleSaves(ctx context.Context, owner, id int64) ([]ModuleSave, error) {
	return all[ModuleSave](ctx, s.pool, "module saves", `
		SELECT n.module_id, n.no, '' AS text, n.slug, n.title, n.edition, n.faults, n.author, n.licence, n.saved_at, n.released_at
		FROM module_saves n JOIN modules m ON m.id = n.module_id
		WHERE n.module_id = $1 AND m.owner_id = $2
		ORDER BY n.no DESC`, id, owner)
}

// ModuleSave gives one save of a module, whoever wrote it: callers ask whose
// it is before.
func (s *Store) ModuleSave(ctx context.Context, id int64, no int) (ModuleSave, error) {
	return one[ModuleSave](ctx, s.pool, "module save", `SELECT `+saveColumns+` FROM module_saves WHERE module_id = $1 AND no = $2`, id, no)
}

// PicturesOf gives the pictures of a save by name.
func (s *Store) PicturesOf(ctx context.Context, id int64, no int) ([]ModulePicture, error) {
	return all[ModulePicture](ctx, s.pool, "pictures", `
		SELECT mp.name, p.id, p.width, p.height, length(p.body)::int AS bytes
		FROM module_pictures mp JOIN pictures p ON p.id = mp.picture_id
		WHERE mp.module_id = $1 AND mp.save_no = $2
		ORDER BY mp.name`, id, no)
}

// Picture is a picture with its bytes.
type Picture struct {
	Type string `db:"type"`
	Body []byte `db:"body"`
}

// NamedPicture is a picture of a save with its bytes.
type NamedPicture struct {
	Name   string `db:"name"`
	Type   string `db:"type"`
	Width  int    `db:"width"`
	Height int    `db:"height"`
	Body   []byte `db:"body"`
}

// PictureBodies gives the pictures of a save with their bytes, by name.
func (s *Store) PictureBodies(ctx context.Context, id int64, no int) ([]NamedPicture, error) {
	return all[NamedPicture](ctx, s.pool, "picture bodies", `
		SELECT mp.name, p.type, p.width, p.height, p.body
		FROM module_pictures mp JOIN pictures p ON p.id = mp.picture_id
		WHERE mp.module_id = $1 AND mp.save_no = $2
		ORDER BY mp.name`, id, no)
}

// Picture gives a picture: to everybody where a save that is or was in use
// shows it, else to its author. staff 0 is somebody who is no staff.
func (s *Store) Picture(ctx context.Context, picture string, staff int64) (Picture, error) {
	return one[Picture](ctx, s.pool, "picture", `
		SELECT p.type, p.body FROM pictures p
		WHERE p.id = $1 AND EXISTS (
			SELECT FROM module_pictures mp
			JOIN modules m ON m.id = mp.module_id
			JOIN module_saves n ON n.module_id = mp.module_id AND n.no = mp.save_no
			WHERE mp.picture_id = p.id AND (m.owner_id = $2 OR n.released_at IS NOT NULL))`, picture, staff)
}
