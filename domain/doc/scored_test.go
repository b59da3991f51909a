package doc_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// class is a small class with everything in it: a pull-off, a shared place, a disqualification.
const class = "round,entry,puller,vehicle,result,note\n" +
	"1,41,A. Example,Grey Mare,void,test hook given up\n" +
	"1,7,B,=2+2,FP 301.2,\n" +
	"1,23,C,,FP,\n" +
	"1,12,D,,281.36,\n" +
	"1,19,\"E, junior\",,281.360,\n" +
	"1,99,F,,DQ lost a weight,weighed later\n" +
	"1,41,A. Example,Grey Mare,12.5,\n" +
	"P1,7,B,,absent,\n" +
	"P1,23,C,,312.44,checked twice\n"

// score reads and ranks a sheet that is certainly right.
func score(t require.TestingT, sheet, rules string) doc.Scored {
	read, err := read(sheet, rules)
	require.NoError(t, err)
	return doc.Score(read)
}

func TestTheTextIsATable(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	require.NoError(t, score(t, class, "capped-300ft").WriteText(&out))
	want := strings.Join([]string{
		"place  entry  puller      vehicle    round 1   pull-off 1  note",
		"1      23     C                      FP        312.44      checked twice",
		"2      7      B           =2+2       FP 301.2  absent      ",
		"3 =    12     D                      281.36                ",
		"3 =    19     E, junior              281.360               ",
		"5      41     A. Example  Grey Mare  12.5                  ",
		"-      99     F                      DQ                    lost a weight weighed later",
		"",
	}, "\n")
	assert.Equal(t, want, out.String())
}

func TestTheJSONHasItsShape(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	require.NoError(t, score(t, class, "capped-300ft").WriteJSON(&out))
	assert.JSONEq(t, `{"rules": "capped-300ft", "unit": "ft", "standing": [
		{"place": 1, "shared": false, "entry": "23", "puller": "C", "total": "300",
		 "rounds": [{"round": "1", "result": "FP"}, {"round": "P1", "result": "312.44", "note": "checked twice"}]},
		{"place": 2, "shared": false, "entry": "7", "puller": "B", "vehicle": "=2+2", "total": "300",
		 "rounds": [{"round": "1", "result": "FP 301.2"}, {"round": "P1", "result": "absent"}]},
		{"place": 3, "shared": true, "entry": "12", "puller": "D", "total": "281.36", "rounds": [{"round": "1", "result": "281.36"}]},
		{"place": 3, "shared": true, "entry": "19", "puller": "E, junior", "total": "281.360", "rounds": [{"round": "1", "result": "281.360"}]},
		{"place": 5, "shared": false, "entry": "41", "puller": "A. Example", "vehicle": "Grey Mare", "total": "12.5",
		 "rounds": [{"round": "1", "result": "12.5"}]},
		{"place": null, "shared": false, "entry": "99", "puller": "F",
		 "rounds": [{"round": "1", "result": "DQ", "note": "lost a weight weighed later"}]}
	]}`, out.String())
}

func TestTheCSVCanBeReadBack(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	require.NoError(t, score(t, class, "capped-300ft").WriteCSV(&out))
	records, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, [][]string{
		{"place", "shared", "entry", "puller", "vehicle", "total", "1", "P1", "note"},
		{"1", "false", "23", "C", "", "300", "FP", "312.44", "checked twice"},
		{"2", "false", "7", "B", "'=2+2", "300", "FP 301.2", "absent", ""}, // a spreadsheet must not calculate it
		{"3", "true", "12", "D", "", "281.36", "281.36", "", ""},
		{"3", "true", "19", "E, junior", "", "281.360", "281.360", "", ""},
		{"5", "false", "41", "A. Example", "Grey Mare", "12.5", "12.5", "", ""},
		{"", "false", "99", "F", "", "", "DQ", "", "lost a weight weighed later"},
	}, records)
}

func TestAnAbsentFinalistWhoIsWithdrawnIsSaidToBe(t *testing.T) {
	t.Parallel()
	scored := doc.Score(readSheet(t, "e1-libero-45.csv", rulesOf(t, "e1-rules.json")))
	last := scored.Standing[len(scored.Standing)-1]
	assert.Nil(t, last.Place)
	assert.Equal(t, "withdrawn: did not hook in the pull-off", last.Note)
}

// On a sheet everything was hooked: a finalist without a line did not come.
func TestAFinalistWithoutALineIsWithdrawnToo(t *testing.T) {
	t.Parallel()
	rules := rulesOf(t, "e1-rules.json")
	sheet, err := doc.ReadSheet(strings.NewReader("round,entry,result\n1,A,FP\n1,B,FP\n1,C,99\nP1,A,3\n"), "class.csv", rules)
	require.NoError(t, err)
	assert.Equal(t, []string{"1 A 3", "2 C 99", "- B FP"}, printed(doc.Score(sheet)))
}

// "DQ at 201.3 out of bounds", or the reason in the note: a figure counts where the rules measure the cause there.
func TestADisqualificationCountsAsItsRulesSay(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what, rules, result, note string
		want                      []string
	}{
		{"UCTCC 17: no measure", "floating-ft", "DQ at 201.3 out of bounds", "", []string{"1 B 100", "- A DQ at 201.3"}},
		{"MARSH 5, MERR 16: measured there", "fair-floating-300ft", "DQ at 201.3 out of bounds", "", []string{"1 A 201.3", "2 B 100"}},
		{"with more behind it", "fair-floating-300ft", "dq AT 201.3 ft Out of Bounds: left rear", "", []string{"1 A 201.3", "2 B 100"}},
		{"the reason in the note", "fair-floating-300ft", "DQ at 201.3", "out of bounds: left rear", []string{"1 A 201.3", "2 B 100"}},
		{"the reason behind DQ comes first", "fair-floating-300ft", "DQ at 201.3 red flag", "out of bounds", []string{"1 B 100", "- A DQ at 201.3"}},
		{"no figure to count", "fair-floating-300ft", "DQ", "out of bounds", []string{"1 B 100", "- A DQ"}},
		{"no cause of the rules", "fair-floating-300ft", "DQ at 201.3", "drove over a cone", []string{"1 B 100", "- A DQ at 201.3"}},
		{"feet and inches", "fair-floating-300ft", "\"DQ at 201' 3.5\"\" out of bounds\"", "", []string{"1 A 201' 3.5\"", "2 B 100"}},
		{"past the line of a capped class", "capped-300ft", "DQ at 301.3 breakage", "", []string{"1 B 100", "- A DQ at 301.3"}},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			sheet := "round,entry,result,note\n1,A," + row.result + "," + row.note + "\n1,B,100,\n"
			assert.Equal(t, row.want, printed(score(t, sheet, row.rules)))
		})
	}
}

// RENEG 7: out of bounds is the last place of the class, and not no place.
func TestACauseMayBeTheLastPlaceOnPaper(t *testing.T) {
	t.Parallel()
	const sheet = "round,entry,result,note\n1,A,DQ,out of bounds\n1,B,40,\n1,C,DQ,red flag\n1,D,DQ breakage: axle,\n"
	assert.Equal(t, []string{"1 B 40", "2= A DQ", "2= D DQ", "- C DQ"}, printed(score(t, sheet, "garden-100ft")))
	assert.Equal(t, []string{"1 B 40", "- A DQ", "- C DQ", "- D DQ"}, printed(score(t, sheet, "capped-300ft")))
	var out bytes.Buffer
	require.NoError(t, score(t, sheet, "garden-100ft").WriteText(&out))
	assert.Contains(t, out.String(), "DQ       out of bounds\n", "a reason that is the note is said once")
}

// MAM, WOLV 2: the same vehicle with another driver places once. The name tells which it is; without a name nobody knows.
func TestAVehicleThatPlacesOnceOnPaper(t *testing.T) {
	t.Parallel()
	const sheet = "round,entry,vehicle,result\n1,41,Grey Mare,200\n1,41b,GREY  mare,210\n1,7,,190\n1,8,,180\n1,12,Old Iron,170\n"
	once := score(t, sheet, "fair-floating-300ft")
	assert.Equal(t, []string{"1 41b 210", "2 7 190", "3 8 180", "4 12 170", "- 41 200"}, printed(once))
	assert.Equal(t, "no place: its vehicle is placed already", once.Standing[4].Note)
	assert.Equal(t, []string{"1 41b 210", "2 41 200", "3 7 190", "4 8 180", "5 12 170"}, printed(score(t, sheet, "floating-ft")))
}

// A finalist whom the rules put out for a disqualification did hook: the note says what happened.
func TestAFinalistWhoIsDisqualifiedOutIsSaidToBe(t *testing.T) {
	t.Parallel()
	rules := set(t, "capped-100m")
	rules.PullOff.DisqualifiedOut, rules.PullOff.Absent = true, domain.Withdrawn
	sheet, err := doc.ReadSheet(strings.NewReader("round,entry,result\n1,A,FP\n1,B,FP\n1,C,FP\nP1,A,3\nP1,B,DQ red flag\n"), "class.csv", rules)
	require.NoError(t, err)
	scored := doc.Score(sheet)
	assert.Equal(t, []string{"1 A 3", "- B DQ", "- C FP"}, printed(scored))
	assert.Equal(t, "no place: disqualified in the pull-off", scored.Standing[1].Note)
	assert.Equal(t, "withdrawn: did not hook in the pull-off", scored.Standing[2].Note)
}

// A line that does not count changes nothing, wherever it stands.
func TestTheLineThatCountsIsTheResult(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []string{"1 A 50", "2 B 40"}, printed(score(t, "round,entry,result\n1,A,50\n1,A,void\n1,B,rehook\n1,B,40\n", "capped-300ft")))
}

// Whoever hooked without anything that counts is listed, with what happened.
func TestEverybodyOnTheSheetIsListed(t *testing.T) {
	t.Parallel()
	scored := score(t, "round,entry,result\n1,A,void\n1,B,rehook\n1,B,void\nP1,C,3\n1,D,0\n", "capped-300ft")
	assert.Equal(t, []string{"1 D 0", "- A void", "- B void", "- C 3"}, printed(scored))
	for _, p := range scored.Standing {
		assert.NotNil(t, p.Rounds, "an empty list is not null")
	}
}

// failing is a printer without paper.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("no paper") }

func TestAnOutputThatFailsIsSaid(t *testing.T) {
	t.Parallel()
	scored := score(t, class, "capped-300ft")
	for name, err := range map[string]error{"text": scored.WriteText(failing{}), "json": scored.WriteJSON(failing{}), "csv": scored.WriteCSV(failing{})} {
		require.ErrorContains(t, err, "no paper", name)
	}
}

// lines draws the lines of a sheet; each entry has at most one counting line in a round.
func lines() *rapid.Generator[[]string] {
	return rapid.Custom(func(t *rapid.T) []string {
		var list []string
		for _, entry := range []string{"1", "2", "7b", "12", "41", "A1"} {
			for _, round := range []string{"1", "2", "P1", "P2"} {
				for range rapid.IntRange(0, 1).Draw(t, "hooks that do not count") {
					list = append(list, round+","+entry+","+rapid.SampledFrom([]string{"void", "rehook"}).Draw(t, "word")+",first")
				}
				if rapid.IntRange(0, 3).Draw(t, "hooked") > 0 {
					result := rapid.SampledFrom([]string{"FP 100", "FP 104.10", "83.91", "83.910", "0", "DQ", "absent"}).Draw(t, "result")
					list = append(list, round+","+entry+","+result+",second")
				}
			}
		}
		return append(list, "1,99,3,")
	})
}

// byEntry keeps for each entry its own lines in the order made.
func byEntry(list []string) map[string][]string {
	lines := make(map[string][]string)
	for _, l := range list {
		entry := strings.Split(l, ",")[1]
		lines[entry] = append(lines[entry], l)
	}
	return lines
}

// "Permuting lines of different entries changes nothing": the JSON is the same to the byte.
func TestPermutingLinesOfDifferentEntriesChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := lines().Draw(t, "lines")
		own := byEntry(list)
		var permuted []string
		for _, l := range rapid.Permutation(list).Draw(t, "permuted") {
			entry := strings.Split(l, ",")[1] // the slot is the entry's; which line stands in it keeps the entry's order
			permuted, own[entry] = append(permuted, own[entry][0]), own[entry][1:]
		}
		rules := rapid.SampledFrom([]string{"best-of-two-100m", "sum-of-two-100m"}).Draw(t, "rules")
		require.Equal(t, jsonOf(t, list, rules), jsonOf(t, permuted, rules))
	})
}

func jsonOf(t require.TestingT, lines []string, rules string) string {
	var out bytes.Buffer
	require.NoError(t, score(t, "round,entry,result,note\n"+strings.Join(lines, "\n")+"\n", rules).WriteJSON(&out))
	var decoded map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &decoded))
	return out.String()
}
