-- +goose Up

-- The classes of an event are put into another order in one statement, at whose end no two have one place.
ALTER TABLE class
    DROP CONSTRAINT class_position_is_unique_in_event,
    ADD CONSTRAINT class_position_is_unique_in_event UNIQUE (event_id, position) DEFERRABLE INITIALLY IMMEDIATE;

-- +goose Down
ALTER TABLE class
    DROP CONSTRAINT class_position_is_unique_in_event,
    ADD CONSTRAINT class_position_is_unique_in_event UNIQUE (event_id, position);
