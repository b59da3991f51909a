-- +goose Up

-- The pair of keys that push services know this server by, made once. Phones that asked for a reminder did so with the
-- public one, so that it must not change.
CREATE TABLE push_key (
    only_one    boolean PRIMARY KEY DEFAULT true CHECK (only_one),
    public_key  text NOT NULL,
    private_key text NOT NULL
);
GRANT SELECT, INSERT ON push_key TO clayline_app;

-- A phone that wants to be told when the hook of an entry is near. It is no part of the event and of no journal: it is
-- whoever holds the phone that asked, and it goes when they ask, when the phone is gone, and when the class is decided.
CREATE TABLE reminder (
    entry_id    uuid NOT NULL REFERENCES entry,
    endpoint    text NOT NULL,
    class_id    uuid NOT NULL REFERENCES class,
    phone_key   text NOT NULL,
    secret      text NOT NULL,
    language    text NOT NULL,
    told_round  uuid, -- the round in which it was told last
    PRIMARY KEY (entry_id, endpoint)
);
CREATE INDEX reminder_of_a_class ON reminder (class_id);
GRANT SELECT, INSERT, DELETE, UPDATE ON reminder TO clayline_app;

-- +goose Down
DROP TABLE reminder;
DROP TABLE push_key;
