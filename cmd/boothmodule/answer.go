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
}

// reply is what it is answered: the page as it goes on, or an error, which nothing that is typed can bring about.
type reply struct {
	webui.CutOff
	Error string `json:",omitempty"`
}

// answer answers a question of the page. zone prepares the clock of the copy's event for the machine it runs on.
func answer(ctx context.Context, asked []byte, zone func(*doc.ClassCopy)) []byte {
	page, err := goOn(ctx, asked, zone)
	said := reply{CutOff: page}
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
func goOn(ctx context.Context, asked []byte, zone func(*doc.ClassCopy)) (webui.CutOff, error) {
	var q question
	if err := json.Unmarshal(asked, &q); err != nil {
		return webui.CutOff{}, fmt.Errorf("reading what the page asks: %w", err)
	}
	c, err := doc.ParseClassCopy(q.Copy)
	if err != nil {
		return webui.CutOff{}, err
	}
	zone(&c)
	return webui.GoOn(ctx, q.Page, c, q.Kept, q.Form)
}
