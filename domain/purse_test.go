package domain_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// payees is a floating class of entries 1, 2, … with these distances, and who they are.
func payees(t require.TestingT, results []string, change func(i int, c *domain.Competitor)) ([]domain.Placing, []domain.Row, []domain.Competitor) {
	ranked := domain.Table{Rules: set(t, "floating-ft"), Rounds: []domain.RoundName{{Number: 1}}, Complete: true}
	var competitors []domain.Competitor
	for i, written := range results {
		row := domain.Row{Number: fmt.Sprint(i + 1), Results: []domain.Result{resultIn(t, written, domain.Foot)}}
		c := ranked.Competitor(row)
		if change != nil {
			change(i+1, &c)
		}
		ranked.Rows, competitors = append(ranked.Rows, row), append(competitors, c)
	}
	return domain.Rank(ranked), ranked.Rows, competitors
}

// paid writes a payout as "50.00 25.00 25.00, kept 0.00".
func paid(out domain.Payout) string {
	var said []string
	for _, amount := range out.Paid {
		said = append(said, amount.String())
	}
	return strings.Join(said, " ") + ", kept " + out.Kept.String()
}

// money reads amounts.
func money(t require.TestingT, written ...string) []domain.Money {
	var amounts []domain.Money
	for _, w := range written {
		amount, err := domain.ParseMoney(w)
		require.NoError(t, err)
		amounts = append(amounts, amount)
	}
	return amounts
}

func TestPublishedPurses(t *testing.T) {
	t.Parallel()
	five := []string{"250", "240", "230", "220", "210", "DQ"}
	fee := func(_ int, c *domain.Competitor) { c.Fee = 2000 }
	guestFirst := func(i int, c *domain.Competitor) { c.Guest = i == 1 }
	for _, row := range []struct {
		source  string
		rule    domain.PurseRule
		results []string
		who     func(int, *domain.Competitor)
		ending  domain.Ending
		want    string
	}{
		{"HARF: $500", domain.PurseRule{Prizes: money(t, "150", "110", "90", "80", "70")}, five, nil, domain.Pulled, "150.00 110.00 90.00 80.00 70.00 0.00, kept 0.00"},
		{"HARF with three who placed", domain.PurseRule{Prizes: money(t, "150", "110", "90", "80", "70")}, five[3:], nil, domain.Pulled, "150.00 110.00 0.00, kept 240.00"},
		{"50 % pay-back, 3 places", domain.PurseRule{Share: 50, Split: []int{50, 30, 20}}, five, fee, domain.Pulled, "30.00 18.00 12.00 0.00 0.00 0.00, kept 0.00"},
		{"TMTPA 3: 10 of each fee of 20", domain.PurseRule{OfEach: 1000}, five, fee, domain.Pulled, "60.00 0.00 0.00 0.00 0.00 0.00, kept 0.00"},
		{"HTP: 40/30/10 percent of the fund", domain.PurseRule{Share: 100, Split: []int{40, 30, 10}}, five, fee, domain.Pulled, "48.00 36.00 12.00 0.00 0.00 0.00, kept 24.00"},
		{"RENEG general 6: added money to members", domain.PurseRule{Prizes: money(t, "50", "30"), Added: 10000, AddedMembers: true, Split: []int{60, 40}}, five[:3], guestFirst,
			domain.Pulled, "50.00 90.00 40.00, kept 0.00"},
		{"guests passed", domain.PurseRule{Guests: domain.GuestsPassed, Prizes: money(t, "50", "30")}, five[:3], guestFirst, domain.Pulled, "0.00 50.00 30.00, kept 0.00"},
		{"guests forfeit", domain.PurseRule{Guests: domain.GuestsForfeit, Prizes: money(t, "50", "30")}, five[:3], guestFirst, domain.Pulled, "0.00 30.00 0.00, kept 50.00"},
		{"GSRT: fewer than 5, adjusted", domain.PurseRule{Prizes: money(t, "50", "30.01"), Minimum: 5, Reduced: 50}, five[:2], nil, domain.Pulled, "25.00 15.00, kept 0.00"},
		{"MMTT: rained out, divided equally", domain.PurseRule{Prizes: money(t, "50", "50.01"), Stopped: domain.PurseEqual}, five[:3], nil, domain.StoppedEarly, "33.34 33.34 33.33, kept 0.00"},
		{"stopped, the places so far", domain.PurseRule{Prizes: money(t, "50", "30")}, five[:3], nil, domain.StoppedEarly, "50.00 30.00 0.00, kept 0.00"},
		{"stopped, nothing", domain.PurseRule{Prizes: money(t, "50", "30"), Stopped: domain.PurseKept}, five[:3], nil, domain.StoppedEarly, "0.00 0.00 0.00, kept 80.00"},
		{"never run", domain.PurseRule{Prizes: money(t, "50", "30")}, five[:3], nil, domain.NeverRun, "0.00 0.00 0.00, kept 80.00"},
		// A tie: the purse of the tied places added and shared; common practice, no published source.
		{"second shared", domain.PurseRule{Prizes: money(t, "50", "30", "20")}, []string{"250", "240", "240"}, nil, domain.Pulled, "50.00 25.00 25.00, kept 0.00"},
		{"an odd cent", domain.PurseRule{Prizes: money(t, "0.05")}, []string{"250", "250", "250"}, nil, domain.Pulled, "0.02 0.02 0.01, kept 0.00"},
		{"the last prize shared", domain.PurseRule{Prizes: money(t, "50", "30")}, []string{"250", "240", "240", "240"}, nil, domain.Pulled, "50.00 10.00 10.00 10.00, kept 0.00"},
		{"cents of the split go to the first", domain.PurseRule{Added: 100, Split: []int{34, 33, 33}}, five[:3], nil, domain.Pulled, "0.34 0.33 0.33, kept 0.00"},
		{"a pool that cannot be parted", domain.PurseRule{Added: 1, Split: []int{50, 50}}, five[:3], nil, domain.Pulled, "0.01 0.00 0.00, kept 0.00"},
		{"a fee that was not paid", domain.PurseRule{Share: 50}, five[:3], func(i int, c *domain.Competitor) { c.Fee, c.Paid = 2001, i != 2 }, domain.Pulled, "20.01 0.00 0.00, kept 0.00"},
		{"no more of each than its fee", domain.PurseRule{OfEach: 9000}, five[:2], fee, domain.Pulled, "40.00 0.00, kept 0.00"},
		{"no purse", domain.PurseRule{}, five[:2], fee, domain.Pulled, "0.00 0.00, kept 0.00"},
	} {
		t.Run(row.source, func(t *testing.T) {
			t.Parallel()
			if row.source != "no purse" {
				row.rule.Guests = max(row.rule.Guests, domain.GuestsPaid)
				row.rule.Stopped = max(row.rule.Stopped, domain.PurseByPlace)
			}
			require.NoError(t, row.rule.Check())
			standing, rows, competitors := payees(t, row.results, row.who)
			assert.Equal(t, row.want, paid(row.rule.Pay(standing, rows, competitors, row.ending)))
		})
	}
}

// purses draws rules for prize money.
func purses() *rapid.Generator[domain.PurseRule] {
	return rapid.Custom(func(t *rapid.T) domain.PurseRule {
		amount := rapid.Map(rapid.Int64Range(0, 99_999), func(cents int64) domain.Money { return domain.Money(cents) })
		return domain.PurseRule{
			Guests:  rapid.SampledFrom([]domain.GuestMoney{domain.GuestsPaid, domain.GuestsPassed, domain.GuestsForfeit}).Draw(t, "guests"),
			Stopped: rapid.SampledFrom([]domain.StoppedPurse{domain.PurseByPlace, domain.PurseEqual, domain.PurseKept}).Draw(t, "stopped"),
			Prizes:  rapid.SliceOfN(amount, 0, 6).Draw(t, "prizes"), Share: rapid.IntRange(0, 100).Draw(t, "share"), OfEach: amount.Draw(t, "of each"),
			Added: amount.Draw(t, "added"), AddedMembers: rapid.Bool().Draw(t, "members"), Split: rapid.SliceOfN(rapid.IntRange(1, 25), 0, 4).Draw(t, "split"),
			Minimum: rapid.IntRange(0, 6).Draw(t, "minimum"), Reduced: rapid.IntRange(0, 100).Draw(t, "reduced"),
		}
	})
}

// What is paid always equals the purse, but for what is kept; nobody is paid less than nothing, nobody without a place is paid
// for one, and where every place is taken by somebody who is paid and all is split, nothing is kept.
func TestWhatIsPaidIsThePurse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rule := purses().Draw(t, "rule")
		require.NoError(t, rule.Check())
		results := rapid.SliceOfN(rapid.SampledFrom([]string{"250", "240", "240.0", "230", "DQ", "absent"}), 0, 9).Draw(t, "results")
		standing, rows, competitors := payees(t, results, func(_ int, c *domain.Competitor) {
			c.Guest, c.Paid = rapid.Bool().Draw(t, "guest"), rapid.Bool().Draw(t, "paid")
			c.Fee = domain.Money(rapid.Int64Range(0, 9999).Draw(t, "fee"))
		})
		ending := rapid.SampledFrom([]domain.Ending{domain.Pulled, domain.StoppedEarly, domain.NeverRun}).Draw(t, "ending")
		out := rule.Pay(standing, rows, competitors, ending)
		total := out.Kept
		for i, amount := range out.Paid {
			require.GreaterOrEqual(t, amount, domain.Money(0))
			require.False(t, competitors[i].Guest && rule.Guests != domain.GuestsPaid && amount > 0, "a guest is paid")
			total += amount
		}
		require.Equal(t, out.Purse, total)
		require.GreaterOrEqual(t, out.Kept, domain.Money(0))
		takers, whole := 0, 0
		for _, placing := range standing {
			c := competitors[placing.Row]
			if placing.Place == 0 {
				require.True(t, ending == domain.StoppedEarly || out.Paid[placing.Row] == 0)
			} else if !c.Guest {
				takers++
			}
		}
		for _, part := range rule.Split {
			whole += part
		}
		if ending == domain.Pulled && rule.Guests != domain.GuestsForfeit && takers >= max(len(rule.Prizes), len(rule.Split), 1) && (whole == 100 || len(rule.Split) == 0) {
			require.Zero(t, out.Kept)
		}
	})
}

// Who shares a place is paid the same but for a cent, the lower number first.
func TestEqualPlacesArePaidEqually(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rule := purses().Draw(t, "rule")
		rule.AddedMembers, rule.Guests = false, domain.GuestsPaid
		results := rapid.SliceOfN(rapid.SampledFrom([]string{"250", "240", "240.0", "230"}), 1, 9).Draw(t, "results")
		standing, rows, competitors := payees(t, results, nil)
		out := rule.Pay(standing, rows, competitors, domain.Pulled)
		for i := 1; i < len(standing); i++ {
			if standing[i].Place == standing[i-1].Place {
				before, after := out.Paid[standing[i-1].Row], out.Paid[standing[i].Row]
				require.Contains(t, []domain.Money{0, 1}, before-after)
			}
		}
	})
}

func TestAPurseThatContradictsIsRefused(t *testing.T) {
	t.Parallel()
	sound := domain.PurseRule{Guests: domain.GuestsPaid, Stopped: domain.PurseByPlace}
	require.NoError(t, sound.Check())
	require.NoError(t, domain.PurseRule{}.Check())
	for field, change := range map[string]func(*domain.PurseRule){
		"purse.share":   func(p *domain.PurseRule) { p.Share = 101 },
		"purse.reduced": func(p *domain.PurseRule) { p.Reduced = -1 },
		"purse.minimum": func(p *domain.PurseRule) { p.Minimum = -1 },
		"purse.split":   func(p *domain.PurseRule) { p.Split = []int{60, 50} },
		"purse.guests":  func(p *domain.PurseRule) { p.Guests = 9 },
		"purse.stopped": func(p *domain.PurseRule) { p.Stopped = 0 },
		"purse":         func(p *domain.PurseRule) { p.Added = -1 },
	} {
		wrong := sound
		change(&wrong)
		var refusal *domain.Error
		require.ErrorAs(t, wrong.Check(), &refusal, field)
		assert.Equal(t, field, refusal.Field)
	}
	nought := sound
	nought.Split = []int{0}
	require.ErrorContains(t, nought.Check(), "0 is no part of a hundred")
}
