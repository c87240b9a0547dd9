-- +goose Up

-- Lesson modules that instructors write themselves. Every save is kept.
CREATE TABLE modules (
    id          bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT modules_pkey PRIMARY KEY,
    owner_id    bigint NOT NULL CONSTRAINT modules_owner REFERENCES staff,
    -- Of the newest save; '' where its text does not say.
    slug        text NOT NULL,
    title       text NOT NULL,
    state       text NOT NULL CONSTRAINT modules_state CHECK (state IN ('draft', 'in use', 'retired')),
    saves       integer NOT NULL,
    -- The save that is or was in use, and the id under which everybody finds
    -- it: that one is the module's for good.
    released    integer,
    public_slug text CONSTRAINT modules_public_slug_key UNIQUE,
    created_at  timestamptz NOT NULL,
    CONSTRAINT modules_in_use_released CHECK (state <> 'in use' OR released IS NOT NULL AND public_slug IS NOT NULL)
);
CREATE INDEX modules_by_owner ON modules (owner_id);
CREATE INDEX modules_in_use ON modules (id) WHERE state = 'in use';

CREATE TABLE module_saves (
    module_id   bigint NOT NULL CONSTRAINT module_saves_module REFERENCES modules,
    no          integer NOT NULL,
    text        text NOT NULL CONSTRAINT module_saves_text_length CHECK (char_length(text) BETWEEN 1 AND 200000),
    slug        text NOT NULL,
    title       text NOT NULL,
    edition     integer NOT NULL, -- the version in its front matter; 0: none
    faults      integer NOT NULL, -- when it was saved
    author      text NOT NULL CONSTRAINT module_saves_author_length CHECK (char_length(author) <= 120),
    licence     text NOT NULL CONSTRAINT module_saves_licence_length CHECK (char_length(licence) <= 200),
    saved_at    timestamptz NOT NULL,
    released_at timestamptz,      -- when it was first put in use
    CONSTRAINT module_saves_pkey PRIMARY KEY (module_id, no)
);

-- Pictures, found under a name that nobody guesses.
CREATE TABLE pictures (
    id     text CONSTRAINT pictures_pkey PRIMARY KEY,
    type   text NOT NULL CONSTRAINT pictures_type CHECK (type IN ('image/png', 'image/jpeg', 'image/webp')),
    width  integer NOT NULL,
    height integer NOT NULL,
    body   bytea NOT NULL
);

CREATE TABLE module_pictures (
    module_id  bigint NOT NULL,
    save_no    integer NOT NULL,
    name       text NOT NULL,
    picture_id text NOT NULL CONSTRAINT module_pictures_picture REFERENCES pictures,
    CONSTRAINT module_pictures_pkey PRIMARY KEY (module_id, save_no, name),
    CONSTRAINT module_pictures_save FOREIGN KEY (module_id, save_no) REFERENCES module_saves
);
CREATE INDEX module_pictures_by_picture ON module_pictures (picture_id);

-- Files that were sent in and wait for a yes. They go after a day.
CREATE TABLE uploads (
    id       bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT uploads_pkey PRIMARY KEY,
    staff_id bigint NOT NULL CONSTRAINT uploads_staff REFERENCES staff,
    name     text NOT NULL,
    body     bytea NOT NULL,
    sent_at  timestamptz NOT NULL
);
CREATE INDEX uploads_by_staff ON uploads (staff_id);

-- What was taken in from a file, so that it can be taken back within a day.
CREATE TABLE module_imports (
    id       bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT module_imports_pkey PRIMARY KEY,
    staff_id bigint NOT NULL CONSTRAINT module_imports_staff REFERENCES staff,
    -- The class that a course made.
    made_class_id bigint,
    at       timestamptz NOT NULL,
    undone_at timestamptz
);
CREATE INDEX module_imports_by_staff ON module_imports (staff_id);

-- The saves that an import added, and how each module stood before it.
CREATE TABLE module_import_saves (
    import_id       bigint NOT NULL CONSTRAINT module_import_saves_import REFERENCES module_imports,
    module_id       bigint NOT NULL,
    save_no         integer NOT NULL,
    state_before    text, -- NULL: the import made the module
    released_before integer,
    CONSTRAINT module_import_saves_pkey PRIMARY KEY (import_id, module_id)
);

-- +goose Down
DROP TABLE module_import_saves, module_imports, uploads, module_pictures, pictures, module_saves, modules;
