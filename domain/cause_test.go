package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

func TestAReasonBeginsWithItsCause(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		reason string
		cause  domain.Cause
	}{
		{"out of bounds", domain.CauseOutOfBounds},
		{"Out of Bounds: left rear wheel", domain.CauseOutOfBounds},
		{"  out  of bounds : left rear", domain.CauseOutOfBounds},
		{"sled out of bounds", domain.CauseSledOutOfBounds},
		{"lost part: a weight", domain.CauseLostPart},
		{"drove over the line", ""},
		{"out of boundslessness", ""},
		{"out of bounds, left rear wheel", ""},
		{"", ""},
	} {
		assert.Equal(t, row.cause, domain.CauseOf(row.reason), row.reason)
	}
}

func TestEveryCauseIsItsOwn(t *testing.T) {
	t.Parallel()
	for _, cause := range domain.Causes() {
		assert.Equal(t, cause, domain.CauseOf(string(cause)))
		assert.Equal(t, cause, domain.CauseOf(string(cause)+": what was seen"))
	}
}
