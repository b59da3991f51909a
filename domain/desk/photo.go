package desk

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// PhotoRoles are the roles that may look at photos of readings. They are evidence, and hold what a camera writes into them,
// such as where it was: nothing for the public.
const PhotoRoles = domain.Desk | domain.Booth | domain.Cab

// PhotoTime is how long the largest photo may take to come or to go: 4 MB in it are 56 kbit/s.
const PhotoTime = 10 * time.Minute

// HeldPhoto is a photo with its bytes, as they came, and the event that it belongs to.
type HeldPhoto struct {
	domain.Photo
	Bytes []byte
	Event uuid.UUID
}

// Answer answers a reader who has the tags named in If-None-Match: nothing more for one who has the photo. A browser may keep
// the photo for itself and asks each time, so that a pass is asked for each time too. The bytes are shown as the picture that
// they are and as nothing else: opened alone they may run nothing, whatever stands in them.
func (p HeldPhoto) Answer(have string) Answer {
	return Answer{Same: strings.Contains(have, p.SHA256), Body: p.Bytes, Header: map[string]string{
		"Cache-Control": "private, no-cache", "ETag": `"` + p.SHA256 + `"`,
		"Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff",
		"Content-Disposition": `inline; filename="` + p.ID.String() + "." + strings.TrimPrefix(p.Type.String(), "image/") + `"`,
	}}
}

// Photo reads a photo of a class for a pass that may look at it: NotFound where the class has none of that id, Forbidden for
// a pass of another role or event.
func (d *Desk) Photo(ctx context.Context, by By, ref Ref, id uuid.UUID) (held HeldPhoto, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		held, err = tx.Photo(ctx, ref, id)
		return err
	})
	if err == nil {
		err = by.may(PhotoRoles, held.Event)
	}
	if err != nil {
		return HeldPhoto{}, err
	}
	return held, nil
}
