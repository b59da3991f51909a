-- +goose Up

-- The description of a sled, as the document that people wrote, and how often it was written anew. Gears and start
-- holes are in it. The name stays a column of its own, because it is unique in an event.
ALTER TABLE sled
    ADD COLUMN description text,
    ADD COLUMN changes int NOT NULL DEFAULT 0 CHECK (changes >= 0);
UPDATE sled
SET description = jsonb_pretty(jsonb_build_object('name', name, 'gears', gears, 'start_holes', start_holes));
-- A class keeps a copy of the description that it was planned with, as it keeps its rules.
ALTER TABLE class
    ADD COLUMN sled text,
    ADD COLUMN sled_changes int NOT NULL DEFAULT 0;
UPDATE class c
SET sled = s.description
FROM sled s
WHERE s.id = c.sled_id;
ALTER TABLE class
    ALTER COLUMN sled SET NOT NULL;
ALTER TABLE sled
    ALTER COLUMN description SET NOT NULL,
    DROP COLUMN gears,
    DROP COLUMN start_holes,
    ADD CONSTRAINT sled_is_called_as_described CHECK (name = description::jsonb ->> 'name');

-- +goose StatementBegin
CREATE OR REPLACE FUNCTION class_keeps_its_rules() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF (NEW.rules, NEW.sled_id, NEW.sled, NEW.sled_changes, NEW.event_id, NEW.slug)
        IS DISTINCT FROM (OLD.rules, OLD.sled_id, OLD.sled, OLD.sled_changes, OLD.event_id, OLD.slug) THEN
        RAISE EXCEPTION 'a class keeps its rule set, its sled and its address'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'class_keeps_its_rules';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd

-- A class may move to another session or track of its event while another removes that one: one of the two is refused.
ALTER TABLE class RENAME CONSTRAINT class_event_id_session_id_fkey TO class_is_in_a_session_of_its_event;
ALTER TABLE class RENAME CONSTRAINT class_event_id_track_id_fkey TO class_is_on_a_track_of_its_event;

-- What the programme of an event may become after it was planned. A sled is never removed: classes name it.
GRANT UPDATE, DELETE ON session, track TO clayline_app;
GRANT UPDATE ON sled TO clayline_app;

-- +goose Down
REVOKE UPDATE, DELETE ON session, track FROM clayline_app;
REVOKE UPDATE ON sled FROM clayline_app;
ALTER TABLE class RENAME CONSTRAINT class_is_in_a_session_of_its_event TO class_event_id_session_id_fkey;
ALTER TABLE class RENAME CONSTRAINT class_is_on_a_track_of_its_event TO class_event_id_track_id_fkey;
-- +goose StatementBegin
CREATE OR REPLACE FUNCTION class_keeps_its_rules() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF (NEW.rules, NEW.sled_id, NEW.event_id, NEW.slug) IS DISTINCT FROM (OLD.rules, OLD.sled_id, OLD.event_id, OLD.slug) THEN
        RAISE EXCEPTION 'a class keeps its rule set, its sled and its address'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'class_keeps_its_rules';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
ALTER TABLE class DROP COLUMN sled, DROP COLUMN sled_changes;
ALTER TABLE sled
    DROP CONSTRAINT sled_is_called_as_described,
    ADD COLUMN gears int CHECK (gears BETWEEN 1 AND 20),
    ADD COLUMN start_holes int CHECK (start_holes BETWEEN 1 AND 20);
UPDATE sled
SET gears = (description::jsonb ->> 'gears')::int, start_holes = (description::jsonb ->> 'start_holes')::int;
ALTER TABLE sled
    ALTER COLUMN gears SET NOT NULL,
    ALTER COLUMN start_holes SET NOT NULL,
    DROP COLUMN description,
    DROP COLUMN changes;
