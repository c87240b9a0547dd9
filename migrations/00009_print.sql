-- +goose Up

-- What a class prints on: the paper that its school's printers hold.
ALTER TABLE classes ADD COLUMN paper text NOT NULL DEFAULT 'A4' CONSTRAINT classes_paper CHECK (paper IN ('A4', 'Letter'));
-- Who counts in inches most likely prints on Letter; the settings say otherwise.
UPDATE classes SET paper = 'Letter' WHERE units = 'inch';

-- Who reads large print.
ALTER TABLE students ADD COLUMN large_print boolean NOT NULL DEFAULT false;

-- +goose Down
ALTER TABLE students DROP COLUMN large_print;
ALTER TABLE classes DROP COLUMN paper;
