-- +goose Up

-- Every exercise version that was ever given out, written out in full, so that
-- a later version of the lesson or the program changes nothing about it.
CREATE TABLE exercises (
    id      text NOT NULL,
    version integer NOT NULL,
    spec    jsonb NOT NULL,
    CONSTRAINT exercises_pkey PRIMARY KEY (id, version)
);

-- An exercise given to a class or to some of its students.
CREATE TABLE assignments (
    class_id    bigint NOT NULL CONSTRAINT assignments_class REFERENCES classes,
    no          integer NOT NULL,
    exercise    text NOT NULL,
    version     integer NOT NULL,
    title       text NOT NULL,
    opens_at    timestamptz NOT NULL,
    due_at      timestamptz,
    -- 0: as many as wanted.
    attempts    integer NOT NULL CONSTRAINT assignments_attempts CHECK (attempts BETWEEN 0 AND 99),
    -- When the key is released: by hand, when cleared, or at the due time.
    release     text NOT NULL CONSTRAINT assignments_release CHECK (release IN ('hand', 'cleared', 'due')),
    released_at timestamptz,
    created_by  bigint NOT NULL CONSTRAINT assignments_created_by REFERENCES staff,
    created_at  timestamptz NOT NULL,
    withdrawn_at timestamptz,
    CONSTRAINT assignments_pkey PRIMARY KEY (class_id, no),
    CONSTRAINT assignments_exercise FOREIGN KEY (exercise, version) REFERENCES exercises,
    CONSTRAINT assignments_due_after_open CHECK (due_at IS NULL OR due_at > opens_at),
    CONSTRAINT assignments_due_release CHECK (release <> 'due' OR due_at IS NOT NULL)
);

-- One student's own instance. issued is the sheet as first given out (blank,
-- tolerances, exercise version, seed); on_wood replaces it once the student
-- has measured the real blank.
CREATE TABLE sheets (
    class_id      bigint NOT NULL,
    no            integer NOT NULL,
    assignment_no integer NOT NULL,
    student_no    integer NOT NULL,
    issued        jsonb NOT NULL,
    on_wood       jsonb,
    wood          integer NOT NULL DEFAULT 0, -- times the blank was measured
    attempts      integer NOT NULL DEFAULT 0,
    asked_at      timestamptz,
    CONSTRAINT sheets_pkey PRIMARY KEY (class_id, no),
    CONSTRAINT sheets_once UNIQUE (class_id, assignment_no, student_no),
    CONSTRAINT sheets_assignment FOREIGN KEY (class_id, assignment_no) REFERENCES assignments,
    CONSTRAINT sheets_student FOREIGN KEY (class_id, student_no) REFERENCES students
);
CREATE INDEX sheets_by_student ON sheets (class_id, student_no);

-- What was sent and what became of it. Rows are only ever added.
CREATE TABLE attempts (
    class_id   bigint NOT NULL,
    sheet_no   integer NOT NULL,
    no         integer NOT NULL,
    client_key uuid NOT NULL,
    body_hash  bytea NOT NULL,
    sheet      jsonb NOT NULL,   -- the blank and tolerances it was judged by
    wood       integer NOT NULL, -- which measuring of the blank that was
    answers    jsonb NOT NULL,   -- as typed, by step
    result     jsonb NOT NULL,
    score      integer NOT NULL,
    out_of     integer NOT NULL,
    sent_at    timestamptz NOT NULL,
    CONSTRAINT attempts_pkey PRIMARY KEY (class_id, sheet_no, no),
    CONSTRAINT attempts_client_key UNIQUE (class_id, sheet_no, client_key),
    CONSTRAINT attempts_sheet FOREIGN KEY (class_id, sheet_no) REFERENCES sheets
);

-- One row an answer that was new in its attempt, for counting.
CREATE TABLE answers (
    class_id      bigint NOT NULL,
    assignment_no integer NOT NULL,
    step          text NOT NULL,
    sheet_no      integer NOT NULL,
    attempt_no    integer NOT NULL,
    verdict       text NOT NULL,
    pattern       text NOT NULL DEFAULT '',
    CONSTRAINT answers_pkey PRIMARY KEY (class_id, assignment_no, sheet_no, step, attempt_no),
    CONSTRAINT answers_attempt FOREIGN KEY (class_id, sheet_no, attempt_no) REFERENCES attempts
);

-- Leave to cut, for exactly the values of one attempt on one blank.
CREATE TABLE clearances (
    class_id   bigint NOT NULL,
    sheet_no   integer NOT NULL,
    no         integer NOT NULL,
    attempt_no integer NOT NULL,
    wood       integer NOT NULL,
    cleared_by bigint NOT NULL CONSTRAINT clearances_cleared_by REFERENCES staff,
    cleared_at timestamptz NOT NULL,
    revoked_at timestamptz,
    revoked_why text,
    CONSTRAINT clearances_pkey PRIMARY KEY (class_id, sheet_no, no),
    CONSTRAINT clearances_attempt FOREIGN KEY (class_id, sheet_no, attempt_no) REFERENCES attempts,
    CONSTRAINT clearances_revoked_with_reason CHECK ((revoked_at IS NULL) = (revoked_why IS NULL))
);
-- At most one clearance stands at any time.
CREATE UNIQUE INDEX clearances_standing ON clearances (class_id, sheet_no) WHERE revoked_at IS NULL;

-- +goose Down
DROP TABLE clearances, answers, attempts, sheets, assignments, exercises;
