package desk

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"strconv"
	"strings"
)

// Coding is a way to compress a page, by its name in HTTP: "gzip". Pack must give the same bytes each time, because
// they share one entity tag.
type Coding struct {
	Name string
	Pack func(body []byte) ([]byte, error)
}

// Gzip is the coding that everybody can read. It is always offered, behind the codings that a desk is given.
func Gzip() Coding { return Coding{Name: "gzip", Pack: packGzip} }

// packGzip compresses as far as gzip can: it is done once for all readers.
func packGzip(body []byte) ([]byte, error) {
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(body); err != nil {
		return nil, err
	}
	err = w.Close()
	return packed.Bytes(), err
}

// Answer is how a page goes to one reader: the headers, and the bytes in the coding that the reader likes best. Same
// says that the reader has the page already, and gets the headers alone.
type Answer struct {
	Header map[string]string
	Body   []byte
	Same   bool
}

// Answer chooses for a reader by the request's headers Accept-Encoding and If-None-Match. Whoever serves a page sets the
// headers and answers 304 without a body for the same (RFC 9110, section 15.4.5: it has the tag that the 200 would have
// had, and no coding, since it has no content).
//
//	Accept-Encoding: gzip, br           Content-Encoding: br, ETag: "57-9c1f…-br"
//	If-None-Match: "57-9c1f…-gzip"      Same
//
// The tag is strong and differs with the coding (RFC 9110, section 8.8.3.3). A page may be kept and is to be asked about
// each time: what is a minute old may name the wrong puller on the track.
func (p *Page) Answer(accept, have string) (Answer, error) {
	at := p.choose(accept)
	tag := p.tag
	header := map[string]string{"Cache-Control": "no-cache", "Vary": "Accept-Encoding"}
	if at >= 0 {
		tag += "-" + p.codings[at].Name
	}
	header["ETag"] = `"` + tag + `"`
	if p.has(have) {
		return Answer{Header: header, Same: true}, nil
	}
	body := p.body
	if at >= 0 {
		var err error
		if body, err = p.packed[at](); err != nil {
			return Answer{}, fmt.Errorf("packing a page with %s: %w", p.codings[at].Name, err)
		}
		header["Content-Encoding"] = p.codings[at].Name
	}
	header["Content-Length"] = strconv.Itoa(len(body))
	return Answer{Header: header, Body: body}, nil
}

// has reports whether one of the tags of an If-None-Match names this page. RFC 9110, section 13.1.2, compares weakly
// here: the codings, and a tag that was weakened on the way, all mean that the reader is up to date. Tags of ours hold
// no comma, so that the header can be cut at each.
func (p *Page) has(header string) bool {
	for tag := range strings.SplitSeq(header, ",") {
		tag = strings.TrimPrefix(strings.TrimSpace(tag), "W/")
		if tag == "*" {
			return true
		}
		inner, quoted := strings.CutPrefix(tag, `"`)
		inner, closed := strings.CutSuffix(inner, `"`)
		if rest, same := strings.CutPrefix(inner, p.tag); quoted && closed && same && (rest == "" || p.coded(rest)) {
			return true
		}
	}
	return false
}

// coded reports whether the end of a tag names a coding of this page, "-gzip".
func (p *Page) coded(end string) bool {
	for _, c := range p.codings {
		if end == "-"+c.Name {
			return true
		}
	}
	return false
}

// choose returns the place of the coding that the reader weighs highest, of equals the one that comes first here; -1 for
// the page as it is. Codings come in the order in which they pack best.
func (p *Page) choose(accept string) int {
	weights := acceptWeights(accept)
	best, at := 0.0, -1
	// That a reader takes the page as it is goes without saying, and then counts for least.
	if identity, named := weights["identity"]; named {
		best = identity
	}
	for i, c := range p.codings {
		weight, named := weights[c.Name]
		if !named {
			weight = weights["*"]
		}
		if weight > best || weight == best && at < 0 && weight > 0 {
			best, at = weight, i
		}
	}
	return at
}

// acceptWeights reads an Accept-Encoding (RFC 9110, section 12.5.3): the weight of each coding that it names, 1 where
// none is given. What cannot be read weighs nothing, as a coding that the reader forbids.
//
//	br;q=0.9, gzip, *;q=0     br 0.9, gzip 1, * 0
func acceptWeights(header string) map[string]float64 {
	weights := make(map[string]float64)
	for coding := range strings.SplitSeq(strings.ToLower(header), ",") {
		name, parameters, _ := strings.Cut(coding, ";")
		name = strings.TrimPrefix(strings.TrimSpace(name), "x-") // x-gzip is gzip (RFC 9110, section 8.4.1.3)
		weight := 1.0
		if given := strings.TrimSpace(parameters); given != "" {
			figures, _ := strings.CutPrefix(given, "q=")
			value, err := strconv.ParseFloat(figures, 64)
			if err != nil || !(value >= 0 && value <= 1) {
				value = 0
			}
			weight = value
		}
		if name != "" {
			weights[name] = weight
		}
	}
	return weights
}
