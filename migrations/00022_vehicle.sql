-- +goose Up

-- For the page of a vehicle over all events.
CREATE INDEX entry_by_vehicle ON entry (lower(vehicle));

-- +goose Down
DROP INDEX entry_by_vehicle;
