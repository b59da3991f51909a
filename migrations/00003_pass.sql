-- +goose Up

-- A pass ends when its device gives it back or when the desk takes it away, and a link ends before it was used when the
-- desk withdraws it. What ended stays so, for who holds a copy of the secret too.
ALTER TABLE pass
    ADD COLUMN ended_at timestamptz,
    ADD COLUMN is_revoked boolean NOT NULL DEFAULT false,
    ADD CONSTRAINT only_an_ended_pass_is_revoked CHECK (ended_at IS NOT NULL OR NOT is_revoked);

-- Two devices may open one link at the same moment, and the desk may withdraw it at that moment too. The second waits
-- for the row of the first, and is refused here.
-- +goose StatementBegin
CREATE OR REPLACE FUNCTION pass_enters_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.ended_at IS NOT NULL AND to_jsonb(NEW) IS DISTINCT FROM to_jsonb(OLD) THEN
        RAISE EXCEPTION 'a pass that ended stays so'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'ended_pass_stays_so';
    ELSIF OLD.used_at IS NOT NULL
        AND to_jsonb(NEW) - '{ended_at,is_revoked}'::text[] IS DISTINCT FROM to_jsonb(OLD) - '{ended_at,is_revoked}'::text[] THEN
        RAISE EXCEPTION 'a pass enters one device, once'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'pass_enters_once';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd

-- +goose Down
-- +goose StatementBegin
CREATE OR REPLACE FUNCTION pass_enters_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.used_at IS NOT NULL AND to_jsonb(NEW) IS DISTINCT FROM to_jsonb(OLD) THEN
        RAISE EXCEPTION 'a pass enters one device, once'
            USING ERRCODE = 'check_violation', CONSTRAINT = 'pass_enters_once';
    END IF;
    RETURN NEW;
END
$$;
-- +goose StatementEnd
ALTER TABLE pass DROP CONSTRAINT only_an_ended_pass_is_revoked, DROP COLUMN ended_at, DROP COLUMN is_revoked;
