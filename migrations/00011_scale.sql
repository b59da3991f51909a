-- +goose Up

-- Somebody at the scale writes down what it shows.
ALTER TABLE pass DROP CONSTRAINT pass_role_check;
ALTER TABLE pass ADD CONSTRAINT pass_role_check CHECK (role IN ('desk', 'booth', 'cab', 'scale'));

-- What the scale showed for a vehicle. The weight is text with its unit, as it was read. A reading that was misread stays,
-- with the reason why it does not count.
CREATE TABLE reading (
    id       uuid PRIMARY KEY,
    class_id uuid NOT NULL,
    position int  NOT NULL,
    entry_id uuid NOT NULL,
    weight   text NOT NULL CHECK (weight <> ''),
    is_after boolean NOT NULL,
    at       timestamptz NOT NULL,
    misread  text NOT NULL,
    FOREIGN KEY (class_id, entry_id) REFERENCES entry (class_id, id),
    CONSTRAINT reading_position_is_unique UNIQUE (class_id, position)
);

-- The program writes a reading once; only why it does not count is added later.
GRANT SELECT, INSERT, UPDATE (misread) ON reading TO clayline_app;

-- +goose Down
DROP TABLE reading;
ALTER TABLE pass DROP CONSTRAINT pass_role_check;
ALTER TABLE pass ADD CONSTRAINT pass_role_check CHECK (role IN ('desk', 'booth', 'cab'));
