package remind_test

import (
	"encoding/base64"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/remind"
)

func TestAPhoneIsReadAsAPageSendsIt(t *testing.T) {
	t.Parallel()
	key := base64.RawURLEncoding.EncodeToString(append([]byte{4}, make([]byte, 64)...))
	secret := base64.RawURLEncoding.EncodeToString(make([]byte, 16))
	phone, err := remind.ParsePhone("https://push.example.org/x", key, secret, "de")
	require.NoError(t, err)
	require.Equal(t, remind.Phone{Endpoint: "https://push.example.org/x", Key: key, Secret: secret, Language: "de"}, phone)
	_, err = remind.ParsePhone("https://push.example.org/x", key+"=", secret+"==", "en")
	require.NoError(t, err, "some browsers fill the last group up")

	for name, wrong := range map[string][4]string{
		"no address":          {"", key, secret, "endpoint"},
		"not encrypted":       {"http://push.example.org/x", key, secret, "endpoint"},
		"another scheme":      {"file:///etc/passwd", key, secret, "endpoint"},
		"no host":             {"https:///x", key, secret, "endpoint"},
		"a name and password": {"https://a:b@push.example.org/x", key, secret, "endpoint"},
		"a long one":          {"https://push.example.org/" + strings.Repeat("x", 2048), key, secret, "endpoint"},
		"no key":              {"https://push.example.org/x", "", secret, "key"},
		"a short key":         {"https://push.example.org/x", key[:40], secret, "key"},
		"a packed point":      {"https://push.example.org/x", base64.RawURLEncoding.EncodeToString(append([]byte{2}, make([]byte, 64)...)), secret, "key"},
		"no base64":           {"https://push.example.org/x", key, "§", "key"},
		"a short secret":      {"https://push.example.org/x", key, secret[:8], "key"},
	} {
		_, err := remind.ParsePhone(wrong[0], wrong[1], wrong[2], "en")
		require.Equal(t, domain.Invalid, domain.KindOf(err), name)
		refused, ok := errors.AsType[*domain.Error](err)
		require.True(t, ok)
		require.Equal(t, wrong[3], refused.Field, name)
	}
}

// FuzzPhone looks for an address that is taken and is none of a push service.
func FuzzPhone(f *testing.F) {
	key := base64.RawURLEncoding.EncodeToString(append([]byte{4}, make([]byte, 64)...))
	f.Add("https://push.example.org/x", key, base64.RawURLEncoding.EncodeToString(make([]byte, 16)))
	f.Fuzz(func(t *testing.T, endpoint, key, secret string) {
		if p, err := remind.ParsePhone(endpoint, key, secret, "en"); err == nil {
			require.True(t, strings.HasPrefix(strings.ToLower(p.Endpoint), "https://"))
			require.LessOrEqual(t, len(p.Endpoint), 2048)
		}
	})
}
