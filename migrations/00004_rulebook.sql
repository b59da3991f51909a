-- +goose Up

-- Where the officials moved the full-pull line to; empty while it lies where the rules have it. When and why a class
-- was ended before its end.
ALTER TABLE class
    ADD COLUMN moved_line text NOT NULL DEFAULT '',
    ADD COLUMN stopped_at timestamptz,
    ADD COLUMN stopped_reason text NOT NULL DEFAULT '',
    ADD CONSTRAINT stop_has_a_reason CHECK ((stopped_at IS NULL) = (stopped_reason = ''));

-- The entry whose vehicle hooks again with another driver.
ALTER TABLE entry
    ADD COLUMN same_vehicle_id uuid REFERENCES entry;

-- +goose Down
ALTER TABLE entry DROP COLUMN same_vehicle_id;
ALTER TABLE class
    DROP CONSTRAINT stop_has_a_reason,
    DROP COLUMN moved_line,
    DROP COLUMN stopped_at,
    DROP COLUMN stopped_reason;
