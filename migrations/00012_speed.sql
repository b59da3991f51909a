-- +goose Up

-- What the device read of a hook, each with its unit as it was read; empty where it gives none.
ALTER TABLE hook
    ADD COLUMN top_speed text NOT NULL DEFAULT '',
    ADD COLUMN line_speed text NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE hook
    DROP COLUMN top_speed,
    DROP COLUMN line_speed;
