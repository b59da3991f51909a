-- +goose Up

-- What differed on a hook, as words of a fixed list joined by commas, and what they do not say.
ALTER TABLE hook
    ADD COLUMN differed text NOT NULL DEFAULT '',
    ADD COLUMN differed_words text NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE hook
    DROP COLUMN differed,
    DROP COLUMN differed_words;
