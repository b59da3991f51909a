package templates

// FieldDocument is the document of a season, as its desk writes it.
const FieldDocument = "document"

// Seasons lists the seasons of a server.
type Seasons struct {
	Frame
	Seasons []Link
}

// Season is the standing of a season, to read and to print.
type Season struct {
	Frame
	Name    string
	Fault   string // why it cannot be added up; "" where it can
	Series  []SeasonSeries
	Records []RecordTrack
	Links   []Link
}

// SeasonSeries is one class over the season.
type SeasonSeries struct {
	ID      string
	Name    string
	Pulls   string // "3 pulls: Elm, Oak, Ash."
	Waiting string // what is to come; may be empty
	Rows    []SeasonRow
}

// SeasonRow is one entrant. In Puller the vehicle is what each pull gave: "Elm 40 · Oak 38 · Ash (36)". Where the points
// are the driver's, there is no number.
type SeasonRow struct {
	Puller
	Place  string // "1", "2="; empty for none
	Points string
	Note   string
}

// Records is the page of the records of a server.
type Records struct {
	Frame
	Tracks []RecordTrack
}

// RecordTrack is the records of one track.
type RecordTrack struct {
	ID   string
	Name string // "Wrenfield, Track 1"
	Rows []RecordRow
}

// RecordRow is the record of a class on a track with a sled.
type RecordRow struct {
	Class  string
	Result string // "312.44 ft"
	Holder Puller
	Made   string // "Tarn Hollow Harvest Pull, pull-off 1"
	Under  string // "Plumb Bob: 21,600 lb, gear 3, hole 2, trip 198 ft"
}

// SeasonDesk is where the desk of a server writes a season, or another.
type SeasonDesk struct {
	Frame
	Name    string // of the season; empty for another
	Seasons []Link // the desks of the seasons there are
	Public  Link   // the season as everybody sees it
	Form    Form   // FieldDocument
	Journal []JournalLine
}
