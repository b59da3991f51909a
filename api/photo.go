package api

import (
	"mime"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// photoList is what is known of the photos of readings of a class, for staff. It is no part of the class that everybody reads.
type photoList struct {
	versioned
	Photos []photo `json:"photos"`
}

// photo is what is known of a photo. Reading is the distance that stood when it was attached.
type photo struct {
	ID      uuid.UUID `json:"id"`
	Hook    uuid.UUID `json:"hook"`
	Reading *measure  `json:"reading"`
	Type    string    `json:"type"`
	Size    int       `json:"size"`
	SHA256  string    `json:"sha256"`
	At      time.Time `json:"at"`
}

// photos lists the photos of a class in the order attached; none is the empty list.
func (s *Server) photos(c echo.Context) error {
	page, err := s.staffClass(c, desk.PhotoRoles)
	if err != nil {
		return err
	}
	list := photoList{versioned: versioned{lastNumber(page.Journal)}, Photos: make([]photo, len(page.Class.Photos))}
	for i, p := range page.Class.Photos {
		list.Photos[i] = photo{ID: p.ID, Hook: p.Hook, Reading: distanceOf(p.Reading), Type: p.Type.String(), Size: p.Size, SHA256: p.SHA256, At: p.At.UTC()}
	}
	return send(c, http.StatusOK, list)
}

// photo shows a photo as it came, as what its bytes are.
func (s *Server) photo(c echo.Context) error {
	by, err := s.inRole(c, desk.PhotoRoles)
	if err != nil {
		return err
	}
	id, err := parseID(c.Param("photo"))
	if err != nil {
		return &domain.Error{Kind: domain.NotFound, Field: "photo", Message: "there is no such photo", Fix: "read the photos of the class; they have the ids"}
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

// slowly gives a photo the time that it takes on a slow network, both ways, instead of that of any other request. A
// connection that knows no deadlines, as in a test, has all the time.
func (s *Server) slowly(c echo.Context) {
	control, until := http.NewResponseController(c.Response()), s.now().Add(desk.PhotoTime)
	_, _ = control.SetReadDeadline(until), control.SetWriteDeadline(until)
}

// attachPhoto attaches the photo in the body to the hook of the address. The body is the photo itself and no JSON, so that
// a camera's file is sent as it is: the type that it is sent as must be one of a picture, and what the photo is kept as is
// said by its bytes.
func (s *Server) attachPhoto(c echo.Context) error {
	roles := domain.KindOfAction(domain.AttachPhoto{}).Roles
	by, err := s.holder(c, s.desk.Acting)
	if err := inRoles(by, roles, err); err != nil {
		return err
	}
	in, err := keyed(c, by)
	if err != nil {
		return err
	}
	if kind, _, err := mime.ParseMediaType(c.Request().Header.Get("Content-Type")); err != nil || !strings.HasPrefix(kind, "image/") {
		return &refusal{mediaSort, "a photo is sent as it is, and says that it is a picture", "send the file with the header Content-Type: image/jpeg, image/png or image/webp", "Content-Type"}
	}
	s.slowly(c)
	bytes, err := readBytes(c, domain.MaxPhotoBytes)
	if err != nil {
		return err
	}
	action, err := domain.ReadPhoto(bytes)
	if err != nil {
		return placed(err, "")
	}
	action.Hook, action.Photo = in.param("hook"), in.derive("photo")
	return s.do(c, in, http.StatusCreated, deed{action: action, named: named{Hook: &action.Hook, Photo: &action.Photo}})
}
