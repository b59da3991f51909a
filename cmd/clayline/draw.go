package main

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"strings"

	"clayline/domain/doc"
	"clayline/domain/draw"
)

// drawCommand is the draw without a server: anybody can make one, and prove the one that was published.
type drawCommand struct {
	Make   drawMakeCommand   `cmd:"" help:"Draw the order of a class and print it with its proof."`
	Verify drawVerifyCommand `cmd:"" help:"Draw a published proof again and say what was looked at."`
	Commit drawCommitCommand `cmd:"" help:"Make a commitment to a secret text, to be published before the draw."`
}

// Help says what holds for all of the commands.
func (drawCommand) Help() string {
	return `docs/draw.md says how an order is drawn, so that it can be done again without this
program, and what the document looks like.

Exit status: 0 done, 1 the document is wrong or proves nothing, 2 the call is wrong.`
}

// drawMakeCommand draws what a document asks for.
type drawMakeCommand struct {
	Format string `enum:"json,text" default:"json" help:"What to print: json, the proof, or text, the order alone."`
	File   string `arg:"" help:"What is to be drawn, as lines or JSON; - reads standard input." placeholder:"FILE"`
}

// Run draws and prints. Nothing is printed of a draw that cannot be made.
func (c drawMakeCommand) Run(s streams) error {
	d, err := drawingNamed(s, c.File)
	if err != nil {
		return err
	}
	made, err := d.Make()
	if err != nil {
		return inFile(fileName(c.File), err)
	}
	for _, g := range made.Told() {
		if g.Broken {
			fmt.Fprintln(s.err, "clayline: warning:", g.Sentence)
		}
	}
	if c.Format == "json" {
		return made.Write(s.out)
	}
	for i, turn := range made.Draw.Order {
		if _, err := fmt.Fprintf(s.out, "%3d  %s\n", i+1, turn.Entry); err != nil {
			return err
		}
	}
	return nil
}

// drawVerifyCommand checks a proof.
type drawVerifyCommand struct {
	File string `arg:"" help:"Proof of a draw; - reads standard input." placeholder:"PROOF.json"`
}

// Run says in sentences what was checked, also what was found in order before the first difference.
func (c drawVerifyCommand) Run(s streams) error {
	d, err := drawingNamed(s, c.File)
	if err != nil {
		return err
	}
	checked, err := d.Verify()
	if len(checked) > 0 {
		fmt.Fprintln(s.out, strings.Join(checked, "\n"))
	}
	return inFile(fileName(c.File), err)
}

// drawCommitCommand makes a commitment.
type drawCommitCommand struct {
	Words []string `arg:"" help:"Words that nobody knows yet."`
	Plain bool     `help:"Commit to the words as they are, without random figures behind them."`
}

// nonceBytes is how much is random behind the words: too much to be tried.
const nonceBytes = 12

// Run prints what to publish and what to keep. Random figures are added, since words alone can be guessed.
func (c drawCommitCommand) Run(s streams) error {
	text := draw.Clean(strings.Join(c.Words, " "))
	if !c.Plain {
		nonce := make([]byte, nonceBytes)
		if _, err := rand.Read(nonce); err != nil {
			return err
		}
		text += " " + hex.EncodeToString(nonce)
	}
	commitment, err := draw.Commit(text)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "publish now:    %s\nkeep secret:    %s\n", commitment, text)
	return err
}

// drawingNamed reads a document from the file that was named, or from standard input for "-".
func drawingNamed(s streams, name string) (doc.Drawing, error) {
	text, err := readNamed(s.in, name, "document of a draw")
	if err != nil {
		return doc.Drawing{}, &callError{err}
	}
	d, err := doc.ReadDrawing(strings.NewReader(string(text)))
	return d, inFile(fileName(name), err)
}
