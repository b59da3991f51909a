package doc_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

const (
	mania      = "https://tractorpullingmania.it/news.asp?id="
	elze       = "https://out28.rssing.com/chan-15031523/all_p322.html"
	fitzbek    = "https://www.shz.de/lokales/norddeutsche-rundschau/am-ende-ging-es-um-zentimeter-id13713011.html"
	brande     = "https://brandebladet.dk/sm%C3%A5t-med-full-pull"
	tubbergen  = "https://www.nu.nl/almelo/6217753/trekkerrijders-uit-tubbergen-op-dreef-tijdens-trekkertrek-in-tropische-omstandigheden.html"
	fayette    = "https://www.recordherald.com/sports/54825/trucks-and-tractors-pull-crowd-to-grandstand"
	emissouri  = "https://www.emissourian.com/sports/ppl-and-itpa-tractors-pull-into-friday-fair-action/"
	missouri21 = emissouri + "article_5c2c0a94-f94c-11eb-b753-6b8228116094.html"
	missouri22 = emissouri + "article_2f1c7dc6-1800-11ed-b339-a3d1fbbc52bb.html"
	crowRiver  = "https://www.crowrivermedia.com/it-was-a-hot-one-for-the-return-of-the-power-pull-nationals/article_0b48eb62-ecb0-11ec-ac65-730b8bb4c158.html"
	gopher     = "https://www.crowrivermedia.com/hutchinsonleader/news/local/rain-cut-short-garden-tractor-pull-at-gopher-campfire/article_44f72c1f-f2e9-5341-a245-de5c274b4d1d.html"
)

// publishedResult is one published table: its sheet, its source, the rules it is ranked under, what it checks, and the
// order that was printed.
type publishedResult struct {
	example, source, rules string
	checks                 string
	want                   []string
}

// publishedResults are results that were published, each as a sheet in domain/testdata, ranked to the order that was
// printed. Letters stand for names. A sheet's note says of every figure whether it was published, is inferred from
// what was, or is invented to fill a gap; "[I]" marks what of a row is inferred. A line of want is the place, the
// entry, and the figure of its last hook, or the sum where two pulls are added.
func publishedResults() []publishedResult {
	return []publishedResult{
		{"e1-libero-45", mania + "253", "e1-rules.json", "absent finalists are withdrawn by the judges; that A is before B follows from the distances [I]",
			[]string{"1 A 83.91", "2 B 83.41", "3 C 52.27", "- D absent", "- E absent"}},
		{"e1-libero-45", mania + "253", "best-of-two-100m", "the other reading: absent finalists are last of the pull-off, ahead of whoever did not qualify",
			[]string{"1= D absent", "1= E absent", "3 A 83.91", "4 B 83.41", "5 C 52.27"}},

		{"e2-elze-a", elze, "capped-100m", "the longest distance wins", []string{"1 A 67.77", "2 Y 64.27", "3 Z 0"}},
		{"e2-elze-b", elze, "capped-100m", "the longest distance wins", []string{"1 B 92.94", "2 Y 89.44", "3 Z 0"}},
		{"e2-elze-c", elze, "capped-100m", "a full puller is ahead of every other distance, whatever the pull-off gave",
			[]string{"1 C 20.11", "2 Y 19.87", "3 Z 99.99"}},
		{"e2-elze-d", elze, "capped-100m", "the pull-off is shorter than the class distances", []string{"1 D 27.38", "2 Y 3.02", "3 Z 99.99"}},
		{"e2-elze-e", elze, "capped-100m", `printed as "93"`, []string{"1 E 93.00", "2 Y 89.50", "3 Z 0"}},
		{"e2-elze-f", elze, "capped-100m", "the longest distance wins", []string{"1 F 72.16", "2 Y 68.66", "3 Z 0"}},
		{"e2-elze-g", elze, "capped-100m", "the longest distance wins", []string{"1 G 83.27", "2 Y 79.77", "3 Z 0"}},
		{"e2-elze-h", elze, "capped-100m", "the longest distance wins", []string{"1 H 70.55", "2 Y 67.05", "3 Z 0"}},
		{"e2-fitzbek-2500kg", fitzbek, "e2-fitzbek-rules.json", "full pulls in the first pull-off [I], the second decides", []string{"1 A 50.6", "2 B 49.9", "3 Z 79.95"}},
		{"e2-fitzbek-4500kg", fitzbek, "e2-fitzbek-rules.json", "ten centimetres decide", []string{"1 C 55.10", "2 D 55.00"}},

		{"e3-brande-heavy-modified", brande, "capped-100m", "the only one over 100 m wins without a pull-off", []string{"1 A FP", "2 Y 99.20", "3 Z 87.45"}},
		{"e3-brande-pro-stock", brande, "capped-100m", "the pull-off is measured past the line", []string{"1 A 124.96", "2 B 112.50", "3 Z 98.10"}},
		{"e3-brande-3600kg", brande, "capped-100m", "124 cm less are 59.79 [I]", []string{"1 A 61.03", "2 B 59.79"}},

		{"e4-tubbergen-2600kg", tubbergen, "sum-of-two-100m", "two pulls are added", []string{"1 A 188.64", "2 B 187.64"}},
		{"e4-tubbergen-3800kg", tubbergen, "sum-of-two-100m", "two full sums, a third pull decides and is added [I]; the third keeps the sum of two",
			[]string{"1 A 290.59", "2 B 285.02", "3 C 195.70"}},
		{"e4-tubbergen-4500kg", tubbergen, "sum-of-two-100m", "two pulls are added", []string{"1 A 190.53", "2 B 184.75", "3 C 184.44"}},
		{"e4-tubbergen-5500kg", tubbergen, "sum-of-two-100m", "two pulls are added", []string{"1 A 175.27", "2 B 174.06", "3 C 173.93"}},
		{"e4-tubbergen-6000kg-german", tubbergen, "sum-of-two-100m", "after the third pull [I]", []string{"1 A 279.73", "2 B 274.78", "3 C 197.53"}},
		{"e4-tubbergen-7000kg", tubbergen, "sum-of-two-100m", "two pulls are added", []string{"1 A 183.44", "2 B 181.42", "3 C 179.62"}},
		{"e4-tubbergen-8000kg-german", tubbergen, "sum-of-two-100m", "one full pull among two is no full sum", []string{"1 A 197.36", "2 B 190.16", "3 C 187.14"}},
		{"e4-tubbergen-9000kg", tubbergen, "sum-of-two-100m", "200.00 is two pulls capped at 100 [I]; alone it needs no third", []string{"1 A 200", "2 B 183.60", "3 C 183.05"}},
		{"e4-tubbergen-11000kg", tubbergen, "sum-of-two-100m", "as the 9 t class [I]", []string{"1 A 200", "2 B 196.82", "3 C 196.34"}},

		{"e5-farm-stock", mania + "605", "capped-100m", "the start inside 20 m does not count; E is last of the final [I]",
			[]string{"1 A 85.08", "2 B 81.68", "3 C 69.23", "4 D 68.44", "5 E 60.00"}},
		{"e5-top-class", mania + "230", "best-of-two-100m", "places 1 and 2 by the final, then by the best qualifying pull, C's 72.33; two of six starters are not named",
			[]string{"1 A 119.30", "2 B 97.00", "3 C 40.00", "4 D 35.40"}},

		{"e6-8500lb", fayette, "floating-ft", "by distance, with no pull-off; places 4 and 6 to 8 are not published",
			[]string{"1 A 355.041", "2 B 353.069", "3 C 348.606", "4 D 345.200", "5 E 343.632", "6 F 341.000", "7 G 338.500", "8 H 334.000",
				"9 I 333.098", "10 J 326.435", "11 K 317.158"}},
		{"e6-6200lb-2wd", fayette, "floating-ft", "half a foot decides the second place", []string{"1 A 337.794", "2 B 334.722", "3 C 334.169"}},
		{"e6-8000lb-diesel", fayette, "floating-ft", "places 4 to 6, 8 and 9 are not published",
			[]string{"1 A 329.261", "2 B 327.312", "3 C 326.417", "4 D 322.500", "5 E 320.000", "6 F 315.100", "7 G 313.818", "8 H 310.900",
				"9 I 306.250", "10 J 302.889"}},

		{"e7-2021-first", missouri21, "floating-ft", "a gap of 0.24 ft decides", []string{"1 A 291.79", "2 B 291.55", "3 C 289.46"}},
		{"e7-2021-second", missouri21, "floating-ft", "past the line without a pull-off", []string{"1 A 345.74", "2 B 343.69", "3 C 335.91"}},
		{"e7-2021-third", missouri21, "floating-ft", "past the line without a pull-off", []string{"1 A 365.28", "2 B 350.73", "3 C 342.97"}},
		{"e7-2022-light-pro-stock", missouri22, "floating-ft", "276.2 is 276.20",
			[]string{"1 A 314.68", "2 B 289.43", "3 C 281.92", "4 D 276.2", "5 E 257.43"}},

		{"e8-mini", crowRiver, "floating-ft", "one driver, two vehicles: the vehicle places, by 0.036 ft", []string{"1 A 304.246", "2 B1 304.210", "3 B2 295.795"}},
		{"e8-8000lb", crowRiver, "floating-ft", "thousandths of a foot", []string{"1 A 343.395", "2 B 330.395", "3 C 326.810"}},
		{"e8-10000lb", crowRiver, "floating-ft", "thousandths of a foot", []string{"1 A 376.035", "2 B 374.565", "3 C 365.570"}},

		{"e9-850lb-youth", gopher, "capped-300ft", "two vehicles of one driver", []string{"1 A 116.6", "2 B1 94.3", "3 B2 87.9"}},
		{"e9-900lb", gopher, "capped-300ft", "tenths of a foot; the classes lost to rain have no sheet", []string{"1 A 129.4", "2 B 128.1", "3 C 114.1"}},
		{"e9-950lb-first", gopher, "capped-300ft", "144 is 144.0", []string{"1 A 170.8", "2 B 144", "3 C 141.5"}},
		{"e9-950lb-second", gopher, "capped-300ft", "tenths of a foot", []string{"1 A 162.5", "2 B 154.2", "3 C 148.5"}},
		{"e9-1050lb", gopher, "capped-300ft", "tenths of a foot", []string{"1 A 179.7", "2 B 175.3", "3 C 159.3"}},
	}
}

func TestPublishedResultsAreRankedAsPrinted(t *testing.T) {
	t.Parallel()
	for _, row := range publishedResults() {
		t.Run(row.example+" "+row.rules, func(t *testing.T) {
			t.Parallel()
			scored := doc.Score(readSheet(t, row.example+".csv", rulesOf(t, row.rules)))
			assert.Equal(t, row.want, printed(scored), "%s: %s", row.source, row.checks)
		})
	}
}

// Every sheet in domain/testdata is ranked by the test above, and every line of it says where its figure comes from.
func TestPublishedSheetsSayWhereTheirFiguresComeFrom(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../testdata/e*.csv")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".csv")
		assert.True(t, slices.ContainsFunc(publishedResults(), func(r publishedResult) bool { return r.example == name }), "%s is not ranked", file)
		for _, line := range readSheet(t, filepath.Base(file), set(t, anySet(file))).Lines {
			word, _, _ := strings.Cut(strings.NewReplacer(":", " ", ";", " ").Replace(line.Note), " ")
			assert.Contains(t, []string{"published", "inferred", "invented"}, word, "%s line %d", file, line.Number)
		}
	}
}

// anySet is a set with which the sheet can be read, whatever it is ranked with.
func anySet(file string) string {
	for _, feet := range []string{"e6-", "e7-", "e8-", "e9-"} {
		if strings.Contains(file, feet) {
			return "floating-ft"
		}
	}
	return "best-of-two-100m"
}

// E4: every class of the nine gives the totals that were published, to the hundredth.
func TestPublishedSumsComeOut(t *testing.T) {
	t.Parallel()
	scored := doc.Score(readSheet(t, "e4-tubbergen-9000kg.csv", set(t, "sum-of-two-100m")))
	sum, err := domain.ParseDistance(scored.Standing[0].Total, domain.Metre)
	require.NoError(t, err)
	published, err := domain.ParseDistance("200.00", domain.Metre)
	require.NoError(t, err)
	assert.Zero(t, sum.Compare(published), "200 is 200.00")
	assert.False(t, scored.Standing[0].Shared)
}

// E5: third by the best qualifying pull, 72.33, not by the last one.
func TestThirdPlaceComesFromTheBestQualifyingPull(t *testing.T) {
	t.Parallel()
	scored := doc.Score(readSheet(t, "e5-top-class.csv", set(t, "best-of-two-100m")))
	assert.Equal(t, "C", scored.Standing[2].Entry)
	assert.Equal(t, "72.33", scored.Standing[2].Total)
}

// set returns a ready-made rule set.
func set(t testing.TB, name string) domain.RuleSet {
	t.Helper()
	rules, err := doc.ReadyMadeRuleSet(name)
	require.NoError(t, err)
	return rules
}

// rulesOf returns a ready-made rule set, or the one of a file in domain/testdata.
func rulesOf(t testing.TB, name string) domain.RuleSet {
	t.Helper()
	if !strings.HasSuffix(name, ".json") {
		return set(t, name)
	}
	document, err := os.ReadFile(filepath.Join("..", "testdata", name))
	require.NoError(t, err)
	rules, err := doc.ParseRuleSet(document)
	require.NoError(t, err)
	return rules
}

// readSheet reads a sheet of domain/testdata.
func readSheet(t testing.TB, name string, rules domain.RuleSet) doc.Sheet {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "testdata", name))
	require.NoError(t, err)
	defer file.Close()
	sheet, err := doc.ReadSheet(file, name, rules)
	require.NoError(t, err)
	return sheet
}

// printed writes a standing as the tables above do.
func printed(scored doc.Scored) []string {
	var lines []string
	for _, p := range scored.Standing {
		place := "-"
		if p.Place != nil {
			place = fmt.Sprint(*p.Place)
		}
		if p.Shared {
			place += "="
		}
		figure := ""
		if len(p.Rounds) > 0 {
			figure = p.Rounds[len(p.Rounds)-1].Result
		}
		if strings.HasPrefix(scored.Rules, "sum-") {
			figure = p.Total
		}
		lines = append(lines, strings.TrimSpace(place+" "+p.Entry+" "+figure))
	}
	return lines
}
