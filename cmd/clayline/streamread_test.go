package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// eventSource reads a stream of events as the HTML standard of the WHATWG, section 9.2.6 "Interpreting an event
// stream", says, and knows nothing of the program that writes it.
type eventSource struct {
	from    io.Reader
	pending []byte // read and not yet taken
	begun   bool   // the byte order mark was looked for
	data    bytes.Buffer
	kind    string
	idSoFar string // the last event ID buffer
	lastID  string // the last event ID string, which is sent when coming back
	retry   time.Duration
}

// message is an event that was dispatched.
type message struct {
	kind, data, id string
}

// next reads until an event is dispatched.
func (s *eventSource) next() (message, error) {
	for {
		line, err := s.line()
		if err != nil {
			return message{}, err // what is not complete is discarded
		}
		if line != "" {
			s.field(line)
			continue
		}
		if m, ok := s.dispatch(); ok {
			return m, nil
		}
	}
}

// line reads a line, which ends in CR LF, LF or CR.
func (s *eventSource) line() (string, error) {
	for {
		if !s.begun && len(s.pending) >= 3 {
			s.pending, s.begun = bytes.TrimPrefix(s.pending, []byte("\uFEFF")), true
		}
		if end := bytes.IndexAny(s.pending, "\r\n"); s.begun && end >= 0 && (s.pending[end] == '\n' || end+1 < len(s.pending)) {
			line := string(s.pending[:end])
			rest := s.pending[end:]
			rest = rest[len(ending(rest)):]
			s.pending = rest
			return decoded(line), nil
		}
		chunk := make([]byte, 64)
		n, err := s.from.Read(chunk)
		s.pending = append(s.pending, chunk[:n]...)
		if err != nil && n == 0 {
			if last := bytes.IndexByte(s.pending, '\r'); s.begun && last >= 0 && last == len(s.pending)-1 {
				line := string(s.pending[:last])
				s.pending = nil
				return decoded(line), nil
			}
			return "", err
		}
	}
}

// ending is the end of line with which the bytes begin.
func ending(b []byte) string {
	if bytes.HasPrefix(b, []byte("\r\n")) {
		return "\r\n"
	}
	return string(b[:1])
}

// decoded is UTF-8 decode: what is none becomes the replacement character.
func decoded(line string) string {
	if utf8.ValidString(line) {
		return line
	}
	return strings.ToValidUTF8(line, "\uFFFD")
}

// field takes one line that is not empty.
func (s *eventSource) field(line string) {
	name, value, colon := strings.Cut(line, ":")
	if colon && name == "" {
		return // a comment
	}
	value = strings.TrimPrefix(value, " ")
	switch name {
	case "event":
		s.kind = value
	case "data":
		s.data.WriteString(value + "\n")
	case "id":
		if !strings.Contains(value, "\x00") {
			s.idSoFar = value
		}
	case "retry":
		if ms, err := strconv.Atoi(value); err == nil && strings.Trim(value, "0123456789") == "" {
			s.retry = time.Duration(ms) * time.Millisecond
		}
	}
}

// dispatch ends a block.
func (s *eventSource) dispatch() (message, bool) {
	s.lastID = s.idSoFar
	data, kind := s.data.String(), s.kind
	s.data.Reset()
	s.kind = ""
	if data == "" {
		return message{}, false
	}
	if kind == "" {
		kind = "message"
	}
	return message{kind: kind, data: strings.TrimSuffix(data, "\n"), id: s.lastID}, true
}

// The reader does what the standard says, on the standard's own examples and on each of its finer points.
func TestTheReaderReadsAsTheStandardSays(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		stream string
		want   []message
		last   string
	}{
		"two lines of data":               {"data: YHOO\ndata: +2\ndata: 10\n\n", []message{{"message", "YHOO\n+2\n10", ""}}, ""},
		"comments, ids and an empty id":   {": test stream\n\ndata: first event\nid: 1\n\ndata:second event\nid\n\ndata:  third event\n\n", []message{{"message", "first event", "1"}, {"message", "second event", ""}, {"message", " third event", ""}}, ""},
		"data without a colon":            {"data\n\ndata\ndata\n\ndata:", []message{{"message", "", ""}, {"message", "\n", ""}}, ""},
		"a space after the colon is none": {"data:test\n\ndata: test\n\n", []message{{"message", "test", ""}, {"message", "test", ""}}, ""},
		"CR ends lines":                   {"id: 4\rdata: a\r\rdata: b\r\r", []message{{"message", "a", "4"}, {"message", "b", "4"}}, "4"},
		"CR LF ends lines":                {"id: 4\r\ndata: a\r\n\r\ndata: b\r\n\r\n", []message{{"message", "a", "4"}, {"message", "b", "4"}}, "4"},
		"a byte order mark is skipped":    {"\uFEFFdata: a\n\n", []message{{"message", "a", ""}}, ""},
		"an id with NUL is ignored":       {"id: 3\ndata: a\n\nid: 4\x00\ndata: b\n\n", []message{{"message", "a", "3"}, {"message", "b", "3"}}, "3"},
		"an id alone moves the number":    {"id: 8\n\ndata: a\n\n", []message{{"message", "a", "8"}}, "8"},
		"an id that was cut does not":     {"id: 8\ndata: a\n\nid: 9\ndata: b\n", []message{{"message", "a", "8"}}, "8"},
		"unknown fields are ignored":      {"datum: x\nData: y\nevent: change\ndata: z\n\n", []message{{"change", "z", ""}}, ""},
		"the kind does not stay":          {"event: change\n\ndata: z\n\n", []message{{"message", "z", ""}}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			s := &eventSource{from: strings.NewReader(c.stream)}
			var got []message
			for {
				m, err := s.next()
				if err != nil {
					break
				}
				got = append(got, m)
			}
			require.Equal(t, c.want, got)
			require.Equal(t, c.last, s.lastID)
		})
	}
	s := &eventSource{from: strings.NewReader("retry: 2000\nretry: soon\nretry: -5\n\n")}
	_, _ = s.next()
	require.Equal(t, 2*time.Second, s.retry)
}

// listener is a program that follows a stream.
type listener struct {
	t        testing.TB
	source   *eventSource
	response *http.Response
	cancel   context.CancelFunc
}

// told is what the stream tells of a line.
type toldLine struct {
	number int64
	class  string
	kind   string
}

// listen opens a stream; headers are names and values in turn.
func (p *programs) listen(path string, headers ...string) *listener {
	p.t.Helper()
	l, status := p.tryListen(path, headers...)
	require.Equal(p.t, http.StatusOK, status)
	return l
}

func (p *programs) tryListen(path string, headers ...string) (*listener, int) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, 3*deadline) // what is waited for and never comes fails the test
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, p.address+path, http.NoBody)
	require.NoError(p.t, err)
	request.Header.Set("Accept", "text/event-stream")
	for i := 0; i < len(headers); i += 2 {
		request.Header.Set(headers[i], headers[i+1])
	}
	response, err := (&http.Client{Transport: &http.Transport{DisableKeepAlives: true}}).Do(request)
	if err != nil {
		cancel()
		return nil, 0
	}
	l := &listener{t: p.t, source: &eventSource{from: response.Body}, response: response, cancel: cancel}
	p.t.Cleanup(l.cut)
	if response.StatusCode != http.StatusOK {
		body, err := io.ReadAll(response.Body)
		require.NoError(p.t, err)
		p.contract.holds(p.t, request, nil, true, response, body)
		return l, response.StatusCode
	}
	require.Equal(p.t, "text/event-stream", response.Header.Get("Content-Type"))
	p.contract.mu.Lock()
	defer p.contract.mu.Unlock()
	_, operation := p.contract.find(request)
	p.contract.used[operation.OperationId] = true
	return l, response.StatusCode
}

// cut ends the stream from the reader's side.
func (l *listener) cut() {
	l.cancel()
	_ = l.response.Body.Close()
}

// read reads the next line; the number of the event is the number of the line.
func (l *listener) read() toldLine {
	l.t.Helper()
	line, err := l.tryRead()
	require.NoError(l.t, err)
	return line
}

func (l *listener) tryRead() (toldLine, error) {
	l.t.Helper()
	m, err := l.source.next()
	for err == nil && m.kind == "forecast" {
		m, err = l.source.next() // that windows moved is told beside the lines
	}
	if err != nil {
		return toldLine{}, err
	}
	require.Equal(l.t, "change", m.kind)
	return l.line(m), nil
}

// moved reads on until the stream tells that windows have moved.
func (l *listener) moved() toldLine {
	l.t.Helper()
	for {
		m, err := l.source.next()
		require.NoError(l.t, err)
		if m.kind == "forecast" {
			return l.line(m)
		}
	}
}

// line is what an event tells.
func (l *listener) line(m message) toldLine {
	l.t.Helper()
	var data struct {
		Number int64
		Class  string
		Kind   string
		At     time.Time
	}
	decoder := json.NewDecoder(strings.NewReader(m.data))
	decoder.DisallowUnknownFields()
	require.NoError(l.t, decoder.Decode(&data))
	require.Equal(l.t, strconv.FormatInt(data.Number, 10), m.id)
	require.False(l.t, data.At.IsZero())
	return toldLine{number: data.Number, class: data.Class, kind: data.Kind}
}
