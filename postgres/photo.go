package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/desk"
)

// photoColumns are what is known of a photo, in the order in which [scanPhoto] reads them. The length of the bytes is known
// without reading them.
const photoColumns = `p.id, p.hook_id, p.reading, p.type, octet_length(p.bytes), encode(p.sha256, 'hex'), p.at`

// scanPhoto reads the columns of a photo, and what else the query gives behind them.
func scanPhoto(rows pgx.Rows, also ...any) (p domain.Photo, err error) {
	var reading, kind string
	if err := rows.Scan(append([]any{&p.ID, &p.Hook, &reading, &kind, &p.Size, &p.SHA256, &p.At}, also...)...); err != nil {
		return p, err
	}
	p.At = p.At.UTC()
	if err := p.Type.UnmarshalText([]byte(kind)); err != nil {
		return p, err
	}
	return p, p.Reading.UnmarshalText([]byte(reading))
}

// queuePhotos asks for what is known of the photos, in the order attached, and for none of their bytes.
func (r *classRead) queuePhotos(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT `+photoColumns+`, p.class_id
		FROM photo p
		WHERE p.class_id IN (`+which+`)
		ORDER BY p.class_id, p.position`, args),
		func(rows pgx.Rows) error {
			var class uuid.UUID
			p, err := scanPhoto(rows, &class)
			if err != nil {
				return err
			}
			c := &r.classes[r.at[class]]
			c.Photos = append(c.Photos, p)
			return nil
		})
}

// AddPhoto writes the newest photo of a class with its bytes; see the desk's Tx.
func (t *tx) AddPhoto(class domain.Class, bytes []byte) {
	position := len(class.Photos)
	p := class.Photos[position-1]
	t.writes.Queue(`
		INSERT INTO photo (id, class_id, position, hook_id, reading, type, sha256, bytes, at)
		VALUES (@id, @class, @position, @hook, @reading, @type, decode(@sha256, 'hex'), @bytes, @at)`,
		pgx.NamedArgs{
			"id": p.ID, "class": class.ID, "position": position, "hook": p.Hook, "reading": p.Reading.String(), "type": p.Type.String(),
			"sha256": p.SHA256, "bytes": bytes, "at": p.At,
		})
}

// Photo reads a photo of a class with its bytes; see the desk's Tx.
func (t *tx) Photo(ctx context.Context, ref desk.Ref, id uuid.UUID) (held desk.HeldPhoto, err error) {
	defer wrap(&err, "Photo(%s)", id)
	var batch pgx.Batch
	found := false
	each(batch.Queue(`
		SELECT `+photoColumns+`, p.bytes, e.id
		FROM photo p
		JOIN class c ON c.id = p.class_id
		JOIN event e ON e.id = c.event_id
		WHERE p.id = @photo AND e.slug = @event AND c.slug = @class`,
		pgx.NamedArgs{"photo": id, "event": ref.Event, "class": ref.Class}),
		func(rows pgx.Rows) (err error) {
			found = true
			held.Photo, err = scanPhoto(rows, &held.Bytes, &held.Event)
			return err
		})
	if err := t.read(ctx, &batch); err != nil {
		return held, err
	}
	if !found {
		return held, &domain.Error{Kind: domain.NotFound, Field: "photo", Message: "there is no such photo in this class", Fix: "look at the class again"}
	}
	return held, nil
}
