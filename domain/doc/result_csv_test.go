package doc_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// csvOf writes a result as CSV.
func csvOf(t require.TestingT, r doc.Result) string {
	var out bytes.Buffer
	require.NoError(t, r.WriteCSV(&out))
	return out.String()
}

// records reads CSV with two readers that know nothing of each other, which must see the same.
func records(t require.TestingT, text string) [][]string {
	one, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	two, err := byTheGrammar(text)
	require.NoError(t, err)
	require.Equal(t, one, two)
	return one
}

// byTheGrammar reads CSV by the grammar in RFC 4180, section 2, and refuses what it does not have. Its text is of any
// characters, as section 3 lets the charset say.
//
//	file = [header CRLF] record *(CRLF record) [CRLF]
//	record = field *(COMMA field)
//	field = (escaped / non-escaped)
//	escaped = DQUOTE *(TEXTDATA / COMMA / CR / LF / 2DQUOTE) DQUOTE
//	non-escaped = *TEXTDATA
func byTheGrammar(text string) (file [][]string, err error) {
	for text != "" {
		var record []string
		for {
			var field string
			if field, text, err = fieldOf(text); err != nil {
				return nil, fmt.Errorf("record %d, field %d: %w", len(file)+1, len(record)+1, err)
			}
			record = append(record, field)
			rest, comma := strings.CutPrefix(text, ",")
			if !comma {
				break
			}
			text = rest
		}
		rest, ended := strings.CutPrefix(text, "\r\n")
		if !ended && text != "" {
			return nil, fmt.Errorf("record %d goes on with %.10q", len(file)+1, text)
		}
		if text = rest; len(file) > 0 && len(record) != len(file[0]) { // "Each line should contain the same number of fields"
			return nil, fmt.Errorf("record %d has %d fields, the header %d", len(file)+1, len(record), len(file[0]))
		}
		file = append(file, record)
	}
	return file, nil
}

// fieldOf reads one field and returns what follows it.
func fieldOf(text string) (field, rest string, err error) {
	inside, escaped := strings.CutPrefix(text, `"`)
	if !escaped {
		end := strings.IndexAny(text+"\r", "\",\r\n")
		return text[:end], text[end:], nil
	}
	for {
		end := strings.IndexByte(inside, '"')
		if end < 0 {
			return "", "", fmt.Errorf("a quote stays open before %.10q", inside)
		}
		field, inside = field+inside[:end], inside[end+1:]
		again, doubled := strings.CutPrefix(inside, `"`)
		if !doubled {
			return field, inside, nil
		}
		field, inside = field+`"`, again
	}
}

func TestTheSecondReaderRefusesWhatTheGrammarDoesNotHave(t *testing.T) {
	t.Parallel()
	read, err := byTheGrammar("a,\"b,\"\"\r\nc\"\r\n,d")
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"a", "b,\"\r\nc"}, {"", "d"}}, read)
	for _, wrong := range []string{"a\nb", "a\rb", `a"b`, `"a`, `"a"b`, "a,b\r\nc\r\n"} {
		_, err := byTheGrammar(wrong)
		require.Error(t, err, "%q", wrong)
	}
}

// nasty are texts that people may type, and how they stand in a cell.
var nasty = map[string]string{
	`"Tuck" Tarrant`:         `"Tuck" Tarrant`,
	"Sunday, Plough; again":  "Sunday, Plough; again",
	"Jörg Müßig, Ål, Łódź 牛": "Jörg Müßig, Ål, Łódź 牛",
	"two\nlines":             "two\nlines",
	"two\r\nlines":           "two\nlines",
	"two\rlines":             "two\nlines",
	`"`:                      `"`,
	`","`:                    `","`,
	`=HYPERLINK("http://x")`: `'=HYPERLINK("http://x")`,
	"+1 555 0100":            "'+1 555 0100",
	"-2+3":                   "'-2+3",
	"@SUM(A1)":               "'@SUM(A1)",
	"\t=1+1":                 "'=1+1",
	"\r=1+1":                 "'=1+1",
	" =1+1":                  "'=1+1",
	"O'Brien":                "O'Brien",
	"'=1":                    "'=1",
	"a=b":                    "a=b",
}

// Whatever is stored, two readers see the same, nothing is lost and nothing is calculated. It is put into the class as
// it is, past the domain, which refuses some of it: a file must be right whatever an older program took.
func TestTypedTextStandsInACellAsItIs(t *testing.T) {
	t.Parallel()
	for typed, want := range nasty {
		s := newTale(t, set(t, "capped-300ft"))
		s.event.Name = typed
		s.enter("41", "Q", "", "")
		s.enter("7", "P", "", "")
		s.steps("draw a", "scratch 7 x", "set", "DQ x", "keep")
		s.class.Entries[0].Details = domain.Details{Puller: typed, Vehicle: typed, Home: typed}
		s.class.Entries[1].Scratched = typed
		round := &s.class.Rounds[0]
		card := &round.Revisions[0].Setting
		card.Blades, card.PushDown, card.Device, card.Note = typed, typed, typed, typed
		round.Hooks[0].Result.Reason = typed
		read := records(t, csvOf(t, s.told()))
		require.Len(t, read, 3, "%q", typed)
		column := columnsOf(read)
		for _, name := range []string{"event", "puller", "vehicle", "home", "blades", "push_down", "device", "setting_note", "reason"} {
			assert.Equal(t, want, read[1][column[name]], "%s of %q", name, typed)
		}
		assert.Contains(t, read[2][column["class_remarks"]], "scratched: ")
		assert.Equal(t, typed, s.told().Event.Name, "JSON has the text itself")
	}
}

// columnsOf maps the header's names to their places.
func columnsOf(read [][]string) map[string]int {
	columns := make(map[string]int, len(read[0]))
	for i, name := range read[0] {
		columns[name] = i
	}
	return columns
}

// calculated reports whether a spreadsheet would take the cell for a formula.
func calculated(cell string) bool {
	return cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0]))
}

func TestAnEntryThatNeverHookedHasALineOfItsOwn(t *testing.T) {
	t.Parallel()
	s := newTale(t, set(t, "capped-300ft")).drawn("41", "7", "23")
	s.steps("set", "281.36", "keep")
	read := records(t, csvOf(t, s.told()))
	column := columnsOf(read)
	require.Len(t, read, 4, "the header, the hook, the one on the track, the one who waits")
	first, onTrack, waits := read[1], read[2], read[3]
	assert.Equal(t, "281.36", first[column["distance"]])
	assert.Equal(t, "1", first[column["class_place"]])
	assert.Empty(t, onTrack[column["outcome"]], "on the track")
	assert.NotEmpty(t, onTrack[column["called_at"]])
	for name, i := range column {
		filled := slices.Contains([]string{"event", "class", "entry", "puller", "vehicle", "class_place_shared", "revision"}, name)
		assert.Equal(t, filled, waits[i] != "", "column %s", name)
	}
}

func TestAFileThatCannotBeWrittenIsSaid(t *testing.T) {
	t.Parallel()
	result := newTale(t, set(t, "floating-m")).told()
	require.ErrorContains(t, result.WriteCSV(failing{}), "no paper")
	require.ErrorContains(t, result.WriteJSON(failing{}), "no paper")
}
