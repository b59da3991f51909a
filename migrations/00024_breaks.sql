-- +goose Up

-- The breaks of a session in their order: when each may begin at the soonest, and its minutes.
ALTER TABLE session ADD COLUMN break_from timestamptz[] NOT NULL DEFAULT '{}';
ALTER TABLE session ADD COLUMN break_minutes integer[] NOT NULL DEFAULT '{}';
ALTER TABLE session ADD CONSTRAINT session_breaks_have_minutes CHECK (cardinality(break_from) = cardinality(break_minutes));

-- +goose Down
ALTER TABLE session DROP COLUMN break_from, DROP COLUMN break_minutes;
