-- +goose Up

-- Programs act with passes of their own, in the Authorization header; a browser's cookie is no such pass.
ALTER TABLE pass ADD COLUMN is_bearer boolean NOT NULL DEFAULT false;

-- When a hook began, where somebody said so.
ALTER TABLE hook ADD COLUMN started_at timestamptz;

-- The signature under a result.
ALTER TABLE class
    ADD COLUMN official_at timestamptz,
    ADD COLUMN official_name text NOT NULL DEFAULT '',
    ADD COLUMN reopened int NOT NULL DEFAULT 0,
    ADD CONSTRAINT official_has_a_name CHECK ((official_at IS NULL) = (official_name = ''));

-- A line wakes whoever follows the event; the notice carries the scope alone, and the follower reads the journal.
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
