package postgres

import (
	"encoding"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// queueSettings asks for the setting revisions of the classes' rounds, the oldest first.
func (r *classRead) queueSettings(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT round_id, revision, box, slabs_left, slabs_mid, slabs_right, piles, gear, start_hole, trip, pan,
		       blades, push_down, device, speed_limit, note, drafted_at, frozen_at, closed_at, reason
		FROM setting
		WHERE round_id IN (`+roundsOf(which)+`)
		ORDER BY round_id, revision`, args), r.setting)
}

// setting reads one revision into its round. Weights, the trip point and the speed are kept as the text that
// the domain writes, since they are read again and never computed with.
func (r *classRead) setting(rows pgx.Rows) error {
	var id uuid.UUID
	var rev domain.Revision
	var box, piles, trip, pan, limit string
	var frozen, closed *time.Time
	s := &rev.Setting
	err := rows.Scan(&id, &rev.Number, &box, &s.Slabs.Left, &s.Slabs.Middle, &s.Slabs.Right, &piles, &s.Gear, &s.StartHole, &trip, &pan,
		&s.Blades, &s.PushDown, &s.Device, &limit, &s.Note, &rev.Drafted, &frozen, &closed, &rev.Reason)
	if err != nil {
		return err
	}
	rev.Drafted, rev.Frozen, rev.Closed = rev.Drafted.UTC(), utc(frozen), utc(closed)
	for _, v := range []struct {
		into encoding.TextUnmarshaler
		text string
	}{{&s.Box, box}, {&s.Piles, piles}, {&s.Trip, trip}, {&s.Pan, pan}, {&s.SpeedLimit, limit}} {
		if err := v.into.UnmarshalText([]byte(v.text)); err != nil {
			return err
		}
	}
	round := r.round(id)
	round.Revisions = append(round.Revisions, rev)
	return nil
}

// saveSettings writes new and changed revisions, the older first, so that one closes before the next opens. A
// draft that is written over and one that is frozen are two statements, because the trigger that guards frozen
// settings lets them pass for different reasons.
func (t *tx) saveSettings(before, after domain.Round) {
	for i, rev := range after.Revisions {
		switch {
		case i >= len(before.Revisions):
			t.writes.Queue(`
				INSERT INTO setting (round_id, revision, box, slabs_left, slabs_mid, slabs_right, piles, gear, start_hole, trip, pan,
				                     blades, push_down, device, speed_limit, note, drafted_at, frozen_at, closed_at, reason)
				VALUES (@round, @revision, @box, @left, @mid, @right, @piles, @gear, @hole, @trip, @pan,
				        @blades, @push_down, @device, @limit, @note, @drafted, @frozen, @closed, @reason)`,
				settingArgs(after.ID, rev))
		case rev.Setting != before.Revisions[i].Setting || rev.Drafted != before.Revisions[i].Drafted:
			t.writes.Queue(`
				UPDATE setting
				SET box = @box, slabs_left = @left, slabs_mid = @mid, slabs_right = @right, piles = @piles, gear = @gear, start_hole = @hole,
				    trip = @trip, pan = @pan, blades = @blades, push_down = @push_down, device = @device,
				    speed_limit = @limit, note = @note, drafted_at = @drafted
				WHERE round_id = @round AND revision = @revision`,
				settingArgs(after.ID, rev))
		case rev != before.Revisions[i]:
			t.writes.Queue(`
				UPDATE setting
				SET frozen_at = @frozen, closed_at = @closed
				WHERE round_id = @round AND revision = @revision`,
				settingArgs(after.ID, rev))
		}
	}
}

// settingArgs are the columns of a revision by name, for all three statements.
func settingArgs(round uuid.UUID, r domain.Revision) pgx.NamedArgs {
	s := r.Setting
	return pgx.NamedArgs{
		"round": round, "revision": r.Number, "box": s.Box.String(),
		"left": s.Slabs.Left, "mid": s.Slabs.Middle, "right": s.Slabs.Right, "piles": s.Piles.String(),
		"gear": s.Gear, "hole": s.StartHole, "trip": s.Trip.String(), "pan": s.Pan.String(),
		"blades": s.Blades, "push_down": s.PushDown, "device": s.Device, "limit": s.SpeedLimit.String(), "note": s.Note,
		"drafted": r.Drafted, "frozen": null(r.Frozen), "closed": null(r.Closed), "reason": r.Reason,
	}
}
