-- +goose Up

-- Which slabs lie where in the box, as text that people read: "1,800 lb: 6 left, 6 right". Empty where nobody said what
-- a slab weighs. The trigger on settings compares all columns, this one too.
ALTER TABLE setting
    ADD COLUMN piles text NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE setting
    DROP COLUMN piles;
