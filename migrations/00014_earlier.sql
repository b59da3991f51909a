-- +goose Up

-- Classes of earlier days are found by the name of the class, of its track or of its sled.
CREATE INDEX class_by_name ON class (lower(name));
CREATE INDEX class_by_track ON class (track_id);
CREATE INDEX class_by_sled ON class (sled_id);
CREATE INDEX track_by_name ON track (lower(name));
CREATE INDEX sled_by_name ON sled (lower(name));

-- +goose Down
DROP INDEX class_by_name, class_by_track, class_by_sled, track_by_name, sled_by_name;
