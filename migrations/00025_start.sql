-- +goose Up

-- When a class begins at the soonest, where the programme says so.
ALTER TABLE class ADD COLUMN fixed_start timestamptz;

-- +goose Down
ALTER TABLE class DROP COLUMN fixed_start;
