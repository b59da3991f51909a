-- +goose Up

-- What the flagmen decided of a hook, why, and when they said so. It is no result.
ALTER TABLE hook
    ADD COLUMN flag text NOT NULL DEFAULT '' CHECK (flag IN ('', 'start again', 're-hook', 'disqualified')),
    ADD COLUMN flag_reason text NOT NULL DEFAULT '',
    ADD COLUMN flag_at timestamptz,
    ADD CONSTRAINT hook_flag_has_its_time CHECK ((flag = '') = (flag_at IS NULL)),
    ADD CONSTRAINT hook_flag_reason_has_its_flag CHECK (flag <> '' OR flag_reason = '');

-- +goose Down
ALTER TABLE hook DROP COLUMN flag, DROP COLUMN flag_reason, DROP COLUMN flag_at;
