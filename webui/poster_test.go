package webui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/webui/templates"
)

func TestTheNamesThatNoPhoneFinds(t *testing.T) {
	t.Parallel()
	for host, only := range map[string]bool{
		"localhost": true, "localhost:8080": true, "127.0.0.1:8080": true, "127.0.0.1": true, "[::1]:8080": true, "[::1]": true,
		"pull.example": false, "192.168.1.20:8080": false, "localhost.example": false, "[2001:db8::7]:8080": false, "": false,
	} {
		assert.Equal(t, only, local(host), host)
	}
}

func TestAPosterHasItsAddressInLettersAndAsACode(t *testing.T) {
	t.Parallel()
	p, err := poster("https://pull.example", "/e/tarn-hollow/pits", templates.Poster{Title: "Tarn Hollow"})
	require.NoError(t, err)
	assert.Equal(t, "https://pull.example/e/tarn-hollow/pits", p.Address)
	assert.True(t, strings.HasPrefix(p.Code, "<svg "))
	_, err = poster("https://"+strings.Repeat("long.", 1000)+"example", "/e", templates.Poster{})
	require.ErrorContains(t, err, "too long")
}
