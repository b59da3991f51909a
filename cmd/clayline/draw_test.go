package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// drawRun runs a command about draws on a text as standard input.
func drawRun(text string, args ...string) scored {
	var out, errs bytes.Buffer
	status := run(context.Background(), append([]string{"draw"}, args...), strings.NewReader(text), &out, &errs)
	return scored{status, out.String(), errs.String()}
}

// block returns the n-th block of docs/draw.md that is marked with the word.
func block(t *testing.T, word string, n int) string {
	t.Helper()
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "draw.md"))
	require.NoError(t, err)
	found := regexp.MustCompile("(?s)```"+word+"\n(.*?)```").FindAllStringSubmatch(string(page), -1)
	require.Greater(t, len(found), n)
	return found[n][1]
}

// The shell lines of docs/draw.md are run as they stand, and print what the manual says.
func TestTheManualDrawsByHand(t *testing.T) {
	t.Parallel()
	shell := func(n int) string {
		out, err := exec.Command("sh", "-c", block(t, "sh", n)).CombinedOutput()
		require.NoError(t, err, string(out))
		return string(out)
	}
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "draw.md"))
	require.NoError(t, err)
	for _, line := range strings.Split(strings.TrimSpace(shell(0)), "\n") {
		assert.Contains(t, string(page), "`"+strings.Fields(line)[0]+"`", "the table of the first example")
	}
	assert.Equal(t, block(t, "text", 0), shell(1), "the example with rules")
	assert.Contains(t, string(page), "gives `"+strings.Fields(shell(2))[0]+"`", "the commitment")
}

// Both documents of the manual give its order, and the proof is proven.
func TestTheManualsDocumentsAreDrawn(t *testing.T) {
	t.Parallel()
	for _, document := range []string{block(t, "draw", 0), block(t, "json", 0)} {
		proof := drawRun(document, "make", "-")
		require.Equal(t, scored{0, proof.out, ""}, proof)
		told := drawRun(proof.out, "verify", "-")
		require.Equal(t, scored{0, told.out, ""}, told)
		assert.Contains(t, told.out, `The draw was made from "dice 4 2 6".`)
		assert.Contains(t, told.out, "It is try 2: the first plain draw that keeps the rules, from the text with #2 behind it.\n7 and 23")
		assert.Contains(t, told.out, "are at least 1 hook apart.\nThe order is the one that the draw gives: 23, 12, 41, 7.\n")
		assert.Equal(t, scored{0, "  1  23\n  2  12\n  3  41\n  4  7\n", ""}, drawRun(document, "make", "--format", "text", "-"))
	}
}

func TestEveryPartOfAProofIsChecked(t *testing.T) {
	t.Parallel()
	document := "seed dice 4 2 6\ncommitment 877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd\nreveal grey heron 9f2c41d07be3\n" +
		"entries 41 7 23 12 9 5\napart 4 7 23 41\nplace 2 12\nlate 5\n"
	proof := drawRun(document, "make", "-")
	require.Equal(t, 0, proof.status, proof.err)
	assert.Equal(t, "clayline: warning: 7 and 23 and 41 are only 1 hook apart instead of 4: no order keeps more beside the other rules\n", proof.err)
	told := drawRun(proof.out, "verify", "-")
	require.Equal(t, 0, told.status, told.err)
	for _, sentence := range []string{
		`The secret text "grey heron 9f2c41d07be3" has the hash that was committed to, 877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd.`,
		`The draw was made from "dice 4 2 6|grey heron 9f2c41d07be3".`,
		"12 has place 2, which an official gave.", "5 came too late to be drawn, and last in the order.",
	} {
		assert.Contains(t, told.out, sentence+"\n")
	}
	turn := regexp.MustCompile(`"hash": "(.{8})`).FindStringSubmatch(proof.out)[1]
	try := regexp.MustCompile(`"try": \d+`).FindString(proof.out)
	for old, c := range map[string][2]string{
		`"reveal": "grey heron 9f2c41d07be3"`: {`"reveal": "grey heron 9f2c41d07be4"`, "the secret text is not the one that was committed to"},
		`"from": "dice 4 2 6|grey`:            {`"from": "dice 4 2 5|grey`, "the text that was drawn from is "},
		try:                                   {`"try": 999`, `the way to the order is "try 999" in the document and "try`},
		turn:                                  {"00000000", "the hash of"},
		`"between": 4`:                        {`"between": 1`, "what is proven of the groups is"},
		`"kept": [
      1
    ]`: {`"kept": [2]`, `what the groups keep is "[2]" in the document and "[1]" by the draw`},
		`"entry": "12",`:     {`"entry": "9",`, `place 2 is "12" in the document and "9" by the draw`},
		"\"entry\": \"5\"\n": {"\"entry\": \"6\"\n", `place 6 is "6" in the document and "5" by the draw`},
	} {
		require.Contains(t, proof.out, old)
		wrong := drawRun(strings.Replace(proof.out, old, c[0], 1), "verify", "-")
		assert.Equal(t, 1, wrong.status, old)
		assert.Contains(t, wrong.err, c[1], old)
	}
	assert.Contains(t, drawRun(document, "verify", "-").err, "the document has no draw in it; make one with clayline draw make")
}

// An order from the list is proven too: twelve vehicles of three drivers, 2 apart.
func TestAnOrderFromTheListIsProven(t *testing.T) {
	t.Parallel()
	proof := drawRun("seed ox\nentries 1 2 3 4 5 6 7 8 9 10 11 12\napart 2 1 4 7 10\napart 2 2 5 8 11\napart 2 3 6 9 12\n", "make", "-")
	require.Equal(t, scored{0, proof.out, ""}, proof)
	told := drawRun(proof.out, "verify", "-")
	require.Equal(t, 0, told.status, told.err)
	assert.Regexp(t, `None of 1000 plain draws kept the rules; it is number \d+, from 0, in the list of all 82944 orders that do\.`, told.out)
	place := regexp.MustCompile(`"place": "\d+"`).FindString(proof.out)
	assert.Contains(t, drawRun(strings.Replace(proof.out, place, `"place": "7"`, 1), "verify", "-").err, "number 7 of a list of 82944")
}

func TestADocumentThatCannotBeDrawnIsRefused(t *testing.T) {
	t.Parallel()
	for message, document := range map[string]string{
		"the seed is missing; type words or dice that nobody could choose":                                                                                                            "entries 41 7",
		"nobody is entered; enter somebody first":                                                                                                                                     "seed ox",
		"line 2: seed stands twice; leave one line of it":                                                                                                                             "seed ox\nseed ax\nentries 41",
		"line 1: nothing stands behind entries; write what it is about, or take the line out":                                                                                         "entries",
		"line 3: aparts is not known; begin the line with seed, commitment, reveal, entries, apart, place or late":                                                                    "\n# who\naparts 3 41",
		"line 1: it is not said how far who is apart; write it like apart 3 41 7":                                                                                                     "apart 41",
		"line 1: it is not said who has which place; write it like place 1 41":                                                                                                        "place one 41",
		"9 is not among the entries; enter it, or correct the number":                                                                                                                 "seed ox\nentries 41 7\napart 3 41 9",
		"41 cannot have place 3; give a place from 1 to 2":                                                                                                                            "seed ox\nentries 41 7\nplace 3 41",
		"41 and 7 are both on place 1; give one of them another place":                                                                                                                "seed ox\nentries 41 7\nplace 1 41\nplace 1 7",
		"a commitment has 64 figures, 0 to 9 and a to f; copy all of it; clayline draw commit makes one":                                                                              "seed ox\nentries 41\ncommitment 12ab",
		"a group names nobody; name the entries that are to be apart, or leave the group out":                                                                                         `{"seed": "ox", "entries": ["41"], "apart": [{"between": 3, "entries": []}]}`,
		`the document is not understood: unknown field "aparts"; write it as docs/draw.md shows`:                                                                                      `{"seed": "ox", "entries": ["41"], "aparts": []}`,
		"the document is not understood: something follows the object; write it as docs/draw.md shows":                                                                                `{"seed": "ox"} {}`,
		`entries takes no value of the kind "string"; write it as docs/draw.md shows`:                                                                                                 `{"seed": "ox", "entries": "41"}`,
		"a fixed place names nobody; write the number of the vehicle":                                                                                                                 `{"seed": "ox", "entries": ["41"], "fixed": [{"place": 1}]}`,
		"a group names nobody; write the number of the vehicle":                                                                                                                       `{"seed": "ox", "entries": ["41"], "apart": [{"between": 3, "entries": ["41", " "]}]}`,
		"the list of late entries names nobody; write the number of the vehicle":                                                                                                      `{"seed": "ox", "entries": ["41"], "late": [""]}`,
		"the secret text of the commitment is missing; type the text that was committed to":                                                                                           "seed ox\nentries 41\ncommitment 877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd",
		"the secret text is not the one that was committed to; type it exactly as it was when the commitment was made; letters and case count":                                        "seed ox\nentries 41\ncommitment 877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd\nreveal Grey heron 9f2c41d07be3",
		"the document says nothing of what is to be drawn; write a line seed with words or dice that nobody could choose, and a line entries with the numbers, as docs/draw.md shows": " \n",
		"the document is not UTF-8; save it as UTF-8":                                                                                                                                 "seed \xff",
		"the document is longer than 1 MB; give one class at a time":                                                                                                                  strings.Repeat("# long\n", 200_000),
	} {
		got := drawRun(document, "make", "-")
		assert.Equal(t, scored{1, "", "clayline: standard input: " + message + "\n"}, got)
	}
	assert.Contains(t, drawRun("", "verify", "-").err, "the document has no draw in it; make one with clayline draw make, or name the proof")
	missing := drawRun("", "make", "no-such-file.txt")
	assert.Equal(t, scored{2, "", "clayline: there is no document of a draw no-such-file.txt; check the name\n"}, missing)
}

func TestACommitmentIsMadeAndKept(t *testing.T) {
	t.Parallel()
	plain := drawRun("", "commit", "--plain", "grey heron", "9f2c41d07be3")
	assert.Equal(t, scored{0, "publish now:    877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd\nkeep secret:    grey heron 9f2c41d07be3\n", ""}, plain)
	assert.Contains(t, drawRun("", "commit", "--plain", "ox").err, "fewer than 16 characters and could be guessed; add random letters")
	one, other := drawRun("", "commit", "ox"), drawRun("", "commit", "ox")
	assert.Regexp(t, `^publish now:    [0-9a-f]{64}\nkeep secret:    ox [0-9a-f]{24}\n$`, one.out)
	assert.NotEqual(t, one.out, other.out, "the figures are random")
	made := regexp.MustCompile(`: +(.*)\nkeep secret: +(.*)\n`).FindStringSubmatch(one.out)
	assert.Equal(t, 0, drawRun("seed dice\nentries 41\ncommitment "+made[1]+"\nreveal "+made[2], "make", "-").status)
}

// The file of the class page proves the draw of the invented event to who has the program; a class without a draw has none.
func TestTheProofOfTheClassPageIsVerified(t *testing.T) {
	t.Parallel()
	v := atTheInvented(t)
	class := "/e/" + inventedSlug + "/" + domain.Slug(inventedClass)
	assert.Contains(t, v.get(class).body, class+"/draw.json")
	proof := v.get(class+"/draw.json").file("application/json", "attachment", inventedSlug+"-"+domain.Slug(inventedClass)+"-draw.json")
	told := drawRun(proof, "verify", "-")
	require.Equal(t, scored{0, told.out, ""}, told)
	assert.Contains(t, told.out, `The draw was made from "dice 4 2 6, crowd says 17".`)
	altered := drawRun(strings.Replace(proof, "crowd says 17", "crowd says 18", 1), "verify", "-")
	assert.Equal(t, 1, altered.status)
	assert.Equal(t, 404, v.get("/e/"+inventedSlug+"/36-t-visiting-tractors/draw.json").status)
}
