-- +goose Up

-- Keys of an assignment that were made after it was given out: another
-- tolerance, a formula put right, a slip or hint added, a number withdrawn.
-- Key 0 is the exercise version as given out and has no row. Rows are only
-- ever added: taking a key back makes a further one.
CREATE TABLE keys (
    class_id      bigint NOT NULL,
    assignment_no integer NOT NULL,
    no            integer NOT NULL CONSTRAINT keys_no CHECK (no > 0),
    spec          jsonb NOT NULL,   -- the exercise, written out in full
    tolerances    jsonb NOT NULL,   -- by step, set by the instructor
    withdrawn     jsonb NOT NULL,   -- steps that are not asked any more
    changes       jsonb NOT NULL,   -- what students read, by step
    why           text NOT NULL CONSTRAINT keys_why_length CHECK (char_length(why) BETWEEN 1 AND 300),
    undoes        integer,          -- the key that this one takes back
    made_by       bigint NOT NULL CONSTRAINT keys_made_by REFERENCES staff,
    made_at       timestamptz NOT NULL,
    CONSTRAINT keys_pkey PRIMARY KEY (class_id, assignment_no, no),
    CONSTRAINT keys_assignment FOREIGN KEY (class_id, assignment_no) REFERENCES assignments
);

-- The key that counts now.
ALTER TABLE assignments ADD COLUMN key_no integer NOT NULL DEFAULT 0;
-- The sheet under that key, where it is another than the one given out or
-- measured; new wood is measured under the key of its day and empties it.
ALTER TABLE sheets ADD COLUMN keyed jsonb;
-- The key and the class's units that an attempt was first judged by; '' where
-- the units were not written down yet.
ALTER TABLE attempts
    ADD COLUMN key_no integer NOT NULL DEFAULT 0,
    ADD COLUMN units text NOT NULL DEFAULT '';

-- Attempts judged again under a later key. The first judgement stays with its
-- attempt; rows are only ever added, and the newest counts.
CREATE TABLE results (
    class_id   bigint NOT NULL,
    sheet_no   integer NOT NULL,
    attempt_no integer NOT NULL,
    key_no     integer NOT NULL,
    sheet      jsonb NOT NULL,
    result     jsonb NOT NULL,
    score      integer NOT NULL,
    out_of     integer NOT NULL,
    judged_at  timestamptz NOT NULL,
    CONSTRAINT results_pkey PRIMARY KEY (class_id, sheet_no, attempt_no, key_no),
    CONSTRAINT results_attempt FOREIGN KEY (class_id, sheet_no, attempt_no) REFERENCES attempts
);

-- Attempts as they stand now.
CREATE VIEW judged AS
    SELECT a.class_id, a.sheet_no, a.no, a.client_key, a.body_hash, a.wood, a.answers, a.units, a.sent_at,
           coalesce(r.key_no, a.key_no) AS key_no, coalesce(r.sheet, a.sheet) AS sheet,
           coalesce(r.result, a.result) AS result, coalesce(r.score, a.score) AS score,
           coalesce(r.out_of, a.out_of) AS out_of
    FROM attempts a
    LEFT JOIN LATERAL (
        SELECT n.key_no, n.sheet, n.result, n.score, n.out_of
        FROM results n
        WHERE n.class_id = a.class_id AND n.sheet_no = a.sheet_no AND n.attempt_no = a.no
        ORDER BY n.key_no DESC LIMIT 1) r ON true;

-- Which measure for which, which function for which.
ALTER TABLE answers ADD COLUMN detail text NOT NULL DEFAULT '';
UPDATE answers n SET detail = coalesce(r.step->'pattern'->>'detail', '')
FROM attempts a CROSS JOIN LATERAL jsonb_array_elements(a.result->'steps') AS r(step)
WHERE n.pattern <> '' AND a.class_id = n.class_id AND a.sheet_no = n.sheet_no AND a.no = n.attempt_no
  AND r.step->>'id' = n.step;
-- Finds an answer that shows a slip.
CREATE INDEX answers_by_pattern ON answers (class_id, assignment_no, step, pattern, detail) WHERE verdict = 'wrong';

-- Answers with their place: turn is the how-manieth answer of its sheet to its
-- step (6: sixth or later), nth the how-manieth of its sheet that is just so.
CREATE VIEW answered AS
    SELECT n.class_id, n.assignment_no, n.sheet_no, n.step, n.attempt_no, n.verdict, n.pattern, n.detail,
           least(row_number() OVER (PARTITION BY n.class_id, n.assignment_no, n.sheet_no, n.step ORDER BY n.attempt_no), 6)::integer AS turn,
           row_number() OVER (PARTITION BY n.class_id, n.assignment_no, n.sheet_no, n.step, n.verdict, n.pattern, n.detail
                              ORDER BY n.attempt_no) AS nth
    FROM answers n
    WHERE n.verdict <> 'blank';

-- How many answers came to what, kept in the transaction of each attempt.
-- Students who were taken off the roster are not counted. A sheet always
-- counts in one slot, so that a class that sends at once does not stand in
-- line for one row; sums run over the slots. sheets counts each sheet once, at
-- the turn that first came to it.
CREATE TABLE tallies (
    class_id      bigint NOT NULL,
    assignment_no integer NOT NULL,
    step          text NOT NULL,
    verdict       text NOT NULL,
    pattern       text NOT NULL,
    detail        text NOT NULL,
    turn          integer NOT NULL,
    slot          integer NOT NULL,
    answers       integer NOT NULL CONSTRAINT tallies_answers CHECK (answers >= 0),
    sheets        integer NOT NULL CONSTRAINT tallies_sheets CHECK (sheets >= 0),
    CONSTRAINT tallies_pkey PRIMARY KEY (class_id, assignment_no, step, verdict, pattern, detail, turn, slot),
    CONSTRAINT tallies_assignment FOREIGN KEY (class_id, assignment_no) REFERENCES assignments
);

-- The last answer of each sheet to each step, and how many there were.
CREATE TABLE progress (
    class_id      bigint NOT NULL,
    assignment_no integer NOT NULL,
    sheet_no      integer NOT NULL,
    step          text NOT NULL,
    attempt_no    integer NOT NULL,
    verdict       text NOT NULL,
    pattern       text NOT NULL,
    detail        text NOT NULL,
    answers       integer NOT NULL,
    wrong         integer NOT NULL,
    CONSTRAINT progress_pkey PRIMARY KEY (class_id, assignment_no, sheet_no, step),
    CONSTRAINT progress_sheet FOREIGN KEY (class_id, sheet_no) REFERENCES sheets
);

INSERT INTO tallies (class_id, assignment_no, step, verdict, pattern, detail, turn, slot, answers, sheets)
SELECT c.class_id, c.assignment_no, c.step, c.verdict, c.pattern, c.detail, c.turn, c.sheet_no % 8,
       count(*), count(*) FILTER (WHERE c.nth = 1)
FROM answered c
JOIN sheets sh ON sh.class_id = c.class_id AND sh.no = c.sheet_no
JOIN students st ON st.class_id = sh.class_id AND st.no = sh.student_no AND st.removed_at IS NULL
GROUP BY 1, 2, 3, 4, 5, 6, 7, 8;

INSERT INTO progress (class_id, assignment_no, sheet_no, step, attempt_no, verdict, pattern, detail, answers, wrong)
SELECT DISTINCT ON (c.class_id, c.assignment_no, c.sheet_no, c.step)
       c.class_id, c.assignment_no, c.sheet_no, c.step, c.attempt_no, c.verdict, c.pattern, c.detail,
       count(*) OVER w, count(*) FILTER (WHERE c.verdict = 'wrong') OVER w
FROM answered c
WINDOW w AS (PARTITION BY c.class_id, c.assignment_no, c.sheet_no, c.step)
ORDER BY c.class_id, c.assignment_no, c.sheet_no, c.step, c.attempt_no DESC;

-- +goose Down
DROP TABLE progress, tallies;
DROP VIEW answered, judged;
DROP INDEX answers_by_pattern;
ALTER TABLE answers DROP COLUMN detail;
DROP TABLE results;
ALTER TABLE attempts DROP COLUMN key_no, DROP COLUMN units;
ALTER TABLE sheets DROP COLUMN keyed;
ALTER TABLE assignments DROP COLUMN key_no;
DROP TABLE keys;
