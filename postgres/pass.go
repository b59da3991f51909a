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
		SELECT id, coalesce(event_id, '00000000-0000-0000-0000-000000000000'), role, issued_at, expires_at, used_at, device, is_bearer
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
	var found bool
	var role string
	var used *time.Time
	one(batch.Queue(sql, pgx.NamedArgs{"hash": hash}), &found, &p.ID, &p.Event, &role, &p.Issued, &p.Expires, &used, &p.Device, &p.Bearer)
	if err := t.read(ctx, &batch); err != nil {
		return p, err
	}
	if !found {
		return p, &domain.Error{Kind: domain.NotFound, Message: "this link is not known here", Fix: "ask the desk for a new one"}
	}
	p.Issued, p.Expires, p.Used = p.Issued.UTC(), p.Expires.UTC(), utc(used)
	p.Role, err = domain.ParseRole(role)
	return p, err
}

// DeskEntered reports whether a desk pass for the whole server was ever used; see the desk's Tx.
func (t *tx) DeskEntered(ctx context.Context) (entered bool, err error) {
	defer wrap(&err, "DeskEntered")
	var batch pgx.Batch
	var found bool
	one(batch.Queue(`
		SELECT EXISTS (SELECT FROM pass WHERE event_id IS NULL AND role = 'desk' AND used_at IS NOT NULL)`),
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

// idOrNull turns the nil UUID into NULL.
func idOrNull(id uuid.UUID) *uuid.UUID {
	if id == uuid.Nil {
		return nil
	}
	return &id
}
