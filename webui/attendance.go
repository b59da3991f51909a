//go:build !js

package webui

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/webui/templates"
)

// fieldWas carries what the page showed of an entry, so that only what somebody changed on it is sent on: of two people who
// tick a list each, neither undoes what the other stored meanwhile.
const fieldWas = "was"

// rowField is the name of a field in a row of the list, counted from 0.
func rowField(name string, row int) string { return name + "-" + strconv.Itoa(row) }

// attendanceOf offers the list of who came and who paid; none while the result is official, as it would be refused.
func attendanceOf(class *domain.Class, base string, no *refused) templates.Attendance {
	var view templates.Attendance
	if len(class.Entries) == 0 || !class.Official.Made.IsZero() {
		return view
	}
	var fields []string
	var hidden []templates.Hidden
	known, came := map[string]string{}, 0
	for i, competitor := range class.Competitors() {
		e := class.Entries[i]
		view.Rows = append(view.Rows, templates.AttendanceRow{Puller: puller(e), Key: strconv.Itoa(i), Hooked: competitor.Hooked})
		for _, name := range []string{templates.FieldGuest, templates.FieldCame, templates.FieldPaid, templates.FieldFee} {
			fields = append(fields, rowField(name, i))
		}
		known[rowField(templates.FieldGuest, i)], known[rowField(templates.FieldCame, i)] = ticked(e.Guest), ticked(e.Came)
		known[rowField(templates.FieldPaid, i)], known[rowField(templates.FieldFee, i)] = ticked(e.Paid), amount(e.Fee)
		hidden = append(hidden, templates.Hidden{Name: rowField(fieldEntry, i), Value: e.ID.String()},
			templates.Hidden{Name: rowField(fieldWas, i), Value: attendanceWas(e.Attendance)})
		if competitor.Present {
			came++
		}
	}
	view.Form = no.make("attend", base+"attend", fields, hidden...)
	if !view.Form.Refused() {
		view.Form.Values = known
	}
	view.Count, view.Says = fmt.Sprintf("%d of %s came", came, entriesCounted(len(class.Entries))), attendanceSays(class.Rules)
	return view
}

// entriesCounted says how many entries there are: "1 entry", "14 entries".
func entriesCounted(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

// attendanceSays says what hangs on the list under the rules of the class.
func attendanceSays(rules domain.RuleSet) string {
	var given []string
	if rules.Points.Given() {
		given = append(given, "points")
	}
	if rules.Purse.Given() {
		given = append(given, "purse")
	}
	if len(given) == 0 {
		return "These rules give no points and pay no purse; the list is for your own record. Who hooked came."
	}
	return "The " + strings.Join(given, " and the ") + " of this class go by it. Who hooked came, and needs no tick."
}

// ticked is the value of a box.
func ticked(is bool) string {
	if is {
		return "yes"
	}
	return ""
}

// amount writes money, "" for none.
func amount(m domain.Money) string {
	if m == 0 {
		return ""
	}
	return m.String()
}

// attendanceWas writes an attendance as the page carries it: a guest who came and paid 20 is "yes,yes,20.00,yes".
func attendanceWas(a domain.Attendance) string {
	return strings.Join([]string{ticked(a.Guest), ticked(a.Came), a.Fee.String(), ticked(a.Paid)}, ",")
}

// attendAct reads what was ticked: every row that is not any more as the page showed it. A box of who hooked is not on the
// page, and what was stored of it stays.
func attendAct(class *domain.Class, values url.Values) (domain.Action, error) {
	var action domain.Attend
	hooked := map[uuid.UUID]bool{}
	for i, competitor := range class.Competitors() {
		hooked[class.Entries[i].ID] = competitor.Hooked
	}
	for i := 0; values.Has(rowField(fieldEntry, i)); i++ {
		entry, err := id(values, rowField(fieldEntry, i))
		if err != nil {
			return nil, err
		}
		a, err := attendanceIn(values, i)
		if err != nil {
			return nil, err
		}
		was := values.Get(rowField(fieldWas, i))
		if hooked[entry] {
			a.Came = strings.Split(was+",,", ",")[1] != ""
		}
		if attendanceWas(a) != was {
			action.Entries = append(action.Entries, domain.Attended{Entry: entry, Attendance: a})
		}
	}
	if len(action.Entries) == 0 {
		return nil, &domain.Error{Kind: domain.Invalid, Field: "entries", Message: "nothing on the list was changed", Fix: "tick who came or paid, then send it"}
	}
	return action, nil
}

// attendanceIn reads one row.
func attendanceIn(values url.Values, row int) (a domain.Attendance, err error) {
	a.Guest = values.Get(rowField(templates.FieldGuest, row)) != ""
	a.Came = values.Get(rowField(templates.FieldCame, row)) != ""
	a.Paid = values.Get(rowField(templates.FieldPaid, row)) != ""
	if fee := strings.TrimSpace(values.Get(rowField(templates.FieldFee, row))); fee != "" {
		a.Fee, err = domain.ParseMoney(fee)
	}
	return a, atField(rowField(templates.FieldFee, row), err)
}
