package doc_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// sledCases are worked jobs of invented sleds, with the values that plain arithmetic gives.
type sledCases struct {
	Constants map[string]float64 `json:"constants"`
	Cases     []struct {
		Name       string
		HandValues []struct {
			Input int
			Path  []any
			Value any
		} `json:"hand_values"`
		Inputs  []json.RawMessage
		Outputs []any
	}
}

// readCases returns the worked jobs.
func readCases(t testing.TB) sledCases {
	t.Helper()
	var cases sledCases
	document, err := os.ReadFile("testdata/sled-cases.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(document, &cases))
	require.GreaterOrEqual(t, len(cases.Cases), 7)
	return cases
}

// sledRun does a job as the command does and returns its result as anybody reads it.
func sledRun(t testing.TB, job string) any {
	t.Helper()
	read, err := doc.ReadSledJob(bytes.NewReader([]byte(job)))
	require.NoError(t, err, job)
	var out bytes.Buffer
	require.NoError(t, read.Run().WriteJSON(&out))
	var result any
	require.NoError(t, json.Unmarshal(out.Bytes(), &result))
	return result
}

// comparison walks two results side by side.
type comparison struct {
	t       testing.TB
	figures int
	largest float64 // relative difference
	at      string
}

// relative is how far two figures are apart. What a fit without noise leaves is nothing but rounding on thousands of
// pounds, and has no size of its own.
func (c *comparison) relative(path string, want, got float64) {
	if strings.HasSuffix(path, "rms_lb") {
		assert.InDelta(c.t, want, got, 1e-6, path)
		return
	}
	c.figures++
	difference := math.Abs(got-want) / max(math.Abs(want), 1e-3)
	if difference > c.largest {
		c.largest, c.at = difference, path
	}
	assert.LessOrEqual(c.t, difference, 1e-9, "%s: want %v, got %v", path, want, got)
}

// same compares what is wanted, and refuses what is there besides. The brute-force crosscheck of the cases is no result,
// and advice is not in them.
func (c *comparison) same(path string, want, got any) {
	switch want := want.(type) {
	case map[string]any:
		have, ok := got.(map[string]any)
		require.True(c.t, ok, "%s: %v", path, got)
		for name, value := range want {
			if name == "crosscheck" {
				continue
			}
			if assert.Contains(c.t, have, name, path) {
				c.same(path+"."+name, value, have[name])
			}
		}
		for name := range have {
			if _, ok := want[name]; !ok {
				assert.Equal(c.t, "advice", name, "%s has more than it should", path)
			}
		}
	case []any:
		have, ok := got.([]any)
		require.True(c.t, ok && len(have) == len(want), "%s: %v", path, got)
		for i := range want {
			c.same(fmt.Sprintf("%s[%d]", path, i), want[i], have[i])
		}
	case float64:
		have, ok := got.(float64)
		require.True(c.t, ok, "%s: %v", path, got)
		c.relative(path, want, have)
	default:
		assert.Equal(c.t, want, got, path)
	}
}

// at returns what stands at a path.
func at(t testing.TB, value any, path []any) any {
	t.Helper()
	for _, step := range path {
		switch step := step.(type) {
		case string:
			value = value.(map[string]any)[step]
		case float64:
			value = value.([]any)[int(step)]
		}
	}
	return value
}

func TestTheWorkedCasesComeOut(t *testing.T) {
	t.Parallel()
	all := comparison{}
	for _, c := range readCases(t).Cases {
		t.Run(c.Name, func(t *testing.T) {
			compare := comparison{t: t}
			require.Len(t, c.Outputs, len(c.Inputs))
			var results []any
			for i, job := range c.Inputs {
				result := sledRun(t, string(job))
				compare.same(fmt.Sprintf("%s %d", c.Name, i), c.Outputs[i], result)
				results = append(results, result)
			}
			for _, hand := range c.HandValues {
				compare.same(fmt.Sprintf("%s %d, by hand, %v", c.Name, hand.Input, hand.Path), hand.Value, at(t, results[hand.Input], hand.Path))
			}
			all.figures += compare.figures
			if compare.largest > all.largest {
				all.largest, all.at = compare.largest, compare.at
			}
		})
	}
	t.Logf("%d figures, the largest relative difference is %.1e at %s", all.figures, all.largest, all.at)
}
