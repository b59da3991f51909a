package doc_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// entriesOf reads an entries file for a class of 41, who hooked, and 7, who did not.
func entriesOf(t require.TestingT, entries string) (doc.Sheet, error) {
	sheet, err := read("round,entry,puller,result\n1,41,A,281.36\n1,7,B,absent\n", "capped-300ft")
	require.NoError(t, err)
	return doc.ReadEntries(strings.NewReader(entries), "entries.csv", sheet)
}

func TestAnEntriesFileIsRead(t *testing.T) {
	t.Parallel()
	sheet, err := entriesOf(t, "\ufeffEntry;Kind;fee;Paid;present;late;vehicle;colour\r\n41;GUEST;20.50;yes;Yes;no;Grey Mare;red\r\n\r\n7;;;no;no;yes;;\r\n5;;;;;;;\r\n")
	require.NoError(t, err)
	assert.Equal(t, []doc.Attendance{
		{Number: 2, Entry: "41", Vehicle: "Grey Mare", Guest: true, Fee: 2050, Paid: true, Present: true},
		{Number: 4, Entry: "7", Late: true},
		{Number: 5, Entry: "5", Paid: true, Present: true},
	}, sheet.Entries)
	assert.Equal(t, []string{`column "colour" is not known and is ignored`}, sheet.Warnings)
}

func TestABadEntriesFileNamesTheCell(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ file, says string }{
		{"", "entries.csv:1:1: the entries file is empty; expected a header with entry, puller, vehicle, kind, fee, paid, present, late"},
		{"number\n41\n", "entries.csv:1:1: the header has no column entry; expected the columns entry, and puller, vehicle, kind, fee, paid, present, late if you have them"},
		{"entry,entry\n", "entries.csv:1:7: column entry stands twice in the header; expected it once"},
		{"entry,kind\n41,\n,guest\n", "entries.csv:3:1: column entry: the entry is missing; expected the number of the vehicle"},
		{"entry,kind\n41,friend\n", `entries.csv:2:4: column kind: "friend" is not known; expected member or guest`},
		{"entry,fee\n41,\"1,250\"\n", `entries.csv:2:4: column fee: "1,250" is not an amount of money; expected figures such as 20 or 20.50`},
		{"entry,paid\n41,later\n", `entries.csv:2:4: column paid: "later" is not known; expected yes or no`},
		{"entry,present\n41,1\n", `entries.csv:2:4: column present: "1" is not known; expected yes or no`},
		{"entry,late\n41,x\n", `entries.csv:2:4: column late: "x" is not known; expected yes or no`},
		{"entry,present\n41,no\n7,no\n", "entries.csv:2:4: column present: entry 41 has a distance on line 2 of the sheet and is said not to have come; expected yes, or no distance"},
		{"entry\n41\n7\n41\n", "entries.csv:4:1: column entry: entry 41 stands twice, on lines 2 and 4; expected one line an entry"},
		{"entry\n41\n", "entries.csv:1:1: entry 7 of line 3 of the sheet is not in the entries file; expected a line for every entry of the sheet"},
		{"entry,kind\n41\n", "entries.csv:2:1: the line has more or fewer cells than the header; expected as many cells as the header"},
		{"entry\n" + strings.Repeat("1\n", 3<<20), "entries.csv:3:1: column entry: entry 1 stands twice, on lines 2 and 3; expected one line an entry"},
	} {
		t.Run(row.says, func(t *testing.T) {
			t.Parallel()
			_, err := entriesOf(t, row.file)
			var refusal *doc.SheetError
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, row.says, err.Error())
		})
	}
	_, err := doc.ReadEntries(strings.NewReader("entry\n"), "entries.csv", doc.Sheet{})
	require.EqualError(t, err, "entries.csv:2:1: the entries file has no entries; expected one line an entry below the header")
}

// Points and purse have their columns in CSV, before the note, and their fields in JSON.
func TestPointsAndPurseAreWritten(t *testing.T) {
	t.Parallel()
	rules := withReward(t, "false", `"points": {"places": [10], "step": 1, "show_up": 1, "hook": 5}, "purse": {"share": 50, "prizes": [30]}`)
	scored := rewarded(t, rules, domain.Pulled, "1,7,250,\n1,8,240,\n", "entry,kind,fee\n7,guest,20\n8,,20\n9,,20.50\n")
	var out bytes.Buffer
	require.NoError(t, scored.WriteCSV(&out))
	records, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, [][]string{
		{"place", "shared", "entry", "puller", "vehicle", "total", "1", "points", "points_place", "for_place", "for_show_up", "for_hook", "for_registration", "points_why", "purse", "note"},
		{"1", "false", "7", "", "", "250", "250", "0", "", "", "", "", "", "guest", "60.25", "guest"},
		{"2", "false", "8", "", "", "240", "240", "16", "1", "10", "1", "5", "", "", "0.00", ""},
		{"", "false", "9", "", "", "", "", "1", "", "", "1", "", "", "did not hook", "0.00", "did not hook"},
	}, records)
	out.Reset()
	require.NoError(t, scored.WriteJSON(&out))
	assert.JSONEq(t, `{"rules": "ours", "unit": "ft", "purse": {"total": "60.25", "paid": "60.25", "kept": "0.00"}, "standing": [
		{"place": 1, "shared": false, "entry": "7", "total": "250", "rounds": [{"round": "1", "result": "250"}], "points": {"total": "0", "why": "guest"}, "purse": "60.25"},
		{"place": 2, "shared": false, "entry": "8", "total": "240", "rounds": [{"round": "1", "result": "240"}],
		 "points": {"total": "16", "place": 1, "for_place": "10", "for_show_up": "1", "for_hook": "5"}, "purse": "0.00"},
		{"place": null, "shared": false, "entry": "9", "rounds": [], "points": {"total": "1", "for_show_up": "1", "why": "did not hook"}, "purse": "0.00"}]}`, out.String())
	var decoded map[string]any
	out.Reset()
	require.NoError(t, score(t, class, "capped-300ft").WriteJSON(&out))
	require.NoError(t, json.Unmarshal(out.Bytes(), &decoded))
	assert.NotContains(t, out.String(), "points", "a set without points says nothing of them")
	assert.NotContains(t, decoded, "purse")
}

func FuzzReadEntries(f *testing.F) {
	f.Add("entry,kind,fee,paid,present,late\n41,guest,20,yes,yes,no\n7,,,,,\n")
	f.Add("entry;fee\n41;20,5\n")
	f.Add("entry\n\"41\n")
	f.Fuzz(func(t *testing.T, file string) {
		sheet, err := entriesOf(t, file)
		if err != nil {
			return
		}
		seen := make(map[string]bool)
		for _, a := range sheet.Entries {
			require.False(t, seen[a.Entry])
			seen[a.Entry] = true
		}
		require.True(t, seen["41"] && seen["7"], "nobody of the sheet is forgotten")
	})
}
