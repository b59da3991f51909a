package postgres

import (
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// queueSignatures asks for the signatures of the classes that were taken away, the oldest first.
func (r *classRead) queueSignatures(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT class_id, made_at, name, reopened_at, reason, entries, places, shared, results
		FROM signature
		WHERE class_id IN (`+which+`)
		ORDER BY class_id, revision`, args), r.signature)
}

// signature reads one signature into its class. The four lists of the standing are of one length, which a constraint
// holds.
func (r *classRead) signature(rows pgx.Rows) error {
	var class uuid.UUID
	var s domain.Signature
	var entries []uuid.UUID
	var places []int
	var shared []bool
	var results []string
	if err := rows.Scan(&class, &s.Made, &s.Name, &s.Reopened, &s.Reason, &entries, &places, &shared, &results); err != nil {
		return err
	}
	s.Made, s.Reopened = s.Made.UTC(), s.Reopened.UTC()
	s.Standing = make([]domain.Signed, len(entries))
	for i := range entries {
		s.Standing[i] = domain.Signed{Entry: entries[i], Place: places[i], Shared: shared[i], Results: results[i]}
	}
	c := &r.classes[r.at[class]]
	c.Earlier = append(c.Earlier, s)
	return nil
}

// saveOfficial writes the signature under a result, or takes it away and keeps it with what it stood under.
func (t *tx) saveOfficial(before, after domain.Class) {
	if before.Official != after.Official {
		t.writes.Queue(`
			UPDATE class
			SET official_at = @made, official_name = @name
			WHERE id = @id`,
			pgx.NamedArgs{"id": after.ID, "made": null(after.Official.Made), "name": after.Official.Name})
	}
	for i, s := range after.Earlier[len(before.Earlier):] {
		args := pgx.NamedArgs{
			"class": after.ID, "revision": len(before.Earlier) + i + 1, "made": s.Made, "name": s.Name, "reopened": s.Reopened, "reason": s.Reason,
		}
		entries, places := make([]uuid.UUID, len(s.Standing)), make([]int, len(s.Standing))
		shared, results := make([]bool, len(s.Standing)), make([]string, len(s.Standing))
		for j, line := range s.Standing {
			entries[j], places[j], shared[j], results[j] = line.Entry, line.Place, line.Shared, line.Results
		}
		args["entries"], args["places"], args["shared"], args["results"] = entries, places, shared, results
		t.writes.Queue(`
			INSERT INTO signature (class_id, revision, made_at, name, reopened_at, reason, entries, places, shared, results)
			VALUES (@class, @revision, @made, @name, @reopened, @reason, @entries, @places, @shared, @results)`, args)
	}
}
