package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// Upload is a file that somebody sent in and that waits for a yes.
type Upload struct {
	Name string `db:"name"`
	Body []byte `db:"body"`
}

// uploadsKept is how many files of one person wait for a yes.
const uploadsKept = 4

// KeepUpload keeps a file for a day and gives its number. Older files of
// anybody go, and so do this person's but for the last few.
func (s *Store) KeepUpload(ctx context.Context, staff int64, name string, body []byte, at, forget time.Time) (int64, error) {
	var id int64
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `
			DELETE FROM uploads WHERE sent_at < $1 OR staff_id = $2 AND id NOT IN (
				SELECT id FROM uploads WHERE staff_id = $2 ORDER BY id DESC LIMIT $3)`, forget, staff, uploadsKept-1)
		if err != nil {
			return err
		}
		return tx.QueryRow(ctx, `
			INSERT INTO uploads (staff_id, name, body, sent_at) VALUES ($1, $2, $3, $4) RETURNING id`, staff, name, body, at).Scan(&id)
	})
	return id, fault("keep upload", err)
}

// Upload gives a file to whoever sent it in; ErrNotFound to everybody else.
func (s *Store) Upload(ctx context.Context, staff, id int64) (Upload, error) {
	return one[Upload](ctx, s.pool, "upload", `SELECT name, body FROM uploads WHERE id = $1 AND staff_id = $2`, id, staff)
}

// ImportedModule is a module as an import adds it: a new one, or a further
// save of one of the person's own.
type ImportedModule struct {
	Module  int64 // 0: a new one
	Save    NewSave
	Release bool // put in use at once, under the id of the save
}

// NewImport is what an import adds, in one go.
type NewImport struct {
	Staff   int64
	Upload  int64 // which goes
	Modules []ImportedModule
	// Course makes a class with its plan; nil: none.
	Course *NewCourse
	At     time.Time
}

// NewCourse is a class with its plan.
type NewCourse struct {
	Settings ClassSettings
	Code     string
	Plan     []Assignment // without class and number, in order
}

// Import adds what a file holds and gives the number of the import, the class
// that it made (0: none), and the modules. ErrTaken: an id or the class's code
// is had by now; ErrChanged: the file was taken in already, or a module has
// changed hands.
func (s *Store) Import(ctx context.Context, n NewImport) (id, class int64, modules []int64, err error) {
	err = s.InTx(ctx, func(tx pgx.Tx) error {
		id, class, modules = 0, 0, nil
		tag, err := tx.Exec(ctx, `DELETE FROM uploads WHERE id = $1 AND staff_id = $2`, n.Upload, n.Staff)
		if err == nil && tag.RowsAffected() == 0 {
			err = ErrChanged
		}
		if err != nil {
			return err
		}
		if n.Course != nil {
			if class, err = addCourse(ctx, tx, n.Staff, *n.Course, n.At); err != nil {
				return err
			}
		}
		err = tx.QueryRow(ctx, `
			INSERT INTO module_imports (staff_id, made_class_id, at) VALUES ($1, nullif($2, 0), $3) RETURNING id`,
			n.Staff, class, n.At).Scan(&id)
		for _, m := range n.Modules {
			if err != nil {
				return err
			}
			var module int64
			module, err = importModule(ctx, tx, id, n.Staff, m)
			modules = append(modules, module)
		}
		return err
	})
	return id, class, modules, fault("import", err)
}

// addCourse makes a class with its plan. Nobody is in it yet, so no sheets are
// handed out.
func addCourse(ctx context.Context, tx pgx.Tx, staff int64, c NewCourse, at time.Time) (int64, error) {
	class, err := addClass(ctx, tx, c.Settings, c.Code, staff, at)
	if err != nil {
		return 0, err
	}
	for _, a := range c.Plan {
		a.ClassID, a.CreatedBy, a.CreatedAt = class.ID, staff, at
		if _, err := insertAssignment(ctx, tx, a); err != nil {
			return 0, err
		}
	}
	return class.ID, nil
}

// importModule adds one module, and writes down how it stood before.
func importModule(ctx context.Context, tx pgx.Tx, imported, staff int64, m ImportedModule) (int64, error) {
	var state *string
	var released *int
	id, no := m.Module, 1
	var err error
	if id == 0 {
		id, err = addModule(ctx, tx, staff, m.Save)
	} else {
		err = tx.QueryRow(ctx, `SELECT state, released FROM modules WHERE id = $1 AND owner_id = $2 FOR UPDATE`, id, staff).Scan(&state, &released)
		if err == nil {
			no, err = saveModule(ctx, tx, staff, id, m.Save)
		}
	}
	if err != nil {
		return 0, err
	}
	if m.Release {
		_, err = tx.Exec(ctx, `UPDATE modules SET state = 'in use', released = $2, public_slug = $3 WHERE id = $1`, id, no, m.Save.Slug)
		if err == nil {
			_, err = tx.Exec(ctx, `UPDATE module_saves SET released_at = $3 WHERE module_id = $1 AND no = $2`, id, no, m.Save.At)
		}
		if err != nil {
			return 0, err
		}
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO module_import_saves (import_id, module_id, save_no, state_before, released_before) VALUES ($1, $2, $3, $4, $5)`,
		imported, id, no, state, released)
	return id, err
}

// ModuleImport is one taking in of a file.
type ModuleImport struct {
	ID     int64     `db:"id"`
	At     time.Time `db:"at"`
	Titles []string  `db:"titles"` // of the modules
	Class  *string   `db:"class"`  // name of the class that it made
}

// ModuleImports gives what a person has taken in since a time and not taken
// back, the newest first, eight at most.
func (s *Store) ModuleImports(ctx context.Context, staff int64, since time.Time) ([]ModuleImport, error) {
	return all[ModuleImport](ctx, s.pool, "module imports", `
		SELECT i.id, i.at, c.name AS class,
		       ARRAY(SELECT n.title FROM module_import_saves s JOIN module_saves n ON n.module_id = s.module_id AND n.no = s.save_no
		             WHERE s.import_id = i.id ORDER BY n.title) AS titles
		FROM module_imports i LEFT JOIN classes c ON c.id = i.made_class_id
		WHERE i.staff_id = $1 AND i.at > $2 AND i.undone_at IS NULL
		ORDER BY i.id DESC LIMIT 8`, staff, since)
}

// UndoModuleImport takes back what an import added: the class that it made,
// the saves, and modules that it made. ErrNotFound: this person has no such
// import; ErrChanged: it is from before that time, or was taken back already,
// or what it added is in use by now.
func (s *Store) UndoModuleImport(ctx context.Context, staff, id int64, since, at time.Time) error {
	err := s.InTx(ctx, func(tx pgx.Tx) error {
		var class *int64
		var still bool
		err := tx.QueryRow(ctx, `
			SELECT made_class_id, at > $3 AND undone_at IS NULL FROM module_imports
			WHERE id = $1 AND staff_id = $2 FOR UPDATE`, id, staff, since).Scan(&class, &still)
		if err == nil && !still {
			err = ErrChanged
		}
		if err == nil {
			_, err = tx.Exec(ctx, `UPDATE module_imports SET undone_at = $2, made_class_id = NULL WHERE id = $1`, id, at)
		}
		if err == nil && class != nil {
			err = removeClass(ctx, tx, *class)
		}
		if err != nil {
			return err
		}
		return removeSaves(ctx, tx, id)
	})
	if pg, ok := errors.AsType[*pgconn.PgError](err); ok && pg.Code == foreignKeyViolation {
		err = ErrChanged
	}
	return fault("undo import", err)
}

// foreignKeyViolation is the SQLSTATE for a row that others still lean on.
const foreignKeyViolation = "23503"

// removeClass takes away a class in which nobody ever was.
func removeClass(ctx context.Context, tx pgx.Tx, class int64) error {
	var students int
	if err := tx.QueryRow(ctx, `SELECT students FROM classes WHERE id = $1 FOR UPDATE`, class).Scan(&students); err != nil {
		return err
	}
	if students > 0 {
		return ErrChanged
	}
	for _, sql := range []string{
		`DELETE FROM assignment_notes WHERE class_id = $1`,
		`DELETE FROM assignments WHERE class_id = $1`,
		`DELETE FROM invitations WHERE class_id = $1`,
		`DELETE FROM class_staff WHERE class_id = $1`,
		`DELETE FROM classes WHERE id = $1`,
	} {
		if _, err := tx.Exec(ctx, sql, class); err != nil {
			return err
		}
	}
	return nil
}

// removeSaves takes away the saves of an import, where nothing came after them
// and no assignment was made of them.
func removeSaves(ctx context.Context, tx pgx.Tx, imported int64) error {
	var leaned bool
	err := tx.QueryRow(ctx, `
		SELECT EXISTS (
			SELECT FROM module_import_saves s
			JOIN modules m ON m.id = s.module_id
			JOIN module_saves n ON n.module_id = s.module_id AND n.no = s.save_no
			WHERE s.import_id = $1 AND (m.saves <> s.save_no OR n.released_at IS NOT NULL AND EXISTS (
				SELECT FROM exercises e JOIN assignments a ON a.exercise = e.id AND a.version = e.version
				WHERE e.spec->>'module' = n.slug AND e.version = n.edition)))`, imported).Scan(&leaned)
	if err == nil && leaned {
		err = ErrChanged
	}
	if err != nil {
		return err
	}
	for _, sql := range []string{
		`UPDATE modules m SET state = coalesce(s.state_before, 'draft'), released = s.released_before,
		        public_slug = CASE WHEN s.released_before IS NULL THEN NULL ELSE m.public_slug END
		 FROM module_import_saves s WHERE s.import_id = $1 AND m.id = s.module_id`,
		`DELETE FROM module_pictures p USING module_import_saves s WHERE s.import_id = $1 AND p.module_id = s.module_id AND p.save_no = s.save_no`,
		`DELETE FROM module_saves n USING module_import_saves s WHERE s.import_id = $1 AND n.module_id = s.module_id AND n.no = s.save_no`,
		`DELETE FROM modules m USING module_import_saves s WHERE s.import_id = $1 AND m.id = s.module_id AND s.state_before IS NULL`,
		`UPDATE modules m SET saves = n.no, slug = n.slug, title = n.title
		 FROM module_import_saves s, module_saves n
		 WHERE s.import_id = $1 AND m.id = s.module_id AND n.module_id = m.id
		   AND n.no = (SELECT max(no) FROM module_saves WHERE module_id = m.id)`,
		`DELETE FROM module_import_saves WHERE import_id = $1`,
	} {
		if _, err := tx.Exec(ctx, sql, imported); err != nil {
			return err
		}
	}
	_, err = tx.Exec(ctx, `DELETE FROM pictures p WHERE NOT EXISTS (SELECT FROM module_pictures WHERE picture_id = p.id)`)
	return err
}
