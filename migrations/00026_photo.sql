-- +goose Up

-- Photos of readings. A photo stays as it came: the bytes are evidence, and the journal has their hash. Who attached it is
-- told by its line in the journal. Bytes of pictures are packed already, so that they are stored as they are.
CREATE TABLE photo (
    id       uuid PRIMARY KEY,
    class_id uuid NOT NULL REFERENCES class,
    position int  NOT NULL,
    hook_id  uuid NOT NULL REFERENCES hook,
    reading  text NOT NULL CHECK (reading <> ''),
    type     text NOT NULL CHECK (type IN ('image/jpeg', 'image/png', 'image/webp')),
    sha256   bytea NOT NULL,
    bytes    bytea NOT NULL,
    at       timestamptz NOT NULL,
    CONSTRAINT photo_position_is_unique UNIQUE (class_id, position),
    CONSTRAINT photo_is_attached_once UNIQUE (hook_id, sha256),
    CONSTRAINT photo_is_bounded CHECK (octet_length(bytes) BETWEEN 1 AND 4194304),
    CONSTRAINT photo_has_its_hash CHECK (sha256 = sha256(bytes))
);
ALTER TABLE photo ALTER COLUMN bytes SET STORAGE EXTERNAL;

-- A photo is of a hook of its class with a distance, which has fewer than six. The hook is locked, so that two who attach at
-- once are counted one after the other.
-- +goose StatementBegin
CREATE FUNCTION photo_is_of_a_reading() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM FROM hook h
    JOIN round r ON r.id = h.round_id
    WHERE h.id = NEW.hook_id AND r.class_id = NEW.class_id AND h.distance IS NOT NULL
    FOR UPDATE OF h;
    IF NOT FOUND THEN
        RAISE EXCEPTION 'a photo is of a hook of its class with a distance'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'photo_is_of_a_reading';
    ELSIF (SELECT count(*) FROM photo WHERE hook_id = NEW.hook_id) >= 6 THEN
        RAISE EXCEPTION 'a hook has at most six photos'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'photos_of_a_hook_are_few';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER photo_is_of_a_reading BEFORE INSERT ON photo
    FOR EACH ROW EXECUTE FUNCTION photo_is_of_a_reading();

-- Whoever asks: a photo is not changed, and not taken away.
-- +goose StatementBegin
CREATE FUNCTION photo_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'a photo is never changed or deleted'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'photo_stays';
END
$$;
-- +goose StatementEnd
CREATE TRIGGER photo_stays BEFORE UPDATE OR DELETE ON photo
    FOR EACH ROW EXECUTE FUNCTION photo_stays();
CREATE TRIGGER photos_stay BEFORE TRUNCATE ON photo
    FOR EACH STATEMENT EXECUTE FUNCTION photo_stays();

GRANT SELECT, INSERT ON photo TO clayline_app;

-- +goose Down
DROP TABLE photo;
DROP FUNCTION photo_is_of_a_reading, photo_stays;
