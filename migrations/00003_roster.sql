-- +goose Up

-- One row each time that names were added to a roster, so that it can be
-- taken back within a day.
CREATE TABLE roster_imports (
    class_id  bigint NOT NULL CONSTRAINT roster_imports_class REFERENCES classes,
    no        integer NOT NULL,
    added     integer NOT NULL CONSTRAINT roster_imports_added CHECK (added > 0),
    added_by  bigint NOT NULL CONSTRAINT roster_imports_added_by REFERENCES staff,
    added_at  timestamptz NOT NULL,
    undone_at timestamptz,
    CONSTRAINT roster_imports_pkey PRIMARY KEY (class_id, no)
);

ALTER TABLE students
    ADD COLUMN import_no integer,
    ADD CONSTRAINT students_import FOREIGN KEY (class_id, import_no) REFERENCES roster_imports;

-- +goose Down
ALTER TABLE students DROP COLUMN import_no;
DROP TABLE roster_imports;
