package api

import (
	"bytes"
	"net/http"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/doc"
)

// estimate does a job of the sled estimate for the cab and the desk: the job document is the body, its result the
// answer. It stores nothing and is the same whenever it is sent again, so that it is the one POST without a key. A job
// may be longer than other bodies.
//
//	POST /api/v1/events/harvest-pull/sled
//	{"job": "topout", "sled": {…}}
func (s *Server) estimate(c echo.Context) error {
	if _, _, err := s.staffEvent(c, domain.Cab|domain.Desk); err != nil {
		return err
	}
	raw, err := readRaw(c, doc.MaxSledJob)
	if err != nil {
		return err
	}
	// What is no JSON is told as for every other body; what is no job, by the one reader of jobs.
	if _, err := parseBody(raw); err != nil {
		return err
	}
	job, err := doc.ReadSledJob(bytes.NewReader(raw))
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, job.Run())
}
