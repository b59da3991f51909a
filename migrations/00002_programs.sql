-- +goose Up

-- Programs act with passes of their own, in the Authorization header; a browser's cookie is no such pass.
ALTER TABLE pass ADD COLUMN is_bearer boolean NOT NULL DEFAULT false;

-- When a hook began, where somebody said so. Nothing depends on it but the record and the forecast of times.
ALTER TABLE hook ADD COLUMN started_at timestamptz;

-- The signature under a result. The name is personal data, and is no part of the journal. reopened counts how
-- often a signature was taken away, so that a result which was signed twice can be told.
ALTER TABLE class
    ADD COLUMN official_at timestamptz,
    ADD COLUMN official_name text NOT NULL DEFAULT '',
    ADD COLUMN reopened int NOT NULL DEFAULT 0,
    ADD CONSTRAINT official_has_a_name CHECK ((official_at IS NULL) = (official_name = ''));

-- A line wakes whoever follows the event; the notice carries the scope alone, and the follower reads the
-- journal. PostgreSQL sends it at the commit and only once a transaction, so that it never tells of a line that
-- is not there.
-- +goose StatementBegin
CREATE FUNCTION journal_wakes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM pg_notify('clayline_journal', NEW.scope::text);
    RETURN NULL;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER journal_wakes AFTER INSERT ON journal
    FOR EACH ROW EXECUTE FUNCTION journal_wakes();

-- +goose Down
DROP TRIGGER journal_wakes ON journal;
DROP FUNCTION journal_wakes;
ALTER TABLE class DROP COLUMN official_at, DROP COLUMN official_name, DROP COLUMN reopened;
ALTER TABLE hook DROP COLUMN started_at;
ALTER TABLE pass DROP COLUMN is_bearer;
