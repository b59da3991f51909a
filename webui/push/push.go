// Package push sends notices to browsers through the push services of their makers, encrypted so that those cannot read
// them (RFC 8030, RFC 8291, RFC 8292).
//
// The address of a push service comes from whoever asked for a reminder. Nothing is sent to one inside the network that the
// server stands in: a request from here reaches what one from outside does not.
package push

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"
	"syscall"
	"time"

	webpush "github.com/SherClockHolmes/webpush-go"

	"clayline/domain/remind"
	"clayline/webui/language"
)

// life is how long a push service keeps a notice for a phone that it cannot reach, in seconds. Later the hook is over.
const life = 600

// answerLimit bounds what is read of a push service's answer; nothing in it is needed.
const answerLimit = 4096

// Sender sends notices; it is the Pusher of remind.
type Sender struct {
	keys    remind.Keys
	contact string
	client  *http.Client
}

// NewKeys makes a pair of keys for a server that has none.
func NewKeys() (remind.Keys, error) {
	private, public, err := webpush.GenerateVAPIDKeys()
	return remind.Keys{Public: public, Private: private}, err
}

// New returns a sender that tells push services whom to turn to about it: contact is a mailto: or https: address. client
// is for tests; nil sends to the world outside alone.
func New(keys remind.Keys, contact string, client *http.Client) *Sender {
	if client == nil {
		dialer := &net.Dialer{Timeout: 5 * time.Second, Control: outsideOnly}
		client = &http.Client{
			Transport:     &http.Transport{DialContext: dialer.DialContext, ForceAttemptHTTP2: true, TLSHandshakeTimeout: 5 * time.Second},
			CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		}
	}
	// The library puts mailto: in front of what has no scheme of the web.
	return &Sender{keys: keys, contact: strings.TrimPrefix(contact, "mailto:"), client: client}
}

// outsideOnly refuses to connect to an address that only this network has. It is asked with the address that a name has
// led to, so that no name can hide one.
func outsideOnly(_, address string, _ syscall.RawConn) error {
	to, err := netip.ParseAddrPort(address)
	if err != nil {
		return err
	}
	if ip := to.Addr().Unmap(); !ip.IsGlobalUnicast() || ip.IsPrivate() || carrier.Contains(ip) {
		return fmt.Errorf("%s is no push service: it is inside a network", ip)
	}
	return nil
}

// carrier are the addresses that providers share among their customers (RFC 6598).
var carrier = netip.MustParsePrefix("100.64.0.0/10")

// message is what the worker of the page shows; see static/remind.js.
type message struct{ Title, Text, Href string }

// Push sends a notice to a phone in its language; see [remind.Pusher].
func (s *Sender) Push(ctx context.Context, to remind.Phone, n remind.Notice) error {
	body, err := json.Marshal(said(n, to.Language))
	if err != nil {
		return err
	}
	answer, err := webpush.SendNotificationWithContext(ctx, body,
		&webpush.Subscription{Endpoint: to.Endpoint, Keys: webpush.Keys{P256dh: to.Key, Auth: to.Secret}},
		&webpush.Options{
			HTTPClient: s.client, Subscriber: s.contact, TTL: life, Urgency: webpush.UrgencyHigh,
			VAPIDPublicKey: s.keys.Public, VAPIDPrivateKey: s.keys.Private, RecordSize: 1024,
		})
	if err != nil {
		return err
	}
	_, _ = io.Copy(io.Discard, io.LimitReader(answer.Body, answerLimit)) // so that the connection can be used again
	_ = answer.Body.Close()
	switch {
	case answer.StatusCode == http.StatusNotFound || answer.StatusCode == http.StatusGone:
		return remind.ErrGone
	case answer.StatusCode/100 != 2:
		return errors.New("the push service answered " + strconv.Itoa(answer.StatusCode))
	}
	return nil
}

// said is a notice in a language. Names stay as they are.
func said(n remind.Notice, tag string) message {
	l, _ := language.Find(tag)
	title, text := "Next to hook", "The call in the pits counts."
	switch n.Ahead {
	case 0:
	case 1:
		title = "1 hook ahead"
	default:
		title = strconv.Itoa(n.Ahead) + " hooks ahead"
	}
	title, _ = l.Text(title)
	text, _ = l.Text(text)
	who := n.Entry.Number
	if n.Entry.Details.Vehicle != "" {
		who += " " + n.Entry.Details.Vehicle
	}
	return message{Title: who + ": " + title, Text: n.Class + ". " + text, Href: l.Href(n.Href)}
}
