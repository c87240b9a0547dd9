-- +goose Up

-- Staff sign in with an e-mail address and a password. may_teach lets them
-- make classes of their own; an assistant has it off.
CREATE TABLE staff (
    id            bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT staff_pkey PRIMARY KEY,
    email         text NOT NULL CONSTRAINT staff_email_length CHECK (char_length(email) BETWEEN 3 AND 254),
    name          text NOT NULL CONSTRAINT staff_name_length CHECK (char_length(name) BETWEEN 1 AND 80),
    password_hash text NOT NULL,
    may_teach     boolean NOT NULL,
    -- Raised when a password changes: every session of before is over.
    epoch         integer NOT NULL DEFAULT 1,
    created_at    timestamptz NOT NULL
);
CREATE UNIQUE INDEX staff_email_key ON staff (lower(email));

-- A class settles units, time zone, tools and what its people may do.
CREATE TABLE classes (
    id          bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT classes_pkey PRIMARY KEY,
    name        text NOT NULL CONSTRAINT classes_name_length CHECK (char_length(name) BETWEEN 1 AND 80),
    code        text NOT NULL CONSTRAINT classes_code_key UNIQUE,
    zone        text NOT NULL,
    units       text NOT NULL CONSTRAINT classes_units CHECK (units IN ('mm', 'inch')),
    projection  text NOT NULL CONSTRAINT classes_projection CHECK (projection IN ('first', 'third')),
    fit_word    text NOT NULL CONSTRAINT classes_fit_word CHECK (fit_word IN ('tight', 'close', 'open')),
    -- The finest settings of the shop's tools, mm and degrees.
    length_step double precision NOT NULL CONSTRAINT classes_length_step CHECK (length_step > 0 AND length_step <= 1),
    angle_step  double precision NOT NULL CONSTRAINT classes_angle_step CHECK (angle_step > 0 AND angle_step <= 1),
    -- Numbers handed out so far in this class; see students, assignments, sheets.
    students    integer NOT NULL DEFAULT 0,
    assignments integer NOT NULL DEFAULT 0,
    sheets      integer NOT NULL DEFAULT 0,
    created_at  timestamptz NOT NULL
);

CREATE TABLE class_staff (
    class_id  bigint NOT NULL CONSTRAINT class_staff_class REFERENCES classes,
    staff_id  bigint NOT NULL CONSTRAINT class_staff_staff REFERENCES staff,
    role      text NOT NULL CONSTRAINT class_staff_role CHECK (role IN ('instructor', 'assistant')),
    may_clear boolean NOT NULL,
    CONSTRAINT class_staff_pkey PRIMARY KEY (class_id, staff_id),
    CONSTRAINT class_staff_instructor_clears CHECK (role = 'assistant' OR may_clear)
);
CREATE INDEX class_staff_by_staff ON class_staff (staff_id);

-- A student belongs to one class and has no password and no e-mail: a card
-- signs in. A new card ends every session of the old one.
CREATE TABLE students (
    class_id     bigint NOT NULL CONSTRAINT students_class REFERENCES classes,
    no           integer NOT NULL,
    name         text NOT NULL CONSTRAINT students_name_length CHECK (char_length(name) BETWEEN 1 AND 60),
    bench        integer NOT NULL CONSTRAINT students_bench CHECK (bench BETWEEN 1 AND 999),
    -- The first letters of the typed code find the student, the whole code
    -- (hashed like a password) and the 128 bits of the QR code (SHA-256) prove it.
    code_head    text,
    code_hash    text,
    token_hash   bytea CONSTRAINT students_token_hash_key UNIQUE,
    card         integer NOT NULL DEFAULT 0,
    removed_at   timestamptz,
    CONSTRAINT students_pkey PRIMARY KEY (class_id, no),
    CONSTRAINT students_code_head_key UNIQUE (class_id, code_head)
);

-- One-time links: the first instructor's, and invitations to a class.
CREATE TABLE invitations (
    token_hash bytea CONSTRAINT invitations_pkey PRIMARY KEY,
    class_id   bigint CONSTRAINT invitations_class REFERENCES classes,
    role       text NOT NULL CONSTRAINT invitations_role CHECK (role IN ('instructor', 'assistant')),
    may_clear  boolean NOT NULL,
    expires_at timestamptz NOT NULL,
    used_at    timestamptz
);

-- scs sessions; the token is stored hashed.
CREATE TABLE sessions (
    token  text CONSTRAINT sessions_pkey PRIMARY KEY,
    data   bytea NOT NULL,
    expiry timestamptz NOT NULL
);
CREATE INDEX sessions_expiry ON sessions (expiry);

-- Facts about the whole installation, such as that it holds the demo.
CREATE TABLE facts (
    id    text CONSTRAINT facts_pkey PRIMARY KEY,
    value text NOT NULL
);

-- +goose Down
DROP TABLE facts, sessions, invitations, students, class_staff, classes, staff;
