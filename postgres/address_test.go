package postgres_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/desk"
)

// Every class of every event has its address in the list, and no more of them than are asked for.
func TestTheAddressesOfWhatEverybodyMayRead(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	all, err := d.desk.Addresses(d.ctx)
	require.NoError(t, err)
	assert.Equal(t, desk.Addresses{Events: []string{d.ref.Event}, Classes: []desk.Ref{d.ref}}, all)
	require.NoError(t, d.store.InTx(d.ctx, desk.Snapshot, func(tx desk.Tx) error {
		refs, err := tx.ClassRefs(d.ctx, 0)
		assert.Empty(t, refs)
		return err
	}))
}
