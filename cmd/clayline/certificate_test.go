package main

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// certificate writes a certificate for this machine and its key as PEM files, and returns their names.
func certificate(t *testing.T) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	plan := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: time.Unix(0, 0), NotAfter: clock().AddDate(1, 0, 0), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	signed, err := x509.CreateCertificate(rand.Reader, plan, plan, &private.PublicKey, private)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	require.NoError(t, err)
	dir := t.TempDir()
	write := func(name, kind string, body []byte) string {
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: body}), 0o600))
		return file
	}
	return write("cert.pem", "CERTIFICATE", signed), write("key.pem", "PRIVATE KEY", secret)
}

func TestACertificateIsReadWhole(t *testing.T) {
	t.Parallel()
	cert, key := certificate(t)
	_, other := certificate(t)
	none, err := house{}.encryption()
	require.NoError(t, err)
	require.Nil(t, none, "without a certificate it is HTTP")
	both, err := house{Cert: cert, Key: key}.encryption()
	require.NoError(t, err)
	require.Len(t, both.Certificates, 1)
	for _, c := range []struct {
		house house
		says  string
	}{
		{house{Cert: cert}, "--cert and --key belong together"},
		{house{Key: key}, "--cert and --key belong together"},
		{house{Cert: cert, Key: other}, "the certificate cannot be used"},
		{house{Cert: key, Key: cert}, "the certificate cannot be used"},
		{house{Cert: cert + ".old", Key: key}, "the certificate cannot be used"},
	} {
		_, err := c.house.encryption()
		require.ErrorContains(t, err, c.says)
		var call *callError
		require.ErrorAs(t, err, &call, "the call has to be changed")
	}
}

// What is served with a certificate is HTTPS, and the handlers know it: entry links and cookies follow them.
func TestServedWithACertificate(t *testing.T) {
	t.Parallel()
	cert, key := certificate(t)
	encryption, err := house{Cert: cert, Key: key}.encryption()
	require.NoError(t, err)
	plain, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	says := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { _, _ = fmt.Fprint(w, r.Proto, " ", r.TLS != nil) })
	go func() { ended <- serve(ctx, tls.NewListener(plain, encryption), says, func() {}, nil, io.Discard) }()

	text, err := os.ReadFile(cert)
	require.NoError(t, err)
	known := x509.NewCertPool()
	require.True(t, known.AppendCertsFromPEM(text))
	client := &http.Client{Transport: &http.Transport{ForceAttemptHTTP2: true, TLSClientConfig: &tls.Config{RootCAs: known, MinVersion: tls.VersionTLS12}}}
	answer, err := client.Get("https://" + plain.Addr().String() + "/")
	require.NoError(t, err)
	body, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	require.NoError(t, answer.Body.Close())
	require.Equal(t, "HTTP/2.0 true", string(body))
	client.CloseIdleConnections()
	stop()
	require.NoError(t, <-ended)
}
