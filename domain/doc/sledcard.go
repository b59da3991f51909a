package doc

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"clayline/domain"
)

// MaxSledCard is how many bytes the description of a sled may have.
const MaxSledCard = 32 << 10

// maxCardList is how many values a list of a description may have.
const maxCardList = 50

// sledCard is the description of a sled as it is written. What is not known is left out.
type sledCard struct {
	Name        string            `json:"name"`
	Gears       int               `json:"gears"`
	StartHoles  int               `json:"start_holes"`
	Wheelbase   domain.Distance   `json:"wheelbase,omitzero"`
	Frame       domain.Weight     `json:"frame_weight,omitzero"`
	FrameCenter domain.Distance   `json:"frame_center,omitzero"`
	Pan         domain.Weight     `json:"pan_weight,omitzero"`
	Box         domain.Weight     `json:"box_weight,omitzero"`
	BoxStart    domain.Distance   `json:"box_start,omitzero"`
	BoxBehind   domain.Distance   `json:"box_behind,omitzero"`
	BoxStop     domain.Distance   `json:"box_stop,omitzero"`
	Holes       []domain.Distance `json:"holes,omitempty"`
	Slabs       *slabRoom         `json:"slabs,omitempty"`
	Advance     []float64         `json:"advance,omitempty"`
	Drive       *cardDrive        `json:"drive,omitempty"`
	PushDown    *cardPushDown     `json:"pushdown,omitempty"`
	Trips       []domain.Distance `json:"trips,omitempty"`
	Devices     []string          `json:"devices,omitempty"`
	Light       *cardLight        `json:"light,omitempty"`
	Ready       []string          `json:"ready,omitempty"`
	Inspection  []string          `json:"inspection,omitempty"`
}

// slabRoom is which slabs there are and how many go where.
type slabRoom struct {
	Kinds  []slabKind    `json:"kinds,omitempty"`
	Left   int           `json:"left,omitzero"`
	Middle int           `json:"middle,omitzero"`
	Right  int           `json:"right,omitzero"`
	Most   domain.Weight `json:"most,omitzero"`
}

// slabKind is how many slabs there are of one weight.
type slabKind struct {
	Weight domain.Weight `json:"weight"`
	Count  int           `json:"count"`
}

// cardDrive is how the wheels drive the box.
type cardDrive struct {
	Circumference domain.Distance `json:"tire_circumference,omitzero"`
	TurnsPerMile  float64         `json:"tire_turns_per_mile,omitzero"`
	AxleRatio     float64         `json:"axle_ratio,omitzero"`
	Transfer      float64         `json:"transfer_ratio,omitzero"`
	Teeth         int             `json:"sprocket_teeth,omitzero"`
	Chain         int             `json:"chain,omitzero"`
	ChainPitch    domain.Distance `json:"chain_pitch,omitzero"`
	Gears         []float64       `json:"gears,omitempty"`
}

// cardPushDown is what takes load off the wheels.
type cardPushDown struct {
	Delay domain.Distance `json:"delay,omitzero"`
	Ramp  domain.Distance `json:"ramp,omitzero"`
	Share float64         `json:"share"`
}

// cardLight is the light of a sled with what turns it red.
type cardLight struct {
	Red []string `json:"red,omitempty"`
}

// WriteSledCard writes the description of a sled as the document that people keep. Its id and version are not in it, so
// that it can be taken to another event.
func WriteSledCard(s domain.Sled) ([]byte, error) {
	c, d, p := s.Card, s.Card.Drive, s.Card.PushDown
	card := sledCard{
		Name: s.Name, Gears: s.Gears, StartHoles: s.StartHoles, Wheelbase: c.Wheelbase, Frame: c.Frame, FrameCenter: c.FrameCenter, Pan: c.Pan, Box: c.Box,
		BoxStart: c.BoxStart, BoxBehind: c.BoxBehind, BoxStop: c.BoxStop, Holes: c.Holes, Advance: c.Advance, Trips: c.Trips, Devices: c.Devices, Ready: c.Ready, Inspection: c.Inspection,
	}
	if r := c.Slabs; len(r.Kinds) > 0 || r.Left+r.Middle+r.Right > 0 || !r.Most.IsZero() {
		card.Slabs = &slabRoom{Left: r.Left, Middle: r.Middle, Right: r.Right, Most: r.Most}
		for _, k := range r.Kinds {
			card.Slabs.Kinds = append(card.Slabs.Kinds, slabKind(k))
		}
	}
	if len(d.Gears) > 0 || !d.Circumference.IsZero() || !d.ChainPitch.IsZero() || d.TurnsPerMile+d.AxleRatio+d.Transfer > 0 || d.Teeth+d.Chain > 0 {
		drive := cardDrive(d)
		card.Drive = &drive
	}
	if p.Given {
		card.PushDown = &cardPushDown{Delay: p.Delay, Ramp: p.Ramp, Share: p.Share}
	}
	if c.Light {
		card.Light = &cardLight{Red: c.Red}
	}
	var document bytes.Buffer
	encoder := json.NewEncoder(&document)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	err := encoder.Encode(card)
	return bytes.TrimSpace(document.Bytes()), err
}

// ParseSledCard reads the description of a sled; docs/sled.md has its fields. Only name, gears and start_holes must be
// there. What is unknown, of the wrong kind or contradictory is refused with a domain error that names the field, and
// [LineOf] has its line.
func ParseSledCard(document []byte) (domain.Sled, error) {
	if len(document) > MaxSledCard {
		return domain.Sled{}, treeError("", "the description is larger than 32 KiB", "leave out what is no part of it")
	}
	root, err := readTree(document, "description")
	if err != nil {
		return domain.Sled{}, err
	}
	found, ok := root.value.(members)
	if !ok {
		return domain.Sled{}, treeError("", "the description is not an object", "write its fields between braces")
	}
	var wrong error
	sled := readSledCard(fields{members: found, err: &wrong})
	if wrong == nil {
		wrong = sled.Check()
	}
	return sled, wrong
}

// readSledCard reads the fields of a description.
func readSledCard(f fields) domain.Sled {
	f.only("name", "gears", "start_holes", "wheelbase", "frame_weight", "frame_center", "pan_weight", "box_weight", "box_start", "box_behind", "box_stop",
		"holes", "slabs", "advance", "drive", "pushdown", "trips", "devices", "light", "ready", "inspection")
	for _, name := range []string{"name", "gears", "start_holes"} {
		if !f.has(name) {
			f.refuse(name, "is missing", "write it; the rest of a description may be left out")
		}
	}
	s := domain.Sled{Name: strings.TrimSpace(f.text("name", "")), Gears: f.whole("gears", amount), StartHoles: f.whole("start_holes", amount)}
	s.Card = domain.SledCard{
		Wheelbase: f.length("wheelbase"), Frame: f.weight("frame_weight"), FrameCenter: f.length("frame_center"), Pan: f.weight("pan_weight"), Box: f.weight("box_weight"),
		BoxStart: f.length("box_start"), BoxBehind: f.length("box_behind"), BoxStop: f.length("box_stop"),
		Holes: f.lengths("holes"), Advance: f.numbers("advance", maxCardList, positive), Trips: f.lengths("trips"), Devices: f.texts("devices"), Ready: f.texts("ready"), Inspection: f.texts("inspection"),
	}
	if f.has("slabs") {
		s.Card.Slabs = readSlabRoom(f.group("slabs"))
	}
	if f.has("drive") {
		s.Card.Drive = readCardDrive(f.group("drive"))
	}
	if f.has("pushdown") {
		p := f.group("pushdown")
		p.only("delay", "ramp", "share")
		s.Card.PushDown = domain.PushDown{Given: true, Delay: p.length("delay"), Ramp: p.length("ramp"), Share: p.number("share", fraction)}
	}
	if f.has("light") {
		l := f.group("light")
		l.only("red")
		s.Card.Light, s.Card.Red = true, l.texts("red")
	}
	return s
}

// readSlabRoom reads which slabs there are and how many go where.
func readSlabRoom(f fields) domain.SlabRoom {
	f.only("kinds", "left", "middle", "right", "most")
	room := domain.SlabRoom{Left: f.whole("left", amount), Middle: f.whole("middle", amount), Right: f.whole("right", amount), Most: f.weight("most")}
	for _, n := range f.list("kinds", maxCardList) {
		k := f.object(n)
		k.only("weight", "count")
		if !k.has("weight") {
			k.refuse("weight", "is missing", "write it with its unit, such as 2000 lb")
		}
		room.Kinds = append(room.Kinds, domain.SlabKind{Weight: k.weight("weight"), Count: int(k.number("count", span{1, 200}))})
	}
	return room
}

// readCardDrive reads the driveline, as far as it is known.
func readCardDrive(f fields) domain.Driveline {
	f.only("tire_circumference", "tire_turns_per_mile", "axle_ratio", "transfer_ratio", "sprocket_teeth", "chain", "chain_pitch", "gears")
	if f.has("tire_circumference") && f.has("tire_turns_per_mile") {
		f.refuse("tire_turns_per_mile", "cannot stand beside tire_circumference", "keep one of them")
	}
	f.chainPitch("chain_pitch")
	return domain.Driveline{
		Circumference: f.length("tire_circumference"), TurnsPerMile: f.numberOr("tire_turns_per_mile", positive, 0),
		AxleRatio: f.numberOr("axle_ratio", positive, 0), Transfer: f.numberOr("transfer_ratio", positive, 0),
		Teeth: f.whole("sprocket_teeth", span{1, 1000}), Chain: f.whole("chain", amount), ChainPitch: f.length("chain_pitch"), Gears: f.numbers("gears", maxCardList, positive),
	}
}

// length reads a length with its unit that may be left out.
func (f fields) length(name string) domain.Distance {
	written := f.text(name, "")
	if written == "" {
		return domain.Distance{}
	}
	d, err := domain.ParseDistance(written, 0)
	if err != nil {
		f.refuse(name, fmt.Sprintf("cannot be %q", written), `write figures and a unit, such as "22 ft" or "6.7 m"`)
	}
	return d
}

// weight reads a weight with its unit that may be left out.
func (f fields) weight(name string) domain.Weight {
	written := f.text(name, "")
	w, err := domain.ParseWeight(written)
	if err != nil {
		f.refuse(name, fmt.Sprintf("cannot be %q", written), `write figures and a unit, such as "2000 lb" or "900 kg"`)
	}
	return w
}

// lengths reads a list of lengths, each with its unit.
func (f fields) lengths(name string) []domain.Distance {
	var list []domain.Distance
	f.items(name, func(item fields, at string) {
		if !item.has(at) {
			item.refuse(at, "is missing", "write it, or leave it out of the list")
		}
		list = append(list, item.length(at))
	})
	return list
}

// texts reads a list of words.
func (f fields) texts(name string) []string {
	var list []string
	f.items(name, func(item fields, at string) { list = append(list, strings.TrimSpace(item.text(at, ""))) })
	return list
}

// items goes over the values of a list, each as a field of its own.
func (f fields) items(name string, do func(item fields, at string)) {
	for i, n := range f.list(name, maxCardList) {
		at := f.itemName(name, i)
		do(fields{path: f.path, members: members{at: n}, err: f.err}, at)
	}
}

// LineOf returns the line of a document, counted from 1, on which a field stands that was refused: "drive.gears[1]". Of
// a field that is missing it is the line on which the object begins that lacks it. A document that is no JSON is
// followed as far as it can be read.
func LineOf(document []byte, field string) int {
	decoder := json.NewDecoder(bytes.NewReader(document))
	w := lineWalk{decoder: decoder, field: field}
	w.value("", 0)
	if w.found == 0 && !json.Valid(document) {
		w.found = decoder.InputOffset()
	}
	return 1 + bytes.Count(document[:w.found], []byte("\n"))
}

// lineWalk looks for the place of a field: the offset behind the longest part of its path that is there.
type lineWalk struct {
	decoder *json.Decoder
	field   string
	found   int64
	longest int
}

// value walks one value and reports whether the document goes on.
func (w *lineWalk) value(path string, depth int) bool {
	token, err := w.decoder.Token()
	if err != nil || depth > maxDepth {
		return false
	}
	w.meet(path)
	switch token {
	case json.Delim('{'):
		for w.decoder.More() {
			name, err := w.decoder.Token()
			if err != nil {
				return false
			}
			at := strings.TrimPrefix(fmt.Sprintf("%s.%v", path, name), ".")
			w.meet(at)
			if !w.value(at, depth+1) {
				return false
			}
		}
		_, err = w.decoder.Token()
	case json.Delim('['):
		for i := 0; w.decoder.More(); i++ {
			if !w.value(fmt.Sprintf("%s[%d]", path, i), depth+1) {
				return false
			}
		}
		_, err = w.decoder.Token()
	}
	return err == nil
}

// meet keeps the place when the path is a longer part of the field's than the one before.
func (w *lineWalk) meet(path string) {
	rest, part := strings.CutPrefix(w.field, path)
	if part && (rest == "" || path == "" || rest[0] == '.' || rest[0] == '[') && len(path) > w.longest {
		w.found, w.longest = w.decoder.InputOffset(), len(path)
	}
}
