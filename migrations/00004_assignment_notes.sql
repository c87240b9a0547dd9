-- +goose Up

-- What was done to an assignment as a whole after it was given out, by whom,
-- and the instructor's note where one is asked for. Rows are only ever added.
CREATE TABLE assignment_notes (
    class_id      bigint NOT NULL,
    assignment_no integer NOT NULL,
    id            bigint GENERATED ALWAYS AS IDENTITY,
    did           text NOT NULL CONSTRAINT assignment_notes_did
                  CHECK (did IN ('key released', 'key taken back', 'withdrawn', 'given out again')),
    note          text NOT NULL CONSTRAINT assignment_notes_note_length CHECK (char_length(note) <= 300),
    staff_id      bigint NOT NULL CONSTRAINT assignment_notes_staff REFERENCES staff,
    at            timestamptz NOT NULL,
    CONSTRAINT assignment_notes_pkey PRIMARY KEY (class_id, assignment_no, id),
    CONSTRAINT assignment_notes_assignment FOREIGN KEY (class_id, assignment_no) REFERENCES assignments
);

-- +goose Down
DROP TABLE assignment_notes;
