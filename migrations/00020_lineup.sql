-- +goose Up

-- The steward of the line-up and the flagmen have a pass of their own.
ALTER TABLE pass DROP CONSTRAINT pass_role_check;
ALTER TABLE pass ADD CONSTRAINT pass_role_check CHECK (role IN ('desk', 'booth', 'cab', 'scale', 'lane'));

-- What was last said of a puller who is still to hook, and when.
ALTER TABLE slot
    ADD COLUMN presence text NOT NULL DEFAULT '' CHECK (presence IN ('', 'here', 'missing', 'cooling')),
    ADD COLUMN presence_at timestamptz,
    ADD CONSTRAINT slot_presence_has_its_time CHECK ((presence = '') = (presence_at IS NULL));

-- +goose Down
ALTER TABLE slot DROP COLUMN presence, DROP COLUMN presence_at;
ALTER TABLE pass DROP CONSTRAINT pass_role_check;
ALTER TABLE pass ADD CONSTRAINT pass_role_check CHECK (role IN ('desk', 'booth', 'cab', 'scale'));
