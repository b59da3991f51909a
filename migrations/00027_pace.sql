-- +goose Up

-- The newest hooks before an event say how long one takes there; see Paces.
CREATE INDEX hook_by_call ON hook (called_at);

-- +goose Down

DROP INDEX hook_by_call;
