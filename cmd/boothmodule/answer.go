package main

import (
	"context"
	"encoding/json"
	"fmt"

	"clayline/domain/doc"
	"clayline/webui"
)

// question is what the page asks: which page it is, the copy of the class that the server gave, the forms kept since, and
// the form at hand, null for none.
type question struct {
	Page string
	Copy json.RawMessage
	Kept []webui.KeptForm
	Form *webui.KeptForm
	// Preview asks what the form would become, which is still being typed.
	Preview bool
}

// reply is what it is answered: the page as it goes on, what the form would become, or an error, which nothing that is typed
// can bring about.
type reply struct {
	webui.CutOff
	Preview *webui.Preview `json:",omitempty"`
	Error   string         `json:",omitempty"`
}

// answer answers a question of the page. zone prepares the clock of the copy's event for the machine it runs on.
func answer(ctx context.Context, asked []byte, zone func(*doc.ClassCopy)) []byte {
	said, err := goOn(ctx, asked, zone)
	if err != nil {
		said.Error = err.Error()
	}
	text, err := json.Marshal(said)
	if err != nil {
		return []byte(`{"Error":"the answer cannot be written"}`)
	}
	return text
}

// goOn reads a question and has it answered by the pages.
func goOn(ctx context.Context, asked []byte, zone func(*doc.ClassCopy)) (said reply, err error) {
	var q question
	if err := json.Unmarshal(asked, &q); err != nil {
		return said, fmt.Errorf("reading what the page asks: %w", err)
	}
	c, err := doc.ParseClassCopy(q.Copy)
	if err != nil {
		return said, err
	}
	zone(&c)
	if q.Preview && q.Form != nil {
		preview, err := webui.GoOnPreview(ctx, c, q.Kept, *q.Form)
		return reply{Preview: &preview}, err
	}
	said.CutOff, err = webui.GoOn(ctx, q.Page, c, q.Kept, q.Form)
	return said, err
}
