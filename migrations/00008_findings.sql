-- +goose Up

-- What a search for shared wrong formulas found on one number of an
-- assignment. A new search takes the place of the one before.
CREATE TABLE searches (
    class_id      bigint NOT NULL,
    assignment_no integer NOT NULL,
    step          text NOT NULL,
    answers       integer NOT NULL, -- wrong ones that it was given, one a sheet
    findings      jsonb NOT NULL,
    asked_by      bigint NOT NULL CONSTRAINT searches_asked_by REFERENCES staff,
    ended_at      timestamptz NOT NULL,
    CONSTRAINT searches_pkey PRIMARY KEY (class_id, assignment_no, step),
    CONSTRAINT searches_assignment FOREIGN KEY (class_id, assignment_no) REFERENCES assignments
);

-- +goose Down
DROP TABLE searches;
