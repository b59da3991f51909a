package doc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// inMetres are the units of a class that is measured in metres.
func inMetres(t require.TestingT) doc.EstimateUnits {
	line, err := domain.ParseDistance("100", domain.Metre)
	require.NoError(t, err)
	return doc.EstimateUnitsOf(&domain.Class{Rules: domain.RuleSet{Line: line}})
}

// A class in metres reads its estimate in metres and kilograms: 1 ft is 0.3048 m and 1 lb 0.45359237 kg (NIST SP 811, appendix
// B.8), and a force counts as the weight that would hang from the chain.
func TestAnEstimateIsReadInTheUnitsOfTheClass(t *testing.T) {
	t.Parallel()
	feet, metres := doc.FeetAndPounds(), inMetres(t)
	assert.Equal(t, []string{"ft", "lb", "m", "kg"}, []string{feet.Length, feet.Weight, metres.Length, metres.Weight})
	assert.Equal(t, []bool{false, true}, []bool{feet.Metric(), metres.Metric()})
	assert.Equal(t, []string{"281", "85.8"}, []string{feet.Figure(281.36), metres.Figure(281.36)})
	assert.InDelta(t, 4535.9237, metres.Heavy(10_000), 1e-9)
	assert.InDelta(t, 100, metres.Long(328.08398950131), 1e-9)
	line, err := domain.ParseDistance("300", domain.Foot)
	require.NoError(t, err)
	assert.Equal(t, feet, doc.EstimateUnitsOf(&domain.Class{Rules: domain.RuleSet{Line: line}}))

	low, high := 262.5, 288.7
	stops := func(ft *float64) doc.SledPrediction {
		return doc.SledPrediction{SledByEndDrag: doc.SledByEndDrag{Status: "stops", Distance: ft}}
	}
	row := doc.SledRow{Predicted: stops(&low), Low: stops(&low), High: stops(&high)}
	assert.Equal(t, "281 → 262 to 289", row.Says(281.36))
	assert.Equal(t, "85.8 → 80.0 to 88.0", row.SaysIn(metres, 281.36))
	row.Low.Distance, row.Bound = nil, "upper"
	assert.Equal(t, "85.8 → 88.0 or less", row.SaysIn(metres, 281.36))
}

// What is longer or heavier in one unit is so in the other, and feet and pounds leave the figures as they are.
func TestUnitsOfAnEstimateKeepTheOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		metres, feet := inMetres(t), doc.FeetAndPounds()
		a, b := rapid.Float64Range(0, 1e6).Draw(t, "a"), rapid.Float64Range(0, 1e6).Draw(t, "b")
		require.Equal(t, a <= b, metres.Long(a) <= metres.Long(b) && metres.Heavy(a) <= metres.Heavy(b))
		require.InDelta(t, a, feet.Long(a), 1e-6)
		require.InDelta(t, a, feet.Heavy(a), 1e-6)
	})
}
