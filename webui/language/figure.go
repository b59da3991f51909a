package language

import (
	"regexp"
	"strings"
)

// Rules are what a language does with figures and dates, which no catalogue can list.
type Rules struct {
	Decimal  string            // what stands before the decimals, "," in German
	Group    string            // what stands between groups of three digits
	Calendar map[string]string // English names of days and months, and what they are here
	// DateDot is set where the day of the month is an ordinal with a full stop: "19. September".
	DateDot bool
}

// rulesOf are the rules of each language, by its tag.
var rulesOf = map[string]func() Rules{"de": germanRules}

// germanRules are those of German: the comma before decimals, and groups of three parted by a narrow space (DIN 5008), for
// a point there would be read as decimals by whoever has just seen an English page.
func germanRules() Rules {
	return Rules{Decimal: ",", Group: "\u202f", DateDot: true, Calendar: map[string]string{
		"Monday": "Montag", "Tuesday": "Dienstag", "Wednesday": "Mittwoch", "Thursday": "Donnerstag", "Friday": "Freitag",
		"Saturday": "Samstag", "Sunday": "Sonntag",
		"January": "Januar", "February": "Februar", "March": "März", "April": "April", "May": "Mai", "June": "Juni", "July": "Juli",
		"August": "August", "September": "September", "October": "Oktober", "November": "November", "December": "Dezember",
	}}
}

var (
	// letters tell a text from one that holds figures and signs alone.
	letters = regexp.MustCompile(`\pL`)
	// figures are numbers as English writes them, with groups and decimals.
	figures = regexp.MustCompile(`\d+(?:,\d{3})*(?:\.\d+)?`)
	// measure is a number or two with a unit, which is the same in every language: SI, and the units of the trade.
	measure = regexp.MustCompile(`^[+\-−]?[\d.,]+(?: ?[–×-] ?[\d.,]+)? ?(?:ft|in|yd|lb|lbf|mph|m|cm|mm|km/h|m/s|kg|t|kN|N|kJ|J|kW|hp|s|min|h|rpm|MB|kB|%|×|°)(?:/[a-z]+)?$`)
	// ordinal is a place: "1st".
	ordinal = regexp.MustCompile(`^(\d+)(?:st|nd|rd|th)$`)
	// version is digits that are no one number: "2026.11.25", an address.
	version = regexp.MustCompile(`\d+\.\d+\.\d+`)
	// day is what may be a day of the month inside a date; with a colon it is a time of day.
	day = regexp.MustCompile(`[\d:]+`)
	// word is a word of a date.
	word = regexp.MustCompile(`\pL+`)
)

// Number writes a number as the language does: "1,281.36" is "1 281,36" in German.
func (r Rules) Number(text string) string {
	if version.MatchString(text) {
		return text
	}
	return figures.ReplaceAllStringFunc(text, func(n string) string {
		whole, decimals, some := strings.Cut(n, ".")
		whole = strings.ReplaceAll(whole, ",", r.Group)
		if some {
			return whole + r.Decimal + decimals
		}
		return whole
	})
}

// Figure says a text that holds nothing but figures: numbers, measures, places, times and dates.
func (r Rules) Figure(text string) (string, bool) {
	if !letters.MatchString(text) || measure.MatchString(text) {
		return r.Number(text), true
	}
	if m := ordinal.FindStringSubmatch(text); m != nil {
		return m[1] + ".", true
	}
	return r.date(text)
}

// date says a date, or the days from one to another: "Saturday 19 September", "19 – 20 September 2026". A time of day may
// stand in it: "19 September 18:40".
func (r Rules) date(text string) (string, bool) {
	for _, w := range word.FindAllString(text, -1) {
		if r.Calendar[w] == "" {
			return "", false
		}
	}
	said := text
	if r.DateDot {
		said = day.ReplaceAllStringFunc(said, func(n string) string {
			if len(n) > 2 {
				return n
			}
			return n + "."
		})
	}
	weekday, rest, more := strings.Cut(said, " ")
	if more && strings.HasSuffix(weekday, "day") && !strings.Contains(weekday, ",") {
		said = weekday + ", " + rest
	}
	return word.ReplaceAllStringFunc(said, func(w string) string { return r.Calendar[w] }), true
}
