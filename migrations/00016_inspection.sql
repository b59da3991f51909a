-- +goose Up

-- What people found of a sled before an event: the three lists go together, a point each. The name is personal data, and is
-- no part of the journal. An inspection stays as it is: the program only adds.
CREATE TABLE inspection (
    id           uuid PRIMARY KEY,
    event_id     uuid NOT NULL,
    sled_id      uuid NOT NULL,
    inspected_at timestamptz NOT NULL,
    signed_by    text NOT NULL CONSTRAINT inspection_has_a_name CHECK (signed_by <> ''),
    points       text[] NOT NULL,
    states       text[] NOT NULL,
    notes        text[] NOT NULL,
    FOREIGN KEY (event_id, sled_id) REFERENCES sled (event_id, id),
    CONSTRAINT inspection_is_whole CHECK (cardinality(points) = cardinality(states) AND cardinality(points) = cardinality(notes))
);
CREATE INDEX inspection_of_a_sled ON inspection (sled_id, inspected_at);
GRANT SELECT, INSERT ON inspection TO clayline_app;

-- +goose Down
DROP TABLE inspection;
