package webui

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// asShown is what a browser sends of a list on which nobody ticks anything.
func asShown(view templates.Attendance) url.Values {
	values := url.Values{}
	for _, h := range view.Form.Hidden {
		values.Set(h.Name, h.Value)
	}
	for name, value := range view.Form.Values {
		if value != "" {
			values.Set(name, value)
		}
	}
	return values
}

func TestOnlyWhatWasTickedIsSentOn(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun("FP")...) // 7 has hooked
	list := attendanceOf(c, "/desk/", nil)
	assert.Equal(t, "1 of 4 entries came", list.Count)
	values := asShown(list)
	_, err := attendAct(c, values)
	require.ErrorContains(t, err, "nothing on the list was changed")

	at := func(number string) int {
		for i, row := range list.Rows {
			if row.Number == number {
				assert.Equal(t, number == "7", row.Hooked)
				return i
			}
		}
		return -1
	}
	values.Set(rowField(templates.FieldCame, at("12")), "yes")
	values.Set(rowField(templates.FieldFee, at("12")), " 20.5 ")
	values.Set(rowField(templates.FieldPaid, at("7")), "yes")
	action, err := attendAct(c, values)
	require.NoError(t, err)
	told, ok := action.(domain.Attend)
	require.True(t, ok)
	assert.ElementsMatch(t, []domain.Attended{
		{Entry: c.Entries[at("12")].ID, Attendance: domain.Attendance{Came: true, Fee: 2050}},
		{Entry: c.Entries[at("7")].ID, Attendance: domain.Attendance{Paid: true}},
	}, told.Entries, "who hooked needs no tick, and the others stay as they are")

	values.Set(rowField(templates.FieldFee, at("12")), "twenty")
	_, err = attendAct(c, values)
	var refusal *domain.Error
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, rowField(templates.FieldFee, at("12")), refusal.Field, "the sentence stands at its row")
	values.Set(rowField(fieldEntry, 0), "x")
	_, err = attendAct(c, values)
	require.ErrorContains(t, err, "the form is not complete")
}

// The list shows what is stored, says what hangs on it, and is gone once the result is signed.
func TestTheListShowsWhatIsStored(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", "draw")
	c.Entries[1].Attendance = domain.Attendance{Guest: true, Came: true, Fee: 2000, Paid: true}
	list := attendanceOf(c, "/desk/", nil)
	for name, want := range map[string]string{templates.FieldGuest: "yes", templates.FieldCame: "yes", templates.FieldPaid: "yes", templates.FieldFee: "20.00"} {
		assert.Equal(t, want, list.Form.Value(rowField(name, 1)))
		assert.Empty(t, list.Form.Value(rowField(name, 0)))
	}
	assert.Contains(t, list.Says, "for your own record")
	c.Rules.Points.To, c.Rules.Purse.Guests = domain.ToVehicle, domain.GuestsPaid
	assert.Contains(t, attendanceOf(c, "/desk/", nil).Says, "The points and the purse of this class go by it.")
	c.Official.Made = c.Draw.Drawn
	assert.Nil(t, attendanceOf(c, "/desk/", nil).Form)
	assert.Equal(t, "1 entry", entriesCounted(1))
}

// A long list is one sentence, and no amount is in any.
func TestALongListInTheJournal(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", "draw")
	long := domain.Attend{Entries: make([]domain.Attended, 7)}
	assert.Equal(t, "who came and who paid was written down for 7 entries", attendWords(*c, long))
	one := domain.Attend{Entries: []domain.Attended{{Entry: c.Entries[0].ID, Attendance: domain.Attendance{Fee: 2000, Paid: true}}}}
	assert.NotContains(t, attendWords(*c, one), "20")
}
