-- +goose Up

-- What the sled's crew said before the hook; no hook waits for it.
ALTER TABLE hook
    ADD COLUMN ready_at timestamptz,
    ADD COLUMN ready_held boolean NOT NULL DEFAULT false,
    ADD COLUMN ready_words text NOT NULL DEFAULT '',
    ADD CONSTRAINT ready_is_said_at_a_time CHECK (ready_at IS NOT NULL OR NOT ready_held AND ready_words = '');

-- +goose Down
ALTER TABLE hook
    DROP CONSTRAINT ready_is_said_at_a_time,
    DROP COLUMN ready_at,
    DROP COLUMN ready_held,
    DROP COLUMN ready_words;
