//go:build !js

package webui

import (
	"errors"
	"io"
	"net/http"
	"net/url"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// Where photos are sent, and how much is read there. A photo that is too large is read up to that and thrown away, since a
// browser that is not listened to shows its own page about it and none of ours; see [domain.MaxPhotoBytes] for what is kept.
const (
	photoPath    = "/e/:event/:class/booth/photo"
	maxPhotoBody = "32M"
)

// fileForm bounds what else a form with a file has: its parts, and the bytes of each that is no file.
const (
	mostParts = 12
	mostField = 4 << 10
)

// slowly gives a photo the time that it takes on a slow network, both ways, instead of that of any other request. A
// connection that knows no deadlines, as in a test, has all the time.
func (s *Site) slowly(c echo.Context) {
	control, until := http.NewResponseController(c.Response()), s.now().Add(desk.PhotoTime)
	_, _ = control.SetReadDeadline(until), control.SetWriteDeadline(until)
}

// attachPhoto attaches the photo that the booth sent and leads back to the booth.
func (s *Site) attachPhoto(c echo.Context) error {
	roles := domain.KindOfAction(domain.AttachPhoto{}).Roles
	by, err := s.desk.Acting(c.Request().Context(), secretOf(c), desk.Browser)
	if by, err = inRole(by, err, roles); err != nil {
		return err
	}
	s.slowly(c)
	values, file, err := postedFile(c, templates.FieldPhoto, domain.MaxPhotoBytes+1)
	if err != nil {
		return err
	}
	return s.acted(c, by, sentForm{roles, "booth", "photo", photoAct(domain.ReadPhoto(file)), values}, s.boothPage(c))
}

// postedFile reads a form with one file, of which it keeps at most that many bytes, whatever it is called and said to be.
func postedFile(c echo.Context, field string, most int64) (values url.Values, file []byte, err error) {
	unread := &domain.Error{Kind: domain.Invalid, Message: "the form cannot be read", Fix: "go back and send it again"}
	parts, err := c.Request().MultipartReader()
	if err != nil {
		return nil, nil, unread
	}
	values = url.Values{}
	for range mostParts {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			values, err = cleaned(c, values)
			return values, file, err
		}
		if err != nil {
			return nil, nil, tooLongOr(err, unread)
		}
		name, limit := part.FormName(), int64(mostField)
		if name == field {
			limit = most
		}
		read, err := io.ReadAll(io.LimitReader(part, limit))
		more := int64(0)
		if err == nil {
			more, err = io.Copy(io.Discard, part)
		}
		switch {
		case err != nil:
			return nil, nil, tooLongOr(err, unread)
		case name == field:
			file = read
		case more > 0:
			return nil, nil, unread
		default:
			values.Add(name, string(read))
		}
	}
	return nil, nil, unread
}

// tooLongOr is the error of a body that is too long where it is one, else the other.
func tooLongOr(err, other error) error {
	if tooLong, ok := errors.AsType[*echo.HTTPError](err); ok {
		return tooLong
	}
	return other
}

// photo shows a photo to the staff, as the picture that it is.
func (s *Site) photo(c echo.Context) error {
	by, err := s.may(c, desk.PhotoRoles)
	if err != nil {
		return err
	}
	id, err := uuid.Parse(c.Param("photo"))
	if err != nil {
		return echo.ErrNotFound
	}
	held, err := s.desk.Photo(c.Request().Context(), by, ref(c), id)
	if err != nil {
		return err
	}
	s.slowly(c)
	answer := held.Answer(c.Request().Header.Get("If-None-Match"))
	for name, value := range answer.Header {
		c.Response().Header().Set(name, value)
	}
	if answer.Same {
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(http.StatusOK, held.Type.String(), answer.Body)
}
