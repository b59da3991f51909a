-- +goose Up

-- The role as which the program works. A cluster has it once, however many databases share it.
-- +goose StatementBegin
DO $$
BEGIN
    CREATE ROLE clayline_app NOLOGIN;
EXCEPTION
    WHEN duplicate_object OR unique_violation THEN NULL; -- there already, or made at this moment by another database
END
$$;
-- +goose StatementEnd
-- The owner must be able to become it. A database administrator may have seen to that already.
-- +goose StatementBegin
DO $$
BEGIN
    EXECUTE format('GRANT clayline_app TO %I', current_user);
EXCEPTION
    WHEN insufficient_privilege THEN NULL;
END
$$;
-- +goose StatementEnd

-- A pulling event. Its id is also the scope of its journal. The address is made of the name once and is printed
-- on paper, hence unique for the whole server.
CREATE TABLE event (
    id         uuid PRIMARY KEY,
    slug       text NOT NULL CONSTRAINT event_address_is_unique UNIQUE,
    name       text NOT NULL,
    place      text NOT NULL,
    zone       text NOT NULL,
    planned_at timestamptz NOT NULL
);

-- Tracks, sleds and sessions belong to one event and keep the order in which they were planned. UNIQUE
-- (event_id, id) adds nothing to the primary key: it is there for a class to refer to, so that the class cannot
-- name a track, a sled or a session of another event.
CREATE TABLE track (
    id       uuid PRIMARY KEY,
    event_id uuid NOT NULL REFERENCES event,
    position int  NOT NULL,
    name     text NOT NULL,
    CONSTRAINT track_name_is_unique_in_event UNIQUE (event_id, name),
    UNIQUE (event_id, id)
);

CREATE TABLE sled (
    id          uuid PRIMARY KEY,
    event_id    uuid NOT NULL REFERENCES event,
    position    int  NOT NULL,
    name        text NOT NULL,
    -- Both are counted from 1, and a setting is checked against them by the domain.
    gears       int  NOT NULL CHECK (gears BETWEEN 1 AND 20),
    start_holes int  NOT NULL CHECK (start_holes BETWEEN 1 AND 20),
    CONSTRAINT sled_name_is_unique_in_event UNIQUE (event_id, name),
    UNIQUE (event_id, id)
);

CREATE TABLE session (
    id       uuid PRIMARY KEY,
    event_id uuid NOT NULL REFERENCES event,
    position int  NOT NULL,
    name     text NOT NULL,
    starts   timestamptz NOT NULL,
    UNIQUE (event_id, id)
);

-- A class with its draw. Its rule set is the one it was planned with, for good: the whole document, as text, so
-- that its figures keep their digits. The draw is here because a class has one at a time, and earlier ones are
-- in the journal. draw_order holds entries, which a foreign key cannot say of an array.
CREATE TABLE class (
    id          uuid PRIMARY KEY,
    event_id    uuid NOT NULL REFERENCES event,
    session_id  uuid NOT NULL,
    track_id    uuid NOT NULL,
    sled_id     uuid NOT NULL,
    position    int  NOT NULL,
    slug        text NOT NULL,
    name        text NOT NULL,
    rules       text NOT NULL,
    draw_seed   text NOT NULL DEFAULT '',
    drawn_at    timestamptz,
    draw_order  uuid[] NOT NULL DEFAULT '{}',
    draw_times  int  NOT NULL DEFAULT 0,
    draw_reason text NOT NULL DEFAULT '',
    CONSTRAINT class_address_is_unique_in_event UNIQUE (event_id, slug),
    -- The lock on the event keeps two classes from one place. This holds it where somebody forgets the lock.
    CONSTRAINT class_position_is_unique_in_event UNIQUE (event_id, position),
    FOREIGN KEY (event_id, session_id) REFERENCES session (event_id, id),
    FOREIGN KEY (event_id, track_id) REFERENCES track (event_id, id),
    FOREIGN KEY (event_id, sled_id) REFERENCES sled (event_id, id),
    -- A draw that cannot be recomputed, or of which nobody knows when it was made, is none.
    CONSTRAINT draw_has_seed_and_time CHECK ((drawn_at IS NULL) = (draw_seed = ''))
);

-- A vehicle in a class. The three last columns are personal data: they are here and nowhere else, so that
-- erasing them breaks no chain of the journal. Nothing is decided by them. UNIQUE (class_id, id) is what a
-- line-up refers to.
CREATE TABLE entry (
    id        uuid PRIMARY KEY,
    class_id  uuid NOT NULL REFERENCES class,
    position  int  NOT NULL,
    number    text NOT NULL,
    late      boolean NOT NULL,
    scratched text NOT NULL DEFAULT '',
    puller    text NOT NULL,
    vehicle   text NOT NULL,
    home      text NOT NULL,
    UNIQUE (class_id, id),
    UNIQUE (class_id, position)
);
-- Numbers are called out and drawn by: 7b and 7B would be one to every ear.
CREATE UNIQUE INDEX entry_number_is_unique_in_class ON entry (class_id, lower(number));

-- A round: 1, 2, … or P1, P2, … in the order opened. The position tells that order, the name is what people
-- say.
CREATE TABLE round (
    id       uuid PRIMARY KEY,
    class_id uuid NOT NULL REFERENCES class,
    position int  NOT NULL,
    name     text NOT NULL CHECK (name ~ '^P?[1-9][0-9]?$'),
    CONSTRAINT round_is_unique_in_class UNIQUE (class_id, name),
    UNIQUE (class_id, position),
    UNIQUE (class_id, id)
);

-- The line-up of a round. Whole line-ups move at once, hence the deferred position: within a transaction two
-- entries may have the same place, at its end not. class_id is repeated here so that the two references can say
-- that the round and the entry are of one class.
CREATE TABLE slot (
    round_id uuid NOT NULL,
    entry_id uuid NOT NULL,
    class_id uuid NOT NULL,
    position int  NOT NULL,
    note     text NOT NULL,
    is_out   boolean NOT NULL,
    PRIMARY KEY (round_id, entry_id),
    CONSTRAINT slot_position_is_unique UNIQUE (round_id, position) DEFERRABLE INITIALLY DEFERRED,
    FOREIGN KEY (class_id, round_id) REFERENCES round (class_id, id),
    FOREIGN KEY (class_id, entry_id) REFERENCES entry (class_id, id)
);

-- A setting revision of a round: a draft, then frozen and open, then closed. Weights, the trip point and the
-- speed limit are text with their units, as they were read: they are shown again and never computed with.
CREATE TABLE setting (
    round_id    uuid NOT NULL REFERENCES round,
    revision    int  NOT NULL CHECK (revision >= 1),
    box         text NOT NULL,
    slabs_left  int  NOT NULL CHECK (slabs_left >= 0),
    slabs_mid   int  NOT NULL CHECK (slabs_mid >= 0),
    slabs_right int  NOT NULL CHECK (slabs_right >= 0),
    gear        int  NOT NULL CHECK (gear >= 1),
    start_hole  int  NOT NULL CHECK (start_hole >= 1),
    trip        text NOT NULL,
    pan         text NOT NULL,
    blades      text NOT NULL,
    push_down   text NOT NULL,
    device      text NOT NULL,
    speed_limit text NOT NULL,
    note        text NOT NULL,
    drafted_at  timestamptz NOT NULL,
    frozen_at   timestamptz,
    closed_at   timestamptz,
    reason      text NOT NULL,
    PRIMARY KEY (round_id, revision),
    CONSTRAINT only_a_frozen_setting_closes CHECK (closed_at IS NULL OR frozen_at IS NOT NULL)
);
-- Two open settings would leave open which of them a hook is pulled against.
CREATE UNIQUE INDEX one_open_setting_a_round ON setting (round_id)
    WHERE frozen_at IS NOT NULL AND closed_at IS NULL;

-- A hook, against one setting revision of its round for good. The distance keeps the decimals it was read with,
-- which numeric does and a float would not. Outcome, end, distance and unit are empty while the puller is on
-- the track.
CREATE TABLE hook (
    id        uuid PRIMARY KEY,
    round_id  uuid NOT NULL,
    revision  int  NOT NULL,
    entry_id  uuid NOT NULL,
    number    int  NOT NULL CHECK (number >= 1),
    attempt   int  NOT NULL CHECK (attempt >= 1),
    is_test   boolean NOT NULL,
    called_at timestamptz NOT NULL,
    ended_at  timestamptz,
    outcome   text CHECK (outcome IN ('measured', 'FP', 'DQ', 'absent', 'rehook', 'void')),
    distance  numeric CHECK (distance >= 0),
    unit      text CHECK (unit IN ('ft', 'in', 'm')),
    reason    text NOT NULL,
    choice    text NOT NULL,
    corrected text NOT NULL,
    -- The setting must be one of the hook's own round, and the entry one of its line-up, hence two columns
    -- each.
    FOREIGN KEY (round_id, revision) REFERENCES setting,
    FOREIGN KEY (round_id, entry_id) REFERENCES slot,
    CONSTRAINT hook_number_is_unique_in_round UNIQUE (round_id, number),
    CONSTRAINT hook_ends_with_its_outcome CHECK ((outcome IS NULL) = (ended_at IS NULL)),
    CONSTRAINT distance_has_its_unit CHECK ((distance IS NULL) = (unit IS NULL)),
    -- A full pull may go without a figure, a measured distance not. IS DISTINCT FROM, because a hook on the
    -- track has no outcome and must pass.
    CONSTRAINT measured_has_a_distance CHECK (outcome IS DISTINCT FROM 'measured' OR distance IS NOT NULL),
    CONSTRAINT disqualification_has_a_reason CHECK (outcome IS DISTINCT FROM 'DQ' OR reason <> '')
);
-- One vehicle at the sled. The class lock keeps two calls apart, this holds it against everything else. A hook
-- that ends must be written before the one that is called next.
CREATE UNIQUE INDEX one_hook_on_the_track ON hook (round_id) WHERE outcome IS NULL;
-- An entry has one result in a round. What does not count, a re-hook or a void hook, may stand beside it.
CREATE UNIQUE INDEX one_counting_hook_an_entry_and_round ON hook (round_id, entry_id)
    WHERE outcome IN ('measured', 'FP', 'DQ', 'absent');

-- The promise of the sled operator: every hook is pulled against the setting that is open in its round. FOR
-- SHARE holds the setting open until the hook is committed, so that no reset can slip in between. Voiding and
-- correcting go on after a reset, and are updates that leave the setting as it is.
-- +goose StatementBegin
CREATE FUNCTION hook_keeps_its_setting() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'INSERT' THEN
        PERFORM FROM setting
        WHERE round_id = NEW.round_id AND revision = NEW.revision
          AND frozen_at IS NOT NULL AND closed_at IS NULL
        FOR SHARE;
        IF NOT FOUND THEN
            RAISE EXCEPTION 'a hook is pulled only against the open setting of its round'
                USING ERRCODE = 'check_violation', CONSTRAINT = 'hook_against_the_open_setting';
        END IF;
        RETURN NEW;
    ELSIF TG_OP = 'DELETE' THEN
        RAISE EXCEPTION 'a hook is never deleted'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'hook_is_never_deleted';
    ELSIF (NEW.id, NEW.round_id, NEW.revision, NEW.entry_id, NEW.number, NEW.attempt, NEW.is_test, NEW.called_at)
        IS DISTINCT FROM (OLD.id, OLD.round_id, OLD.revision, OLD.entry_id, OLD.number, OLD.attempt, OLD.is_test, OLD.called_at) THEN
        RAISE EXCEPTION 'a hook never moves to another setting, round or entry'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'hook_never_moves';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER hook_keeps_its_setting BEFORE INSERT OR UPDATE OR DELETE ON hook
    FOR EACH ROW EXECUTE FUNCTION hook_keeps_its_setting();

-- A frozen setting can only be closed, and a closed one stays as it is. A draft may change in everything but
-- its name. All columns are compared, those that a later step adds too.
-- +goose StatementBegin
CREATE FUNCTION setting_stays_frozen() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND OLD.frozen_at IS NULL AND NEW.round_id = OLD.round_id AND NEW.revision = OLD.revision THEN
        RETURN NEW;
    ELSIF TG_OP = 'UPDATE' AND OLD.closed_at IS NULL AND NEW.closed_at IS NOT NULL
        AND to_jsonb(NEW) - 'closed_at' = to_jsonb(OLD) - 'closed_at' THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'a frozen setting is not changed, only closed'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'frozen_setting_is_not_changed';
END
$$;
-- +goose StatementEnd
CREATE TRIGGER setting_stays_frozen BEFORE UPDATE OR DELETE ON setting
    FOR EACH ROW EXECUTE FUNCTION setting_stays_frozen();

-- A class keeps the rule set and the sled it was planned with: results under one book are not ranked by
-- another, and its settings were checked against its sled.
-- +goose StatementBegin
CREATE FUNCTION class_keeps_its_rules() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF (NEW.rules, NEW.sled_id, NEW.event_id, NEW.slug) IS DISTINCT FROM (OLD.rules, OLD.sled_id, OLD.event_id, OLD.slug) THEN
        RAISE EXCEPTION 'a class keeps its rule set, its sled and its address'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'class_keeps_its_rules';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER class_keeps_its_rules BEFORE UPDATE ON class
    FOR EACH ROW EXECUTE FUNCTION class_keeps_its_rules();

-- A pass: a link that enters one device once, then a cookie. Only hashes are kept, so that who reads the table
-- cannot act. Without an event it holds for all. The hashes are unique because a pass is looked up by them.
CREATE TABLE pass (
    id          uuid PRIMARY KEY,
    event_id    uuid REFERENCES event,
    role        text NOT NULL CHECK (role IN ('desk', 'booth', 'cab')),
    link_hash   bytea NOT NULL CONSTRAINT pass_link_is_unique UNIQUE,
    issued_at   timestamptz NOT NULL,
    expires_at  timestamptz NOT NULL,
    used_at     timestamptz,
    cookie_hash bytea CONSTRAINT pass_cookie_is_unique UNIQUE,
    device      text NOT NULL DEFAULT '',
    CONSTRAINT pass_is_used_with_a_cookie CHECK ((used_at IS NULL) = (cookie_hash IS NULL))
);
-- +goose StatementBegin
-- Two devices may open one link at the same moment. The second waits for the row of the first, and is refused
-- here.
CREATE FUNCTION pass_enters_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.used_at IS NOT NULL AND to_jsonb(NEW) IS DISTINCT FROM to_jsonb(OLD) THEN
        RAISE EXCEPTION 'a pass enters one device, once'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'pass_enters_once';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER pass_enters_once BEFORE UPDATE ON pass
    FOR EACH ROW EXECUTE FUNCTION pass_enters_once();

-- The journal: one a scope (an event, or the nil UUID for this server), numbered without gaps, each line
-- chained to the one before by its hash. Lines hold ids, never personal data. pass_id and subject refer to
-- nothing by a constraint: what they name is of several kinds, and a line must stand whatever becomes of it.
-- The device has no control characters, because a line feed parts the columns in what is hashed.
CREATE TABLE journal (
    scope     uuid NOT NULL,
    number    bigint NOT NULL CHECK (number >= 1),
    action_id uuid NOT NULL,
    pass_id   uuid NOT NULL,
    device    text NOT NULL CHECK (device !~ '[[:cntrl:]]'),
    at        timestamptz NOT NULL,
    kind      text NOT NULL,
    subject   uuid NOT NULL,
    payload   bytea NOT NULL,
    prev_hash bytea NOT NULL,
    hash      bytea NOT NULL,
    PRIMARY KEY (scope, number),
    -- The promise to whoever sends a form twice. The class lock makes the second find the first line, this
    -- makes sure.
    CONSTRAINT action_is_done_once UNIQUE (scope, action_id)
);
-- The end of a class's journal, and its last number, which is the version of the class.
CREATE INDEX journal_by_subject ON journal (subject, number);

-- The end of each journal. Its row is the lock of the scope, and saves looking for the last line.
CREATE TABLE journal_head (
    scope  uuid PRIMARY KEY,
    number bigint NOT NULL,
    hash   bytea NOT NULL
);

-- +goose StatementBegin
-- By rights the program cannot change a line. The triggers hold the owner too, so that a slip at the prompt is
-- refused.
CREATE FUNCTION journal_only_grows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'the journal only grows'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'journal_only_grows';
END
$$;
-- +goose StatementEnd
CREATE TRIGGER journal_only_grows BEFORE UPDATE OR DELETE ON journal
    FOR EACH ROW EXECUTE FUNCTION journal_only_grows();
CREATE TRIGGER journal_is_never_emptied BEFORE TRUNCATE ON journal
    FOR EACH STATEMENT EXECUTE FUNCTION journal_only_grows();

-- The only way into the journal. It is called last in a transaction: the head row is the lock that makes the
-- order of commits the order of numbers, and all actions of an event wait for it. The hash is over the previous
-- hash, the line's own columns, each followed by a line feed, and the payload's bytes. SECURITY DEFINER lets
-- the program append where it may not insert, and the fixed search_path keeps it from being led to other
-- tables.
-- +goose StatementBegin
CREATE FUNCTION journal_append(
    in_scope uuid, in_action uuid, in_pass uuid, in_device text, in_at timestamptz, in_kind text, in_subject uuid, in_payload bytea
) RETURNS bigint LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
    head      journal_head;
    line_hash bytea;
BEGIN
    -- The first line of a scope makes its head. Of two at once one waits here for the other.
    INSERT INTO journal_head (scope, number, hash) VALUES (in_scope, 0, '') ON CONFLICT DO NOTHING;
    SELECT * INTO head FROM journal_head WHERE scope = in_scope FOR UPDATE;
    head.number := head.number + 1;
    line_hash := sha256(head.hash || convert_to(concat_ws(E'\n', head.number, in_action, in_pass, in_device,
        to_char(in_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), in_kind, in_subject, ''), 'UTF8') || in_payload);
    INSERT INTO journal (scope, number, action_id, pass_id, device, at, kind, subject, payload, prev_hash, hash)
    VALUES (in_scope, head.number, in_action, in_pass, in_device, in_at, in_kind, in_subject, in_payload, head.hash, line_hash);
    UPDATE journal_head SET number = head.number, hash = line_hash WHERE scope = in_scope;
    RETURN head.number;
END
$$;
-- +goose StatementEnd

-- What the program may do. It has no right to write the journal or its head, none to delete but in a line-up,
-- which a redraw replaces, and none to change what is planned for good.
REVOKE ALL ON FUNCTION journal_append FROM PUBLIC;
GRANT USAGE ON SCHEMA public TO clayline_app;
GRANT SELECT ON ALL TABLES IN SCHEMA public TO clayline_app;
GRANT INSERT ON event, track, sled, session, class, entry, round, slot, setting, hook, pass TO clayline_app;
GRANT UPDATE ON class, entry, slot, setting, hook, pass TO clayline_app;
GRANT UPDATE (name) ON event TO clayline_app; -- for its row lock alone
GRANT DELETE ON slot TO clayline_app;
GRANT EXECUTE ON FUNCTION journal_append TO clayline_app;

-- +goose Down
DROP TABLE journal_head, journal, pass, hook, setting, slot, round, entry, class, session, sled, track, event CASCADE;
DROP FUNCTION journal_append, journal_only_grows, pass_enters_once, class_keeps_its_rules, setting_stays_frozen, hook_keeps_its_setting;
