-- +goose Up

-- The classes of earlier days in which somebody pulled are found by the name of the puller.
CREATE INDEX entry_by_puller ON entry (lower(puller));

-- +goose Down
DROP INDEX entry_by_puller;
