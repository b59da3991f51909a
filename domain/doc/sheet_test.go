package doc_test

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// read reads a sheet that a test writes down.
func read(sheet, rules string) (doc.Sheet, error) {
	set, err := doc.ReadyMadeRuleSet(rules)
	if err != nil {
		return doc.Sheet{}, err
	}
	return doc.ReadSheet(strings.NewReader(sheet), "class.csv", set)
}

func TestASheetIsReadAsItWasWritten(t *testing.T) {
	t.Parallel()
	sheet, err := read("note,result,vehicle,puller,entry,round\n"+
		"test hook given up,void,Grey Mare,\"Example, A.\",41,1\n"+
		",\"287' 4.5\"\"\",Grey Mare,\"Example, A.\",41,1\n"+
		"\n"+
		" , , , , , \n"+
		"crossed the side line,dq,,B,7b,1\n"+
		",fp 312.44,,C, 23 ,1\n"+
		",305.1,,,23,p1\n", "capped-300ft")
	require.NoError(t, err)
	assert.Equal(t, []string{"line 8: the rule set capped-300ft does not bring 23 back for P1; look whether the entry and its rounds are right"}, sheet.Warnings)
	require.Len(t, sheet.Lines, 5)
	first := sheet.Lines[0]
	assert.Equal(t, doc.Line{Number: 2, Round: domain.RoundName{Number: 1}, Entry: "41", Puller: "Example, A.", Vehicle: "Grey Mare",
		Result: domain.Result{Outcome: domain.Void}, Note: "test hook given up"}, first)
	assert.Equal(t, `287' 4.5"`, sheet.Lines[1].Result.String())
	assert.Equal(t, 6, sheet.Lines[2].Number, "blank lines count as lines of the file")
	assert.Equal(t, domain.Disqualified, sheet.Lines[2].Result.Outcome)
	assert.Equal(t, "FP 312.44", sheet.Lines[3].Result.String())
	assert.Equal(t, "23", sheet.Lines[3].Entry)
	assert.Equal(t, domain.RoundName{PullOff: true, Number: 1}, sheet.Lines[4].Round)
}

// A disqualification may say where it happened; which of them count is for the rules.
func TestADisqualificationOnASheetSaysWhere(t *testing.T) {
	t.Parallel()
	sheet, err := read("round,entry,result,note\n1,41,DQ at 201.3 out of bounds: left rear,\n1,7,DQ at the gate,\n1,23,DQ AT 99.5 ft,lost part\n", "floating-ft")
	require.NoError(t, err)
	assert.Empty(t, sheet.Warnings)
	first, second, third := sheet.Lines[0].Result, sheet.Lines[1].Result, sheet.Lines[2].Result
	assert.Equal(t, domain.Result{Outcome: domain.Disqualified, Distance: length(t, "201.3", domain.Foot), Reason: "out of bounds: left rear"}, first)
	assert.Equal(t, domain.Result{Outcome: domain.Disqualified, Reason: "at the gate"}, second, "what is no distance belongs to the reason")
	assert.Equal(t, domain.Result{Outcome: domain.Disqualified, Distance: length(t, "99.5", domain.Foot)}, third)
	_, err = read("round,entry,result\n1,41,DQ at 83.91 m out of bounds\n", "floating-ft")
	require.ErrorContains(t, err, "is not in the unit of this class")
}

// A line break inside a cell would tear the printed table apart.
func TestACellIsOneLine(t *testing.T) {
	t.Parallel()
	sheet, err := read("round,entry,result,note\n1,41,3,\"lost a\n  weight\t at 40\"\n", "capped-300ft")
	require.NoError(t, err)
	assert.Equal(t, "lost a weight at 40", sheet.Lines[0].Note)
}

// Sheets come from spreadsheets of many habits.
func TestASheetMayComeFromAnySpreadsheet(t *testing.T) {
	t.Parallel()
	plain := "round,entry,result\n1,41,281.36\n1,7,FP\n"
	want, err := read(plain, "capped-300ft")
	require.NoError(t, err)
	for what, sheet := range map[string]string{
		"a byte order mark":        "\ufeff" + plain,
		"CRLF":                     strings.ReplaceAll(plain, "\n", "\r\n"),
		"both":                     "\ufeff" + strings.ReplaceAll(plain, "\n", "\r\n"),
		"semicolons":               strings.ReplaceAll(plain, ",", ";"),
		"quotes around all":        "\"round\",\"entry\",\"result\"\n\"1\",\"41\",\"281.36\"\n\"1\",\"7\",\"FP\"\n",
		"capitals and spaces":      " Round , ENTRY,Result \n 1 , 41, 281.36 \n1,7, FP\n",
		"no line end at the end":   strings.TrimSuffix(plain, "\n"),
		"a blank line at the end":  plain + "\n\n",
		"a quoted header with BOM": "\ufeff\"round\",entry,result\n1,41,281.36\n1,7,FP\n",
	} {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			got, err := read(sheet, "capped-300ft")
			require.NoError(t, err)
			assert.Equal(t, want, got)
		})
	}
}

func TestASheetThatCannotBeUnderstoodSaysWhereAndWhatWasExpected(t *testing.T) {
	t.Parallel()
	const header = "round,entry,result,note\n"
	for _, row := range []struct {
		what, rules, sheet string
		line, column       int
		field, says        string
	}{
		{"nothing", "capped-300ft", "", 1, 0, "", "the sheet is empty; expected a header with round, entry, result, puller, vehicle, note"},
		{"a header alone", "capped-300ft", header, 2, 0, "", "the sheet has no hooks; expected one line a hook"},
		{"no result column", "capped-300ft", "round,entry,distance\n1,41,3\n", 1, 0, "", "the header has no column result; expected the columns round, entry, result"},
		{"no header", "capped-300ft", "1,41,281.36\n", 1, 0, "", "the header has no column round"},
		{"a column twice", "capped-300ft", "round,entry,result,Entry\n", 1, 20, "", "column entry stands twice in the header; expected it once"},
		{"a cell too few", "capped-300ft", header + "1,41,3,\n1,7,4\n", 3, 0, "", "more or fewer cells than the header"},
		{"a cell too many", "capped-300ft", header + "1,41,3,,\n", 2, 0, "", "more or fewer cells than the header"},
		{"a quote that stays open", "capped-300ft", header + "1,41,\"3,\n1,7,4,\n1,23,5,\n", 2, 0, "", "a quote opens on this line and is not closed before line 4"},
		{"a quote too many", "capped-300ft", header + "1,41,\"3\"x,\n", 2, 8, "", "with quotes around a cell"},
		{"inches without quotes around them", "capped-300ft", header + "1,41,287' 4.5\",\n", 2, 14, "", "with quotes around a cell that has a comma or a quote in it"},
		{"no entry", "capped-300ft", header + "1,,3,\n", 2, 3, "entry", "the entry is missing; expected the number of the vehicle"},
		{"no round", "capped-300ft", header + ",41,3,\n", 2, 1, "round", `"" is not a round; expected 1, 2, … for class rounds or P1, P2, … for pull-offs`},
		{"a round in words", "capped-300ft", header + "final,41,3,\n", 2, 1, "round", `"final" is not a round`},
		{"round 2 of one", "capped-300ft", header + "2,41,3,\n", 2, 1, "round", "capped-300ft has one class round; expected 1 to 1, or P1"},
		{"round 3 of two", "best-of-two-100m", header + "3,41,3,\n", 2, 1, "round", "has 2 class rounds; expected 1 to 2, or P1"},
		{"no result", "capped-300ft", header + "1,41,,\n", 2, 6, "result", "the result is missing; expected a distance such as 281.36, FP"},
		{"a result in words", "capped-300ft", header + "1,41,won,\n", 2, 6, "result", `"won" is not a result; expected a distance such as 281.36, FP`},
		{"a decimal comma between commas", "capped-100m", "round,entry,result\n1,41,\"83,91\"\n", 2, 6, "result", `"83,91" is not a result`},
		{"thousands with a comma", "capped-300ft", "round;entry;result\n1;41;1,281,36\n", 2, 6, "result", `"1,281,36" is not a result`},
		{"thousands with a point", "capped-300ft", "round;entry;result\n1;41;1.281,36\n", 2, 6, "result", `"1.281,36" is not a result`},
		{"a comma and no figures", "capped-300ft", "round;entry;result\n1;41;281,\n", 2, 6, "result", `"281," is not a result`},
		{"a note that turns round", "capped-300ft", header + "1,41,3,M. \u202eFarrow\n", 2, 8, "note", "the cell holds a character that cannot be seen; expected plain text in one line"},
		{"an escape in a number", "capped-300ft", header + "1,\x1b[31m41,3,\n", 2, 3, "entry", "the cell holds a character that cannot be seen"},
		{"FP below the line", "capped-300ft", header + "1,41,FP 299.9,\n", 2, 6, "result", "lies below the full-pull line 300 ft"},
		{"FP below the line in a pull-off", "capped-300ft", header + "1,41,FP,\nP1,41,FP 20.11,\n", 3, 7, "result", "lies below the full-pull line 300 ft"},
		{"bare FP in a floating set", "floating-ft", header + "1,41,FP,\n", 2, 6, "result", "FP without a figure says nothing here"},
		{"metres in a class in feet", "capped-300ft", header + "1,41,83.91 m,\n", 2, 6, "result", "is not in the unit of this class"},
		{"two counting lines", "capped-300ft", header + "1,41,3,\n1,7,3,\n1,41,rehook,\n1,41,DQ,x\n", 5, 6, "result",
			"entry 41 has two counting results in round 1, on lines 2 and 5; expected rehook or void on the line that does not count"},
		{"an FP that cannot be ranked", "capped-300ft", header + "1,41,FP,\n1,7,FP,\nP1,41,FP,\nP1,7,312.44,\n", 4, 7, "result",
			"FP without a figure cannot be ranked against 312.44 on line 5"},
		{"a sheet without end", "capped-300ft", header + strings.Repeat("1,41,void,\n", 400_000), 1, 0, "", "longer than 4 MB"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			_, err := read(row.sheet, row.rules)
			var wrong *doc.SheetError
			require.ErrorAs(t, err, &wrong)
			assert.Equal(t, "class.csv", wrong.File)
			assert.Equal(t, row.line, wrong.Line, "line")
			assert.Equal(t, row.column, wrong.Column, "column")
			assert.Equal(t, row.field, wrong.Field)
			assert.Contains(t, wrong.Error(), row.says)
			assert.NotEmpty(t, wrong.Expected, "what was expected")
		})
	}
}

// Where the comma is the decimal sign, semicolons part the cells, and figures have a comma.
func TestADecimalCommaIsReadBetweenSemicolons(t *testing.T) {
	t.Parallel()
	comma, err := read("round;entry;result\n1;41;281,36\n1;7;FP 301,250\n1;9;\"287' 4,5\"\"\"\n1;3;281\n", "capped-300ft")
	require.NoError(t, err)
	point, err := read("round;entry;result\n1;41;281.36\n1;7;FP 301.250\n1;9;\"287' 4.5\"\"\"\n1;3;281\n", "capped-300ft")
	require.NoError(t, err)
	assert.Equal(t, point, comma, "with its digits")
	assert.Equal(t, "281.36 ft", comma.Lines[0].Result.Distance.String())
}

func TestALongSheetIsReadWhole(t *testing.T) {
	t.Parallel()
	sheet, err := read("round,entry,result\n"+strings.Repeat("1,41,void\n", 400_000), "capped-300ft")
	require.NoError(t, err, "4 000 019 bytes are within 4 MiB")
	assert.Len(t, sheet.Lines, 400_000)
}

func TestWhatDeservesALookIsAWarning(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ what, sheet, says string }{
		{"an unknown column", "round,entry,colour,result\n1,41,red,3\n", `column "colour" is not known and is ignored`},
		{"a disqualification without a reason", "round,entry,result\n1,41,DQ\n", "line 2: the disqualification of 41 has no reason in note"},
		{"one number, two names", "round,entry,result,puller\n1,41,FP,A\n1,7,FP,\nP1,41,3,B\n", "entry 41 is A on line 2 and B on line 4"},
		{"a bare FP in a pull-off", "round,entry,result\n1,41,FP\n1,7,FP\nP1,41,FP\n", "line 4: FP without a figure in a pull-off counts as the line, 300 ft"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			sheet, err := read(row.sheet, "capped-300ft")
			require.NoError(t, err)
			assert.Equal(t, []string{row.says}, sheet.Warnings)
		})
	}
	sheet, err := read("round,entry,result,note,puller\n1,41,DQ,side line,A\n1,7,DQ side line,,B\n1,7,void,,b\n", "capped-300ft")
	require.NoError(t, err)
	assert.Empty(t, sheet.Warnings, "the reason may stand in the note or behind DQ; letters may be large or small")
}

// Who comes back for a pull-off, by the line and the entry of each that does not: a full pull of the class brings back, in
// a further pull-off the first place that is shared in the one before (SNUB 9), and a single full puller is joined by
// nobody. What follows a pull-off in which somebody is too many is not looked at.
func TestWhoIsInAPullOffByNoRuleIsWonderedAt(t *testing.T) {
	t.Parallel()
	const class = "round,entry,result\n1,41,FP\n1,7,FP\n1,5,FP\n1,9,98.2\n1,3,DQ\n"
	for _, row := range []struct{ what, rules, sheet, says string }{
		{"the full pullers", "capped-300ft", strings.Replace(class, "98.2", "298.2", 1) + "P1,41,310\nP1,7,312\nP1,5,absent\n", ""},
		{"one who stopped short", "capped-300ft", class + "P1,9,310\nP1,7,312\n", "7 9 P1"},
		{"one without a distance, and one who is not in the class", "capped-300ft", class + "P1,3,310\nP1,7,312\nP1,44,280\n", "7 3 P1, 9 44 P1"},
		{"what does not count", "capped-300ft", class + "P1,9,void\nP1,7,312\nP1,3,rehook\n", ""},
		{"a single full pull", "capped-300ft", "round,entry,result\n1,41,FP\n1,7,298.2\nP1,41,310\n", "4 41 P1"},
		{"no class round", "capped-300ft", "round,entry,result\nP1,41,310\n", "2 41 P1"},
		{"lines in no order", "capped-300ft", "round,entry,result\nP1,7,312\nP1,41,310\n1,41,FP\n1,7,FP\n", ""},
		{"equal in the pull-off", "garden-100ft", class + "P1,41,FP\nP1,7,FP\nP1,5,99\nP2,41,30\nP2,7,31\n", ""},
		{"beaten in the pull-off", "garden-100ft", class + "P1,41,FP\nP1,7,FP\nP1,5,99\nP2,41,30\nP2,5,31\n", "11 5 P2"},
		{"decided in the pull-off", "garden-100ft", class + "P1,41,FP\nP1,7,98\nP2,41,30\nP2,7,31\n", "9 41 P2, 10 7 P2"},
		{"behind one in which somebody is too many", "garden-100ft", class + "P1,41,FP\nP1,9,FP\nP2,3,30\n", "8 9 P1"},
		{"the first three", "top-three-300ft", class + "P1,9,310\nP1,7,312\n", "7 9 P1"},
		{"the first three, short of the line", "top-three-300ft", "round,entry,result\n1,41,1\n1,7,2\n1,5,3\n1,9,3\nP1,9,310\nP1,41,312\n", "7 41 P1"},
		{"a floating finish", "floating-ft", "round,entry,result\n1,41,310\n1,7,310\nP1,41,310\n", "4 41 P1"},
	} {
		sheet, err := read(row.sheet, row.rules)
		require.NoError(t, err, row.what)
		var want []string
		for _, one := range strings.FieldsFunc(row.says, func(r rune) bool { return r == ',' }) {
			var line, entry, round string
			_, err := fmt.Sscan(one, &line, &entry, &round)
			require.NoError(t, err)
			want = append(want, fmt.Sprintf("line %s: the rule set %s does not bring %s back for %s; look whether the entry and its rounds are right", line, row.rules, entry, round))
		}
		got := slices.DeleteFunc(sheet.Warnings, func(w string) bool { return strings.Contains(w, "has no reason") })
		if assert.Len(t, got, len(want), row.what) {
			assert.ElementsMatch(t, want, got, row.what)
		}
	}
}

// In a pull-off measured past the line, a bare FP is the line when nobody else went past it.
func TestABareFullPullInAPullOffIsTheLine(t *testing.T) {
	t.Parallel()
	sheet, err := read("round,entry,result\n1,A,FP\n1,B,FP\n1,C,FP\nP1,A,FP\nP1,B,299.99\nP1,C,FP\nP2,A,20\nP2,C,21\n", "capped-300ft")
	require.NoError(t, err)
	assert.Equal(t, []string{"1 C 21", "2 A 20", "3 B 299.99"}, printed(doc.Score(sheet)))
}

func TestASheetThatStopsHalfwayIsNotScored(t *testing.T) {
	t.Parallel()
	broken := io.MultiReader(strings.NewReader("round,entry,result\n1,41,3\n"), iotest.ErrReader(errors.New("the card was pulled out")))
	_, err := doc.ReadSheet(broken, "class.csv", set(t, "capped-300ft"))
	require.ErrorContains(t, err, "class.csv cannot be read: the card was pulled out")
}

func FuzzReadSheet(f *testing.F) {
	for _, seed := range []string{
		"round,entry,result,note\n1,41,281.36,\n1,7,FP,\nP1,7,FP 312.44,\n", "", "\ufeffround;entry;result\r\n1;41;DQ\r\n",
		"round,entry,result\n1,41,\"287' 4.5\"\"\"\n", "round,entry,result\n1,41,void\n1,41,rehook\n1,41,absent\n", "round,entry,entry\n", "a\n\"",
		"puller,round,entry,result\n=cmd,1,-1,0\n",
	} {
		f.Add(seed, "capped-300ft")
		f.Add(seed, "sum-of-two-100m")
	}
	f.Fuzz(func(t *testing.T, s, name string) {
		rules, err := doc.ReadyMadeRuleSet(name)
		if err != nil {
			return
		}
		sheet, err := doc.ReadSheet(strings.NewReader(s), "fuzz.csv", rules)
		if err != nil {
			var wrong *doc.SheetError
			require.ErrorAs(t, err, &wrong)
			require.Positive(t, wrong.Line)
			return
		}
		scored := doc.Score(sheet)
		listed := make(map[string]bool)
		for _, p := range scored.Standing {
			require.False(t, listed[p.Entry], "listed twice")
			listed[p.Entry] = true
		}
		for _, l := range sheet.Lines {
			require.True(t, listed[l.Entry], "lost")
		}
		require.NoError(t, scored.WriteText(io.Discard))
		require.NoError(t, scored.WriteCSV(io.Discard))
		require.NoError(t, scored.WriteJSON(io.Discard))
	})
}
