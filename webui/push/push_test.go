package push_test

import (
	"context"
	"crypto/aes"
	"crypto/cipher"
	"crypto/ecdh"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/hkdf"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io"
	"math/big"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/remind"
	"clayline/webui/push"
)

// phone is a browser with the keys that it keeps to itself.
type phone struct {
	key    *ecdh.PrivateKey
	secret []byte
}

func newPhone(t *testing.T) phone {
	t.Helper()
	key, err := ecdh.P256().GenerateKey(rand.Reader)
	require.NoError(t, err)
	p := phone{key: key, secret: make([]byte, 16)}
	_, err = rand.Read(p.secret)
	require.NoError(t, err)
	return p
}

// at is the phone as it tells a server of itself.
func (p phone) at(endpoint, language string) remind.Phone {
	return remind.Phone{
		Endpoint: endpoint, Language: language,
		Key: base64.RawURLEncoding.EncodeToString(p.key.PublicKey().Bytes()), Secret: base64.RawURLEncoding.EncodeToString(p.secret),
	}
}

// read decrypts a message as a browser does: RFC 8188, section 2, and RFC 8291, section 3.4.
func (p phone) read(t *testing.T, body []byte) map[string]string {
	t.Helper()
	salt, length := body[:16], int(body[20])
	sender, sealed := body[21:21+length], body[21+length:]
	public, err := ecdh.P256().NewPublicKey(sender)
	require.NoError(t, err)
	shared, err := p.key.ECDH(public)
	require.NoError(t, err)
	info := "WebPush: info\x00" + string(p.key.PublicKey().Bytes()) + string(sender)
	ikm, err := hkdf.Key(sha256.New, shared, p.secret, info, 32)
	require.NoError(t, err)
	cek, err := hkdf.Key(sha256.New, ikm, salt, "Content-Encoding: aes128gcm\x00", 16)
	require.NoError(t, err)
	nonce, err := hkdf.Key(sha256.New, ikm, salt, "Content-Encoding: nonce\x00", 12)
	require.NoError(t, err)
	block, err := aes.NewCipher(cek)
	require.NoError(t, err)
	gcm, err := cipher.NewGCM(block)
	require.NoError(t, err)
	plain, err := gcm.Open(nil, nonce, sealed, nil)
	require.NoError(t, err)
	text, _, found := strings.Cut(string(plain), "\x02") // the end of the last record
	require.True(t, found)
	var message map[string]string
	require.NoError(t, json.Unmarshal([]byte(text), &message))
	return message
}

// service is a push service that answers with a status and keeps what it got.
func service(t *testing.T, status int) (*httptest.Server, func() (http.Header, []byte)) {
	t.Helper()
	var header http.Header
	var body []byte
	server := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		header = r.Header
		body, _ = io.ReadAll(r.Body)
		w.WriteHeader(status)
	}))
	t.Cleanup(server.Close)
	return server, func() (http.Header, []byte) { return header, body }
}

// near is three hooks before that of 41.
func near() remind.Notice {
	return remind.Notice{
		Entry: domain.Entry{Number: "41", Details: domain.Details{Puller: "Maud Farrow", Vehicle: "Brindle Ox"}},
		Class: "8,200 lb Field Stock", Ahead: 3, Href: "/e/tarn-hollow/field-stock/entry/41",
	}
}

func TestAPhoneReadsWhatItIsTold(t *testing.T) {
	t.Parallel()
	keys, err := push.NewKeys()
	require.NoError(t, err)
	server, got := service(t, http.StatusCreated)
	sender := push.New(keys, "mailto:office@example.org", server.Client())
	p := newPhone(t)
	for language, want := range map[string]map[string]string{
		"en": {"Title": "41 Brindle Ox: 3 hooks ahead", "Text": "8,200 lb Field Stock. The call in the pits counts.", "Href": "/e/tarn-hollow/field-stock/entry/41"},
		"de": {"Title": "41 Brindle Ox: noch 3 Züge davor", "Text": "8,200 lb Field Stock. Es gilt der Aufruf im Fahrerlager.", "Href": "/de/e/tarn-hollow/field-stock/entry/41"},
	} {
		require.NoError(t, sender.Push(t.Context(), p.at(server.URL+"/phone", language), near()))
		header, body := got()
		require.Equal(t, want, p.read(t, body))
		require.Equal(t, "aes128gcm", header.Get("Content-Encoding"))
		require.Equal(t, "600", header.Get("TTL"), "after ten minutes the hook is over")
		require.NotContains(t, string(body), "Brindle", "the push service reads nothing")
	}
}

// A push service knows the server by its signature (RFC 8292): the token is for that service, says whom to turn to, and is
// signed with the key that the phone subscribed with.
func TestAPushServiceKnowsTheServer(t *testing.T) {
	t.Parallel()
	keys, err := push.NewKeys()
	require.NoError(t, err)
	server, got := service(t, http.StatusCreated)
	require.NoError(t, push.New(keys, "mailto:office@example.org", server.Client()).Push(t.Context(), newPhone(t).at(server.URL+"/phone", "en"), near()))
	header, _ := got()
	token, key, found := strings.Cut(strings.TrimPrefix(header.Get("Authorization"), "vapid t="), ", k=")
	require.True(t, found, header.Get("Authorization"))
	require.Equal(t, strings.TrimRight(keys.Public, "="), strings.TrimRight(key, "="))
	parts := strings.Split(token, ".")
	require.Len(t, parts, 3)
	raw, err := base64.RawURLEncoding.DecodeString(parts[1])
	require.NoError(t, err)
	var claims map[string]any
	require.NoError(t, json.Unmarshal(raw, &claims))
	require.Equal(t, server.URL, claims["aud"])
	require.Equal(t, "mailto:office@example.org", claims["sub"])
	point, err := base64.RawURLEncoding.DecodeString(strings.TrimRight(keys.Public, "="))
	require.NoError(t, err)
	public, err := ecdsa.ParseUncompressedPublicKey(elliptic.P256(), point)
	require.NoError(t, err)
	signature, err := base64.RawURLEncoding.DecodeString(parts[2])
	require.NoError(t, err)
	sum := sha256.Sum256([]byte(parts[0] + "." + parts[1]))
	require.True(t, ecdsa.Verify(public, sum[:], new(big.Int).SetBytes(signature[:32]), new(big.Int).SetBytes(signature[32:])))
}

func TestWhatAPushServiceAnswers(t *testing.T) {
	t.Parallel()
	keys, err := push.NewKeys()
	require.NoError(t, err)
	for status, want := range map[int]string{201: "", 200: "", 404: remind.ErrGone.Error(), 410: remind.ErrGone.Error(), 429: "the push service answered 429", 500: "the push service answered 500"} {
		server, _ := service(t, status)
		err := push.New(keys, "mailto:office@example.org", server.Client()).Push(t.Context(), newPhone(t).at(server.URL+"/phone", "en"), near())
		if want == "" {
			require.NoError(t, err)
		} else {
			require.EqualError(t, err, want)
		}
	}
}

// Whoever asks for a reminder chooses the address that the server calls. It calls none inside the network that it stands in.
func TestNothingInsideIsCalled(t *testing.T) {
	t.Parallel()
	keys, err := push.NewKeys()
	require.NoError(t, err)
	sender := push.New(keys, "mailto:office@example.org", nil)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	for _, host := range []string{"127.0.0.1", "localhost", "[::1]", "10.0.0.7", "192.168.1.1", "169.254.169.254", "100.64.0.1", "[fd00::1]", "0.0.0.0", "[::ffff:127.0.0.1]"} {
		err := sender.Push(ctx, newPhone(t).at("https://"+host+":9/phone", "en"), near())
		require.ErrorContains(t, err, "it is inside a network", host)
	}
}
