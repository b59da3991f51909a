package api

import (
	"net/http"

	"github.com/labstack/echo/v4"
)

// shared lets the pages of other sites read an answer, whatever it says: what it is put before tells everybody the same
// and asks nobody who they are. With the asterisk a browser sends no cookie along (WHATWG Fetch, section 3.2.5), and no
// header Authorization, which only a list of names would allow. Writes, the journal and settings that are not frozen are
// not shared.
func shared(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Access-Control-Allow-Origin", "*")
		h.Set("Access-Control-Expose-Headers", "ETag, Retry-After")
		return next(c)
	}
}

// preflightLife is how many seconds a browser remembers what it was told: a day.
const preflightLife = "86400"

// preflight tells a browser what a page of another site may send: reading, and what it has already. A write is not among
// it, and the browser then does not send one.
func preflight(c echo.Context) error {
	h := c.Response().Header()
	h.Set("Access-Control-Allow-Methods", "GET, HEAD")
	h.Set("Access-Control-Allow-Headers", "If-None-Match, Last-Event-ID")
	h.Set("Access-Control-Max-Age", preflightLife)
	return c.NoContent(http.StatusNoContent)
}
