-- +goose Up

-- When the result of a hook was last changed after it had ended. The window for protests runs from there.
ALTER TABLE hook ADD COLUMN changed_at timestamptz;

-- A signature that was taken away, with the standing that it stood under: the four lists go together, a line of the
-- standing each. The name is personal data and is no part of the journal. A class that was reopened before this table
-- was there has the lines of its journal, without the name and the standing, which nothing kept.
CREATE TABLE signature (
    class_id    uuid NOT NULL REFERENCES class,
    revision    int  NOT NULL CHECK (revision >= 1),
    made_at     timestamptz NOT NULL,
    name        text NOT NULL,
    reopened_at timestamptz NOT NULL,
    reason      text NOT NULL,
    entries     uuid[] NOT NULL,
    places      int[] NOT NULL,
    shared      boolean[] NOT NULL,
    results     text[] NOT NULL,
    PRIMARY KEY (class_id, revision),
    CONSTRAINT signed_standing_is_whole CHECK (
        cardinality(entries) = cardinality(places) AND cardinality(entries) = cardinality(shared)
        AND cardinality(entries) = cardinality(results))
);
INSERT INTO signature (class_id, revision, made_at, name, reopened_at, reason, entries, places, shared, results)
SELECT opened.subject, row_number() OVER (PARTITION BY opened.subject ORDER BY opened.number), signed.at, '', opened.at,
       convert_from(opened.payload, 'UTF8')::jsonb ->> 'Reason', '{}', '{}', '{}', '{}'
FROM journal opened
JOIN LATERAL (
    SELECT j.at
    FROM journal j
    WHERE j.scope = opened.scope AND j.subject = opened.subject AND j.kind = 'official' AND j.number < opened.number
    ORDER BY j.number DESC
    LIMIT 1
) signed ON true
WHERE opened.kind = 'reopen';
ALTER TABLE class DROP COLUMN reopened;

-- A protest against the result of an entry. lodged_by is personal data, and is no part of the journal.
CREATE TABLE protest (
    id         uuid PRIMARY KEY,
    class_id   uuid NOT NULL,
    position   int  NOT NULL,
    entry_id   uuid NOT NULL,
    hook_id    uuid REFERENCES hook,
    about      text NOT NULL,
    fee_taken  boolean NOT NULL,
    lodged_at  timestamptz NOT NULL,
    is_late    boolean NOT NULL,
    lodged_by  text NOT NULL,
    ruling     text CHECK (ruling IN ('upheld', 'turned_down', 'withdrawn')),
    follows    text NOT NULL CHECK (follows IN ('nothing', 'correction', 'disqualification')),
    reason     text NOT NULL,
    decided_at timestamptz,
    FOREIGN KEY (class_id, entry_id) REFERENCES entry (class_id, id),
    CONSTRAINT protest_position_is_unique UNIQUE (class_id, position),
    CONSTRAINT ruling_has_its_time CHECK ((ruling IS NULL) = (decided_at IS NULL)),
    CONSTRAINT only_an_upheld_protest_has_consequences CHECK (follows = 'nothing' OR ruling IS NOT DISTINCT FROM 'upheld')
);

-- A protest is decided once. Who lodged it may be erased at any time.
-- +goose StatementBegin
CREATE FUNCTION protest_is_decided_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.decided_at IS NOT NULL AND to_jsonb(NEW) - 'lodged_by' IS DISTINCT FROM to_jsonb(OLD) - 'lodged_by' THEN
        RAISE EXCEPTION 'a protest is decided once'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'protest_is_decided_once';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER protest_is_decided_once BEFORE UPDATE ON protest
    FOR EACH ROW EXECUTE FUNCTION protest_is_decided_once();

-- A signature that was taken away stays as it is: the program only adds.
GRANT SELECT, INSERT ON signature TO clayline_app;
GRANT SELECT, INSERT, UPDATE ON protest TO clayline_app;

-- +goose Down
ALTER TABLE class ADD COLUMN reopened int NOT NULL DEFAULT 0;
UPDATE class c SET reopened = (SELECT count(*) FROM signature s WHERE s.class_id = c.id);
DROP TABLE protest, signature;
DROP FUNCTION protest_is_decided_once;
ALTER TABLE hook DROP COLUMN changed_at;
