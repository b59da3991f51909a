-- +goose Up

-- What the desk knows of an entry beside its hooks: a guest or a member, seen at the event, what the entry costs in cents
-- and whether that was paid. Points and purse are computed from it and stored nowhere.
ALTER TABLE entry
    ADD COLUMN is_guest boolean NOT NULL DEFAULT false,
    ADD COLUMN came     boolean NOT NULL DEFAULT false,
    ADD COLUMN fee      bigint  NOT NULL DEFAULT 0,
    ADD COLUMN is_paid  boolean NOT NULL DEFAULT false,
    ADD CONSTRAINT fee_is_an_amount CHECK (fee BETWEEN 0 AND 1000000000);

-- +goose Down
ALTER TABLE entry
    DROP CONSTRAINT fee_is_an_amount,
    DROP COLUMN is_guest,
    DROP COLUMN came,
    DROP COLUMN fee,
    DROP COLUMN is_paid;
