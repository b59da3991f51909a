-- +goose Up

-- When the last vehicle of a session must have pulled, where the place has such a time.
ALTER TABLE session ADD COLUMN curfew timestamptz;
ALTER TABLE session ADD CONSTRAINT session_ends_after_its_start CHECK (curfew > starts);

-- +goose Down
ALTER TABLE session DROP COLUMN curfew;
