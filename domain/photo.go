package domain

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Bounds of a photo. A photo of a display is legible in far less; what is larger would make the backup of an event slow. The
// pixels are bounded because a picture of a few KiB can be made that fills the memory of whoever looks at it.
const (
	MaxPhotoBytes  = 4 << 20
	MaxPhotoPixels = 64_000_000
	MaxPhotos      = 6 // of one hook
)

// PhotoType is the format of a photo: those that every browser shows.
type PhotoType uint8

// The formats.
const (
	PhotoJPEG PhotoType = iota + 1
	PhotoPNG
	PhotoWebP
)

// photoTypes are the media types of the formats (RFC 2046, RFC 9649 and the register of media types).
var photoTypes = [...]string{"", "image/jpeg", "image/png", "image/webp"}

// String returns the media type, "image/jpeg", or "" for the zero PhotoType.
func (t PhotoType) String() string {
	if int(t) >= len(photoTypes) {
		return ""
	}
	return photoTypes[t]
}

// MarshalText writes [PhotoType.String].
func (t PhotoType) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads what MarshalText wrote; empty text is the zero PhotoType.
func (t *PhotoType) UnmarshalText(text []byte) error {
	i := slices.Index(photoTypes[:], string(text))
	if i < 0 {
		return invalid("photo", fmt.Sprintf("%q is no format of a photo here", text), "send a JPEG, PNG or WebP")
	}
	*t = PhotoType(i) // #nosec G115 -- four formats
	return nil
}

// Photo is what is known of a photo of a reading, without its bytes. It is never changed, replaced or deleted: another one
// stands beside it.
type Photo struct {
	ID   uuid.UUID
	Hook uuid.UUID
	// Reading is the distance that stood when the photo was attached. A hook that is measured again keeps its photos, each
	// with the reading that it shows.
	Reading Distance
	Type    PhotoType
	Size    int    // in bytes
	SHA256  string // of the bytes, 64 hexadecimal digits in lower case
	At      time.Time
}

// AttachPhoto attaches a photo of the reading to a hook with a distance, of any round. [ReadPhoto] makes the part that the
// bytes say. The journal has the hash, and the hash is that of the bytes as they came: whoever doubts a reading can tell that
// the photo is the one which was attached then.
type AttachPhoto struct {
	Photo, Hook uuid.UUID
	// Reading is the distance that the person saw when attaching; zero for whatever stands.
	Reading Distance
	Type    PhotoType
	Size    int
	SHA256  string
	// bytes are the photo. They are no part of the payload, and the decision asks for nothing of them.
	bytes []byte
}

// Bytes returns the photo itself, nil for an action that was read from a journal.
func (a AttachPhoto) Bytes() []byte { return a.bytes }

// ReadPhoto recognises a photo by its first bytes, whatever it is called or said to be, and makes the action of it without its
// ids. Refused are what is empty, larger than [MaxPhotoBytes], no JPEG, PNG or WebP, or does not say how many pixels it has,
// and what has more than [MaxPhotoPixels]. The bytes are taken as they are and not copied.
//
//	ff d8 ff e0 … ff c0 00 11 08 01 90 02 58 …     image/jpeg, 600 × 400
func ReadPhoto(bytes []byte) (AttachPhoto, error) {
	const smaller = "take it at a smaller size, or cut out the part with the reading"
	kind, width, height := PhotoShape(bytes)
	switch {
	case len(bytes) == 0:
		return AttachPhoto{}, invalid("photo", "there is no photo", "take one, or choose a file")
	case len(bytes) > MaxPhotoBytes:
		return AttachPhoto{}, invalid("photo", fmt.Sprintf("the photo has more than %d MB", MaxPhotoBytes>>20), smaller)
	case kind == 0:
		return AttachPhoto{}, invalid("photo", "the file is no JPEG, PNG or WebP", "take the photo in one of these formats, or save it as one")
	case width < 1 || height < 1:
		return AttachPhoto{}, invalid("photo", "the photo is damaged", "send it again, or take another")
	case height > MaxPhotoPixels/width:
		return AttachPhoto{}, invalid("photo", fmt.Sprintf("the photo has more than %d million pixels", MaxPhotoPixels/1_000_000), smaller)
	}
	sum := sha256.Sum256(bytes)
	return AttachPhoto{Type: kind, Size: len(bytes), SHA256: hex.EncodeToString(sum[:]), bytes: bytes}, nil
}

// check refuses what [ReadPhoto] does not make.
func (a AttachPhoto) check() error {
	sum, err := hex.DecodeString(a.SHA256)
	if a.Type < PhotoJPEG || a.Type > PhotoWebP || a.Size < 1 || a.Size > MaxPhotoBytes || err != nil || hex.EncodeToString(sum) != a.SHA256 || len(sum) != sha256.Size {
		return invalid("photo", "that is no photo", "send a JPEG, PNG or WebP")
	}
	return nil
}

// decide takes a photo of any hook with a distance, also of one that does not count: it shows what was read.
func (a AttachPhoto) decide(c *Class, at time.Time) error {
	if err := a.check(); err != nil {
		return err
	}
	_, h := c.find(a.Hook)
	switch {
	case h == nil:
		return notFound("there is no such hook", "reload the page")
	case h.Result.Distance.IsZero():
		return wrongState("that hook has no measured distance", "store the reading first, and attach the photo to it then")
	case !a.Reading.IsZero() && a.Reading != h.Result.Distance:
		return &Error{Kind: Stale, Field: "reading", Message: "the reading is " + h.Result.Distance.String() + " by now, and not " + a.Reading.String(),
			Fix: "look whether the photo shows it, and attach it then"}
	case a.Photo == uuid.Nil || slices.ContainsFunc(c.Photos, func(p Photo) bool { return p.ID == a.Photo }):
		return invalid("id", "the photo has no id of its own", "give a new one")
	}
	have := c.PhotosOf(a.Hook)
	switch {
	case slices.ContainsFunc(have, func(p Photo) bool { return p.SHA256 == a.SHA256 }):
		return wrongState("that photo is attached to the hook already", "nothing is left to do")
	case len(have) >= MaxPhotos:
		return wrongState(fmt.Sprintf("that hook has %d photos, and no more are kept of one", MaxPhotos), "keep the photo yourself, if it is needed")
	}
	c.Photos = append(c.Photos, Photo{ID: a.Photo, Hook: a.Hook, Reading: h.Result.Distance, Type: a.Type, Size: a.Size, SHA256: a.SHA256, At: at})
	return nil
}

// PhotosOf returns the photos of a hook, in the order attached.
func (c *Class) PhotosOf(hook uuid.UUID) []Photo {
	return slices.DeleteFunc(slices.Clone(c.Photos), func(p Photo) bool { return p.Hook != hook })
}
