package postgres

import (
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// queueHooks asks for the hooks of the classes' rounds, in the order called. A distance comes as text, with the
// zeros it was read with; as a number of Go it would lose them.
func (r *classRead) queueHooks(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT round_id, id, entry_id, revision, number, attempt, is_test, called_at, started_at, ended_at,
		       coalesce(outcome, ''), coalesce(distance::text, ''), coalesce(unit, ''), reason, choice, corrected, changed_at,
		       ready_at, ready_held, ready_words, differed, differed_words, top_speed, line_speed,
		       flag, flag_reason, flag_at
		FROM hook
		WHERE round_id IN (`+roundsOf(which)+`)
		ORDER BY round_id, number`, args), r.hook)
}

// hook reads one hook into its round. Of outcome and end there are both or neither, which a constraint holds.
func (r *classRead) hook(rows pgx.Rows) error {
	var id uuid.UUID
	var h domain.Hook
	var started, ended, changed, ready, flagged *time.Time
	var outcome, distance, unit, choice, differed, top, atLine, flag string
	err := rows.Scan(&id, &h.ID, &h.Entry, &h.Revision, &h.Number, &h.Attempt, &h.Test, &h.Called, &started, &ended,
		&outcome, &distance, &unit, &h.Result.Reason, &choice, &h.Corrected, &changed,
		&ready, &h.Ready.Held, &h.Ready.Words, &differed, &h.Difference.Words, &top, &atLine, &flag, &h.Flag.Reason, &flagged)
	if err != nil {
		return err
	}
	h.Called, h.Started, h.Ended, h.Changed = h.Called.UTC(), utc(started), utc(ended), utc(changed)
	h.Ready.At, h.Flag.At = utc(ready), utc(flagged)
	if err := h.Flag.Call.UnmarshalText([]byte(flag)); err != nil {
		return err
	}
	if err := h.Result.Outcome.UnmarshalText([]byte(outcome)); err != nil {
		return err
	}
	if err := h.Choice.UnmarshalText([]byte(choice)); err != nil {
		return err
	}
	if err := h.Difference.What.UnmarshalText([]byte(differed)); err != nil {
		return err
	}
	if err := h.Speeds.Top.UnmarshalText([]byte(top)); err != nil {
		return err
	}
	if err := h.Speeds.AtLine.UnmarshalText([]byte(atLine)); err != nil {
		return err
	}
	if unit != "" {
		if h.Result.Distance, err = readDistance(distance, unit); err != nil {
			return err
		}
	}
	round := r.round(id)
	round.Hooks = append(round.Hooks, h)
	return nil
}

// readDistance joins the two columns of a distance: figures in the unit, inches as one number.
func readDistance(figures, unit string) (domain.Distance, error) {
	u, err := domain.ParseUnit(unit)
	if err != nil {
		return domain.Distance{}, err
	}
	return domain.ParseDistance(figures, u)
}

// saveHooks writes what came of hooks before it writes the hook that was called next. Hooks are in the order
// called, so that the new one is last. What a hook was called for is written once: its round, its setting and
// its entry never change, and a trigger refuses it.
func (t *tx) saveHooks(before, after domain.Round) {
	for i, h := range after.Hooks {
		switch {
		case i >= len(before.Hooks):
			t.writes.Queue(`
				INSERT INTO hook (id, round_id, revision, entry_id, number, attempt, is_test, called_at, started_at, ended_at,
				                  outcome, distance, unit, reason, choice, corrected, changed_at, ready_at, ready_held, ready_words, differed, differed_words,
				                  top_speed, line_speed, flag, flag_reason, flag_at)
				VALUES (@id, @round, @revision, @entry, @number, @attempt, @test, @called, @started, @ended,
				        @outcome, @distance::text::numeric, @unit, @reason, @choice, @corrected, @changed, @ready, @held, @words, @differed, @differed_words,
				        @top_speed, @line_speed, @flag, @flag_reason, @flag_at)`,
				hookArgs(after.ID, h))
		case h != before.Hooks[i]:
			t.writes.Queue(`
				UPDATE hook
				SET started_at = @started, ended_at = @ended, outcome = @outcome, distance = @distance::text::numeric, unit = @unit, reason = @reason,
				    choice = @choice, corrected = @corrected, changed_at = @changed, ready_at = @ready, ready_held = @held, ready_words = @words,
				    differed = @differed, differed_words = @differed_words, top_speed = @top_speed, line_speed = @line_speed,
				    flag = @flag, flag_reason = @flag_reason, flag_at = @flag_at
				WHERE id = @id`,
				hookArgs(after.ID, h))
		}
	}
}

// hookArgs are the columns of a hook by name, for both statements. What is not known yet is NULL.
func hookArgs(round uuid.UUID, h domain.Hook) pgx.NamedArgs {
	return pgx.NamedArgs{
		"id": h.ID, "round": round, "revision": h.Revision, "entry": h.Entry, "number": h.Number, "attempt": h.Attempt,
		"test": h.Test, "called": h.Called, "started": null(h.Started), "ended": null(h.Ended),
		"outcome": orNull(h.Result.Outcome.String()), "distance": orNull(h.Result.Distance.Decimal()),
		"unit": orNull(h.Result.Distance.Unit().String()), "reason": h.Result.Reason,
		"choice": h.Choice.String(), "corrected": h.Corrected, "changed": null(h.Changed),
		"ready": null(h.Ready.At), "held": h.Ready.Held, "words": h.Ready.Words,
		"differed": h.Difference.What.String(), "differed_words": h.Difference.Words,
		"top_speed": h.Speeds.Top.String(), "line_speed": h.Speeds.AtLine.String(),
		"flag": h.Flag.Call.String(), "flag_reason": h.Flag.Reason, "flag_at": null(h.Flag.At),
	}
}

// orNull turns the empty text into NULL, for columns whose constraints tell "none" from a word.
func orNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
