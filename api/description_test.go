package api

import (
	"testing"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"
)

// What the reference cannot read of the description is an error that names the place, and not a hole in the page.
func TestADescriptionThatCannotBeReadIsNotHalfShown(t *testing.T) {
	t.Parallel()
	d, err := readDescription()
	require.NoError(t, err)
	shapes, err := d.shapes()
	require.NoError(t, err)
	require.NotEmpty(t, shapes)
	for says, schemas := range map[string]string{
		"schema Broken:":            `{Broken: [a, list]}`,
		"field wrong:":              `{Broken: {properties: {wrong: [a, list]}}}`,
		"field trip.figures:":       `{Broken: {properties: {trip: {properties: {figures: 3}}}}}`,
		"cannot unmarshal !!str `x": `{Broken: {required: x}}`,
	} {
		var broken description
		require.NoError(t, yaml.Unmarshal([]byte("components: {schemas: "+schemas+"}"), &broken))
		_, err := broken.shapes()
		require.ErrorContains(t, err, says)
	}
}
