package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// Marks reads the hooks of which records are made; see the desk's Tx. What a correction took out of a round
// made none.
func (t *tx) Marks(ctx context.Context) (marks []domain.Mark, err error) {
	defer wrap(&err, "Marks")
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT c.name, concat_ws(', ', nullif(e.place, ''), t.name), d.name, e.name, r.name, x.box, x.gear, x.start_hole, x.trip,
		       n.number, n.puller, h.outcome, h.distance::text, h.unit, s.note
		FROM hook h
		JOIN round r ON r.id = h.round_id
		JOIN class c ON c.id = r.class_id
		JOIN event e ON e.id = c.event_id
		JOIN track t ON t.id = c.track_id
		JOIN sled d ON d.id = c.sled_id
		JOIN slot s ON s.round_id = h.round_id AND s.entry_id = h.entry_id
		JOIN entry n ON n.id = h.entry_id
		JOIN setting x ON x.round_id = h.round_id AND x.revision = h.revision
		WHERE c.official_at IS NOT NULL
		  AND h.outcome IN ('measured', 'FP')
		  AND h.distance IS NOT NULL
		ORDER BY h.ended_at, h.id`),
		func(rows pgx.Rows) error {
			m, slot, err := readMark(rows)
			if slot.Belongs() {
				marks = append(marks, m)
			}
			return err
		})
	return marks, t.read(ctx, &batch)
}

// readMark reads one row of [tx.Marks]; of the slot it is known whether it belongs.
func readMark(rows pgx.Rows) (m domain.Mark, slot domain.Slot, err error) {
	var s domain.Setting
	var round, box, trip, outcome, figures, unit string
	err = rows.Scan(&m.Class, &m.Track, &m.Sled, &m.Event, &round, &box, &s.Gear, &s.StartHole, &trip, &m.Number, &m.Holder, &outcome, &figures, &unit, &slot.Note)
	if err != nil {
		return m, slot, err
	}
	if err := s.Box.UnmarshalText([]byte(box)); err != nil {
		return m, slot, err
	}
	if err := s.Trip.UnmarshalText([]byte(trip)); err != nil {
		return m, slot, err
	}
	m.Setting = s.Brief()
	if m.Round, err = domain.ParseRoundName(round); err != nil {
		return m, slot, err
	}
	m.Result.Outcome = map[string]domain.Outcome{"measured": domain.Measured, "FP": domain.FullPull}[outcome]
	m.Result.Distance, err = readDistance(figures, unit)
	return m, slot, err
}
