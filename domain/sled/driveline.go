package sled

import "slices"

// Driveline is what moves the box: the wheels drive the axle backwards, and the axle, through the gears, a sprocket and
// a chain, the box.
type Driveline struct {
	// Circumference is how far the tire rolls in one turn under load, in metres: a mile divided by its turns a mile. It
	// is 0.94 to 0.96 of what its diameter gives (a published 290/60R22.5: 37 in, 569 and 575 turns a mile), and is
	// best measured on the sled.
	Circumference float64
	// Slip is the share of the travel in which the wheels do not turn, from 0 to below 1; normally 0.
	Slip float64
	// AxleRatio is how often the driveshaft turns in one turn of the wheels, such as 4.10.
	AxleRatio float64
	// TransferRatio is the speed ratio of what stands between axle and gearbox, out over in: 1/5 for a 5:1 reduction.
	TransferRatio float64
	// Teeth and Pitch are the sprocket's teeth and the chain's pitch in metres. One turn advances the chain by their
	// product exactly; speed ripples within the turn, the mean does not.
	Teeth, Pitch float64
	// ChainToBox is how far the box moves when the chain moves by one: 1, unless pulleys stand between.
	ChainToBox float64
}

// Advance returns how far the box moves forward in one unit of travel, with the gear's speed ratio, out over in
// (equation 1 of docs/sled.md). It is best checked with a tape: push the sled 50 ft and measure the box.
func (d Driveline) Advance(gear float64) float64 {
	turns := (1 - d.Slip) / d.Circumference * d.AxleRatio * d.TransferRatio * gear
	return turns * d.Teeth * d.Pitch * d.ChainToBox
}

// chains are the numbers of the roller chains whose pitch was read in the table "ANSI B29.1 roller chain standard sizes"
// (encyclopedia copy at liquisearch.com). ISO 606 calls #140 28A.
var chains = [...]int{40, 50, 60, 80, 100, 120, 140, 160, 180, 200, 240}

// Chains lists the numbers that [ChainPitch] knows, ascending.
func Chains() []int { return slices.Clone(chains[:]) }

// ChainPitch returns the pitch of a roller chain by its number, in metres: the leading digits are its eighths of an inch,
// and the last is the type, 0 for the common one (pitch reference chart at sprocket-chain.net). Number 140 has 14/8 in,
// which is 44.45 mm. It is false for a number that is not in the table: a pitch is not guessed.
func ChainPitch(number int) (pitch float64, ok bool) {
	return float64(number/10) * Inch / 8, slices.Contains(chains[:], number)
}
