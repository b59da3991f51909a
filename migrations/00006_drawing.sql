-- +goose Up

-- What a draw had to keep and how its order was found, as one document: it is written with the draw, read with
-- it, and never asked about by its parts.
ALTER TABLE class ADD COLUMN draw_how jsonb NOT NULL DEFAULT '{}';

-- A commitment to half of the seed of a draw to come. A draw uses it up.
ALTER TABLE class
    ADD COLUMN promise_hash text NOT NULL DEFAULT '',
    ADD COLUMN promised_at timestamptz,
    ADD COLUMN promise_reason text NOT NULL DEFAULT '',
    ADD CONSTRAINT promise_has_a_time CHECK ((promised_at IS NULL) = (promise_hash = ''));

-- +goose Down
ALTER TABLE class DROP COLUMN draw_how, DROP COLUMN promise_hash, DROP COLUMN promised_at, DROP COLUMN promise_reason;
