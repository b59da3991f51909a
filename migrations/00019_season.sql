-- +goose Up

-- A season, as the document that the desk wrote, and how often it was written anew. Its id is the scope of its journal, which
-- has the hash of each document: the document may name drivers, and what is personal stands in no journal.
CREATE TABLE season (
    id       uuid PRIMARY KEY,
    slug     text NOT NULL CONSTRAINT season_address_is_unique UNIQUE,
    name     text NOT NULL,
    document text NOT NULL,
    changes  int  NOT NULL DEFAULT 0 CHECK (changes >= 0),
    kept_at  timestamptz NOT NULL
);
GRANT SELECT, INSERT ON season TO clayline_app;
GRANT UPDATE (name, document, changes) ON season TO clayline_app;

-- +goose Down
DROP TABLE season;
