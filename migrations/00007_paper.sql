-- +goose Up

-- Who typed an attempt in from paper; none where the student sent it.
ALTER TABLE attempts ADD COLUMN typed_by bigint CONSTRAINT attempts_typed_by REFERENCES staff;
CREATE INDEX attempts_typed ON attempts (class_id, sent_at) WHERE typed_by IS NOT NULL;

CREATE OR REPLACE VIEW judged AS
    SELECT a.class_id, a.sheet_no, a.no, a.client_key, a.body_hash, a.wood, a.answers, a.units, a.sent_at,
           coalesce(r.key_no, a.key_no) AS key_no, coalesce(r.sheet, a.sheet) AS sheet,
           coalesce(r.result, a.result) AS result, coalesce(r.score, a.score) AS score,
           coalesce(r.out_of, a.out_of) AS out_of, a.typed_by
    FROM attempts a
    LEFT JOIN LATERAL (
        SELECT n.key_no, n.sheet, n.result, n.score, n.out_of
        FROM results n
        WHERE n.class_id = a.class_id AND n.sheet_no = a.sheet_no AND n.attempt_no = a.no
        ORDER BY n.key_no DESC LIMIT 1) r ON true;

-- Attempts typed in from paper and taken back: whole, with their judgements,
-- so that nothing is lost. They count nowhere.
CREATE TABLE takebacks (
    class_id   bigint NOT NULL,
    sheet_no   integer NOT NULL,
    no         integer NOT NULL,
    attempt_no integer NOT NULL,
    client_key uuid NOT NULL,
    attempt    jsonb NOT NULL,
    results    jsonb NOT NULL,
    taken_by   bigint NOT NULL CONSTRAINT takebacks_taken_by REFERENCES staff,
    taken_at   timestamptz NOT NULL,
    CONSTRAINT takebacks_pkey PRIMARY KEY (class_id, sheet_no, no),
    CONSTRAINT takebacks_client_key UNIQUE (class_id, sheet_no, client_key),
    CONSTRAINT takebacks_sheet FOREIGN KEY (class_id, sheet_no) REFERENCES sheets
);

-- +goose Down
DROP TABLE takebacks;
DROP VIEW judged;
DROP INDEX attempts_typed;
ALTER TABLE attempts DROP COLUMN typed_by;
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
