package webui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

func TestAWeightIsReadAsPeopleTypeIt(t *testing.T) {
	t.Parallel()
	for typed, read := range map[string]string{
		"8150 lb": "8,150 lb", "8 150 lb": "8,150 lb", "21\u202f600 lb": "21,600 lb", "21,600 lb": "21,600 lb", "2500.5 kg": "2,500.5 kg", "1 021 600 lb": "1,021,600 lb", "": "",
		"21,600 lbs": "21,600 lb", "850lbs": "850 lb", "3.6 t": "3,600 kg", "4t": "4,000 kg", "0.25 t": "250 kg", "12.75t": "12,750 kg",
	} {
		w, err := typedWeight(typed)
		require.NoError(t, err, typed)
		assert.Equal(t, read, w.String(), typed)
	}
	for _, typed := range []string{"8.150", "8.150 lb", "4.500 kg", "4.500kg", "1.200", "3.600 t"} {
		_, err := typedWeight(typed)
		assert.Equal(t, domain.Invalid, domain.KindOf(err), typed)
		assert.ErrorContains(t, err, "may mean thousands or thousandths")
	}
	for _, typed := range []string{"t", "-1 t", "3.6543 t", "21,600 t", "3.6 st", "lbs", "abc", "-1"} {
		_, err := typedWeight(typed)
		assert.Equal(t, domain.Invalid, domain.KindOf(err), typed)
	}
}
