package doc

import (
	"math"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/sled"
)

// Ratio works MuDown over MuUp out from vehicles that stopped under two settings of the class; pairs is how many did. It is
// false where none did, or where their stops say nothing of it; see [sled.Ratio].
func (e *Estimate) Ratio() (ratio float64, pairs int, ok bool) {
	var list []sled.Pair
	for _, p := range e.pairs(false) {
		job := e.base
		job.Sled, job.Setup = estimateSledOf(e.class.Sled, p[0].setting.Pan), estimateSetupOf(p[0].setting)
		_, read, err := job.to(e.class.Sled, p[1].setting, 0, []estimateRun{}).read()
		if err != nil {
			continue
		}
		list = append(list, sled.Pair{First: read.from.on, Second: read.to.on, FirstStop: p[0].stop * sled.Foot, SecondStop: p[1].stop * sled.Foot})
	}
	ground := sled.Ground{MuUp: e.question.Ground.MuUp, CRR: e.question.Ground.CRR, Dig: e.question.Ground.Dig * sled.PoundForce, DigRamp: e.question.Ground.DigRamp * sled.Foot}
	ratio, _, err := sled.Ratio(ground, list)
	return ratio, len(list), err == nil
}

// Repeats returns by how much the track was off between hooks of the same vehicles against the same setting, as a share: the
// root of the mean square of the differences of the logarithms of their pull; pairs is how many hooked twice. A trend, as of a
// track that dries, is in it. It is false where fewer than two did, which shows no spread.
func (e *Estimate) Repeats() (drift float64, pairs int, ok bool) {
	list := e.pairs(true)
	for _, p := range list {
		job := e.base
		job.Sled, job.Setup = estimateSledOf(e.class.Sled, p[0].setting.Pan), estimateSetupOf(p[0].setting)
		_, read, err := job.read()
		if err != nil {
			return 0, len(list), false
		}
		difference := math.Log(read.from.curve.Mean(p[0].stop*sled.Foot) / read.from.curve.Mean(p[1].stop*sled.Foot))
		drift += difference * difference / float64(len(list))
	}
	return math.Sqrt(drift), len(list), len(list) >= 2
}

// stopUnder is where a vehicle stopped under a setting, in feet.
type stopUnder struct {
	setting domain.Setting
	stop    float64
}

// pairs are the stops that drag alone ended, of whoever has two: under the same setting, as far as it is computed with, or
// under two that differ in it.
func (e *Estimate) pairs(same bool) [][2]stopUnder {
	var list [][2]stopUnder
	first := map[uuid.UUID]stopUnder{}
	for i := range e.class.Rounds {
		basis, ok := e.class.EstimateBasis(e.class.Rounds[i].Name)
		if !ok {
			continue
		}
		for _, r := range basis.Runs {
			now := stopUnder{basis.Revision.Setting, r.Result.Distance.Feet()}
			before, twice := first[r.Entry]
			switch {
			case r.Ended != "" || now.stop == 0 || r.Result.Outcome == domain.FullPull && basis.EndsAtLine:
			case !twice:
				first[r.Entry] = now
			case same == (estimateSetupOf(before.setting) == estimateSetupOf(now.setting) && before.setting.Pan == now.setting.Pan):
				list = append(list, [2]stopUnder{before, now})
			}
		}
	}
	return list
}
