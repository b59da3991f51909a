package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/desk"
)

// passColumns are what a pass is read from, in the order in which [tx.pass] scans them. The nil UUID stands for
// every event of the server, which the table has as NULL so that the reference to an event can be one.
const passColumns = `
		SELECT id, coalesce(event_id, '00000000-0000-0000-0000-000000000000'), role, issued_at, expires_at, used_at, device, is_bearer, ended_at, is_revoked
		FROM pass`

// PassByLink reads a pass by its link; see the desk's Tx. That it enters only once is a constraint, not a lock.
func (t *tx) PassByLink(ctx context.Context, hash []byte) (desk.Pass, error) {
	return t.pass(ctx, passColumns+`
		WHERE link_hash = @hash`, hash)
}

// PassBySecret reads a pass by what its holder acts with; see the desk's Tx.
func (t *tx) PassBySecret(ctx context.Context, hash []byte) (desk.Pass, error) {
	return t.pass(ctx, passColumns+`
		WHERE cookie_hash = @hash`, hash)
}

// pass reads one pass by a hash. That none has it is NotFound, for a link and for a secret alike: who tries
// some learns nothing from the answer.
func (t *tx) pass(ctx context.Context, sql string, hash []byte) (p desk.Pass, err error) {
	defer wrap(&err, "pass")
	var batch pgx.Batch
	found := queuePasses(&batch, sql, pgx.NamedArgs{"hash": hash})
	if err := t.read(ctx, &batch); err != nil {
		return p, err
	}
	if len(*found) == 0 {
		return p, &domain.Error{Kind: domain.NotFound, Message: "this link is not known here", Fix: "ask the desk for a new one"}
	}
	return (*found)[0].Pass, nil
}

// queuePasses asks for passes; they are there once the batch was answered. Columns that the query has after those of
// [passColumns] are scanned into more, which stands for the time of the last use.
func queuePasses(batch *pgx.Batch, sql string, args pgx.NamedArgs) *[]desk.PassUse {
	var list []desk.PassUse
	each(batch.Queue(sql, args), func(rows pgx.Rows) error {
		var p desk.PassUse
		var role string
		var used, ended, last *time.Time
		into := []any{&p.ID, &p.Event, &role, &p.Issued, &p.Expires, &used, &p.Device, &p.Bearer, &ended, &p.Revoked, &last}
		err := rows.Scan(into[:len(rows.FieldDescriptions())]...)
		if err != nil {
			return err
		}
		p.Issued, p.Expires, p.Used, p.Ended, p.Last = p.Issued.UTC(), p.Expires.UTC(), utc(used), utc(ended), utc(last)
		p.Role, err = domain.ParseRole(role)
		list = append(list, p)
		return err
	})
	return &list
}

// passNow reads the pass that acts, for [tx.LockClass].
const passNow = passColumns + `
		WHERE id = @pass`

// LockPass locks and reads a pass; see the desk's Tx. Two who end one pass are served one after the other.
func (t *tx) LockPass(ctx context.Context, id uuid.UUID) (p desk.Pass, err error) {
	defer wrap(&err, "LockPass(%s)", id)
	var batch pgx.Batch
	found := queuePasses(&batch, passNow+`
		FOR UPDATE`, pgx.NamedArgs{"pass": id})
	if err := t.read(ctx, &batch); err != nil {
		return p, err
	}
	if len(*found) == 0 {
		return p, &domain.Error{Kind: domain.NotFound, Message: "there is no such pass here", Fix: "look at the list of passes"}
	}
	return (*found)[0].Pass, nil
}

// Passes reads the passes of an event or of the server; see the desk's Tx. The last use is the last line that the pass
// has in any journal, since one for every event has lines in several.
func (t *tx) Passes(ctx context.Context, event uuid.UUID, most int) (passes []desk.PassUse, err error) {
	defer wrap(&err, "Passes(%s)", event)
	var batch pgx.Batch
	found := queuePasses(&batch, `
		SELECT p.id, coalesce(p.event_id, '00000000-0000-0000-0000-000000000000'), p.role, p.issued_at, p.expires_at,
		       p.used_at, p.device, p.is_bearer, p.ended_at, p.is_revoked, u.last_at
		FROM pass p
		LEFT JOIN (
			SELECT pass_id, max(at) AS last_at
			FROM journal
			WHERE @event = '00000000-0000-0000-0000-000000000000'::uuid OR scope = @event
			GROUP BY pass_id
		) u ON u.pass_id = p.id
		WHERE coalesce(p.event_id, '00000000-0000-0000-0000-000000000000') = @event
		ORDER BY p.issued_at DESC, p.id
		LIMIT @most`,
		pgx.NamedArgs{"event": event, "most": most})
	err = t.read(ctx, &batch)
	return *found, err
}

// DeskEntered reports whether a desk pass for the whole server was used and has not ended; see the desk's Tx.
func (t *tx) DeskEntered(ctx context.Context) (entered bool, err error) {
	defer wrap(&err, "DeskEntered")
	var batch pgx.Batch
	var found bool
	one(batch.Queue(`
		SELECT EXISTS (SELECT FROM pass WHERE event_id IS NULL AND role = 'desk' AND used_at IS NOT NULL AND ended_at IS NULL)`),
		&found, &entered)
	return entered, t.read(ctx, &batch)
}

// AddPass writes a new pass; see the desk's Tx.
func (t *tx) AddPass(p desk.Pass, linkHash []byte) {
	t.writes.Queue(`
		INSERT INTO pass (id, event_id, role, link_hash, issued_at, expires_at)
		VALUES (@id, @event, @role, @hash, @issued, @expires)`,
		pgx.NamedArgs{"id": p.ID, "event": idOrNull(p.Event), "role": p.Role.String(), "hash": linkHash, "issued": p.Issued, "expires": p.Expires})
}

// UsePass enters a device or a program; see the desk's Tx. Where two use a link at once, the trigger refuses
// the second, which waited for the first's row.
func (t *tx) UsePass(p desk.Pass, secretHash []byte) {
	t.writes.Queue(`
		UPDATE pass
		SET used_at = @at, cookie_hash = @hash, device = @device, is_bearer = @bearer
		WHERE id = @id`,
		pgx.NamedArgs{"id": p.ID, "hash": secretHash, "device": p.Device, "at": p.Used, "bearer": p.Bearer})
}

// EndPass ends a pass; see the desk's Tx. A trigger keeps it so.
func (t *tx) EndPass(p desk.Pass) {
	t.writes.Queue(`
		UPDATE pass
		SET ended_at = @at, is_revoked = @revoked
		WHERE id = @id`,
		pgx.NamedArgs{"id": p.ID, "at": p.Ended, "revoked": p.Revoked})
}

// idOrNull turns the nil UUID into NULL.
func idOrNull(id uuid.UUID) *uuid.UUID {
	if id == uuid.Nil {
		return nil
	}
	return &id
}
