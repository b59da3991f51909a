package doc

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"clayline/domain"
	"clayline/domain/sled"
)

// MaxSledJob is how many bytes a job for the sled may have.
const MaxSledJob = 1 << 20

// How many values a job may have in its lists.
const (
	maxHoles  = 100
	maxPoints = 10_000
	maxRuns   = 1_000
	maxSetups = 100
)

// SledJob is a job for the sled estimate that was read and found in order. docs/sled.md has every field. Figures are in
// feet, pounds and miles an hour in the document, and in the units of domain/sled in here.
type SledJob struct {
	// Kind is curves, topout, whatif, compare or calibrate.
	Kind string

	sled    sledOf
	from    setting
	to      setting // whatif
	others  []setting
	points  []float64 // curves: ft
	vehicle float64   // curves: N; 0 when nothing is asked about a vehicle
	stop    float64   // curves: m
	runs    []namedRun
	drift   float64
	pull    float64 // compare: N; 0 when it comes from a run
	samples []sled.Sample
}

// sledOf is a sled as a document has it, with the gears and holes that a setup names.
type sledOf struct {
	sled     sled.Sled
	boxEmpty float64   // N
	start    float64   // ft, of the box without a hole
	top      float64   // ft
	holes    []float64 // ft
	advance  map[string]float64
}

// setting is a curve with the track that it is for and what advice has to know.
type setting struct {
	label   string
	chosen  string // in words
	curve   *sled.Curve
	on      func(sled.Ground) *sled.Curve // the same on another ground
	ground  sled.Ground
	advance float64
	line    float64 // m
	lineFt  float64
}

// namedRun is a run of a what-if.
type namedRun struct {
	id  string
	run sled.Run
}

// ReadSledJob reads one job of up to [MaxSledJob] bytes. What is unknown, missing, of the wrong kind, out of range or
// contradictory is refused, and nothing is guessed: a domain error of kind Invalid names the field in its message too.
// Every number is finite afterwards, and the engine can take it.
func ReadSledJob(r io.Reader) (SledJob, error) {
	found, err := readRoot(r, MaxSledJob, "job", "leave out what it does not need")
	if err != nil {
		return SledJob{}, err
	}
	var wrong error
	job := readSledJob(fields{members: found, err: &wrong})
	return job, wrong
}

// sledJobs lists the fields of each kind of job, besides those that all have.
var sledJobs = map[string][]string{
	"curves":    {"sample_every_ft", "at_ft", "vehicle_lb", "distance_ft"},
	"topout":    {},
	"whatif":    {"setup_to", "sled_to", "ground_to", "track_to", "drift", "results"},
	"compare":   {"setups", "strength_lb", "result"},
	"calibrate": {"measured"},
}

// readSledJob reads a job's fields.
func readSledJob(f fields) SledJob {
	job := SledJob{Kind: f.text("job", "")}
	own, ok := sledJobs[job.Kind]
	if !ok {
		message := fmt.Sprintf("cannot be %q", job.Kind)
		if !f.has("job") {
			message = "is missing"
		}
		f.refuse("job", message, "write "+strings.Join(slices.Sorted(maps.Keys(sledJobs)), ", "))
		return job
	}
	f.only(append([]string{"job", "sled", "ground", "setup", "track"}, own...)...)
	job.sled = readSled(f.group("sled"))
	lineFt := readLine(f, "track")
	switch job.Kind {
	case "topout":
		job.readTopOut(f, lineFt)
		return job
	case "compare":
		job.readCompare(f, lineFt)
		return job
	}
	ground := readGround(f, "ground", job.Kind == "calibrate")
	job.from = job.sled.setting(f.group("setup"), ground, lineFt)
	switch job.Kind {
	case "curves":
		job.readCurves(f)
	case "whatif":
		job.readWhatIf(f, ground, lineFt)
	case "calibrate":
		job.readCalibrate(f)
	}
	return job
}

// readCurves reads where points are asked for, and the vehicle whose pull is implied.
func (j *SledJob) readCurves(f fields) {
	switch {
	case f.has("sample_every_ft") && f.has("at_ft"):
		f.refuse("at_ft", "cannot stand beside sample_every_ft", "keep one of them")
	case f.has("at_ft"):
		j.points = f.numbers("at_ft", maxPoints, amount)
	default:
		every := f.numberOr("sample_every_ft", positive, 25)
		count := j.from.lineFt/max(every, positive.least)*(1+1e-12) + 1
		if count > maxPoints {
			f.refuse("sample_every_ft", fmt.Sprintf("asks for more than %d points", maxPoints), "write a larger number")
			return
		}
		for i := range int(count) {
			j.points = append(j.points, float64(i)*every)
		}
	}
	if f.has("vehicle_lb") || f.has("distance_ft") {
		j.vehicle = f.number("vehicle_lb", positive) * sled.PoundForce
		j.stop = f.number("distance_ft", amount) * sled.Foot
	}
}

// readTopOut checks what the job needs and, where they stand there, the fields that all jobs have. Every hole matters.
func (j *SledJob) readTopOut(f fields, lineFt float64) {
	for i := range j.sled.holes {
		if _, ok := j.sled.startAt(i); !ok {
			f.refuse(fmt.Sprintf("sled.holes_ft[%d]", i), "lies past box_top_ft", "write holes from which the box can move")
		}
	}
	var ground sled.Ground
	if f.has("ground") {
		ground = readGround(f, "ground", false)
	}
	if f.has("setup") {
		j.sled.setting(f.group("setup"), ground, lineFt)
	}
}

// readWhatIf reads the other setting and the runs. What is not given for it stays as it is.
func (j *SledJob) readWhatIf(f fields, ground sled.Ground, lineFt float64) {
	other := j.sled
	if f.has("sled_to") {
		other = readSled(f.group("sled_to"))
	}
	if f.has("ground_to") {
		ground = readGround(f, "ground_to", false)
	}
	if f.has("track_to") {
		lineFt = readLine(f, "track_to")
	}
	j.to = other.setting(f.group("setup_to"), ground, lineFt)
	j.drift = f.numberOr("drift", span{0, 0.99}, 0)
	if !f.has("results") {
		f.refuse("results", "is missing", "write the results of the class, each with id and distance_ft")
	}
	for _, n := range f.list("results", maxRuns) {
		r := f.object(n)
		if r.text("id", "") == "" {
			r.refuse("id", "is missing", "write what tells this result from the others, such as the number")
		}
		j.runs = append(j.runs, namedRun{r.text("id", ""), readRun(r, j.from.lineFt, "id")})
	}
}

// readCompare reads the settings to compare and the pull, or the run that shows it.
func (j *SledJob) readCompare(f fields, lineFt float64) {
	ground := readGround(f, "ground", false)
	switch {
	case f.has("strength_lb") && f.has("result"):
		f.refuse("strength_lb", "cannot stand beside result", "keep one of them")
	case f.has("strength_lb"):
		j.pull = f.number("strength_lb", amount) * sled.PoundForce
		if f.has("setup") {
			j.sled.setting(f.group("setup"), ground, lineFt)
		}
	case f.has("result"):
		j.from = j.sled.setting(f.group("setup"), ground, lineFt)
		j.runs = []namedRun{{run: readRun(f.group("result"), lineFt)}}
	default:
		f.refuse("strength_lb", "is missing", "write it, or setup and result to work it out from")
	}
	setups := f.list("setups", maxSetups)
	if len(setups) == 0 {
		f.refuse("setups", "is missing", "write the settings to compare")
	}
	for _, n := range setups {
		j.others = append(j.others, j.sled.setting(f.object(n), ground, lineFt, "label"))
	}
}

// readCalibrate reads the samples.
func (j *SledJob) readCalibrate(f fields) {
	for _, n := range f.list("measured", maxPoints) {
		m := f.object(n)
		m.only("d_ft", "drag_lb")
		j.samples = append(j.samples, sled.Sample{Travel: m.number("d_ft", amount) * sled.Foot, Drag: m.number("drag_lb", amount) * sled.PoundForce})
	}
	if *f.err != nil {
		return
	}
	// The fit itself finds out whether there is one, so that a job that was read has a result.
	if _, err := j.from.curve.Calibrate(j.samples); err != nil {
		*f.err = &domain.Error{Kind: domain.Invalid, Field: "measured", Message: "measured cannot be fitted: " + err.Error(), Cause: err,
			Fix: "give drag at two or more places with different loads, all before the drop of the pan or all behind it"}
	}
}

// readRun reads what a vehicle did. Without a word about it, whoever came to the line made a full pull.
func readRun(f fields, lineFt float64, more ...string) sled.Run {
	f.only(append([]string{"distance_ft", "full", "ended", "line_speed_mph", "vehicle_lb"}, more...)...)
	var distance float64
	if !f.flag("full", false) || f.has("distance_ft") {
		distance = f.number("distance_ft", amount)
	}
	run := sled.Run{Distance: distance * sled.Foot, Full: f.flag("full", distance >= lineFt*(1-1e-9)), Ended: f.has("ended")}
	if run.Ended && !slices.Contains([]string{"broke", "lifted", "stopped"}, f.text("ended", "")) {
		f.refuse("ended", fmt.Sprintf("cannot be %q", f.text("ended", "")), "write broke, lifted or stopped, or leave it out where the sled ended the run")
	}
	if f.has("vehicle_lb") {
		run.VehicleMass = f.number("vehicle_lb", positive) * sled.Pound
	}
	if f.has("line_speed_mph") {
		run.LineSpeed = f.number("line_speed_mph", positive) * sled.MilePerHour
	}
	checkRun(f, run, distance, lineFt)
	return run
}

// checkRun refuses what cannot be true together, or says nothing of the pull.
func checkRun(f fields, run sled.Run, distance, lineFt float64) {
	switch {
	case run.Full && f.has("distance_ft") && distance < lineFt-0.1:
		f.refuse("full", fmt.Sprintf("cannot be true at %v ft of %v", distance, lineFt), "correct the distance, or take full out")
	case run.LineSpeed > 0 && !run.Full:
		f.refuse("line_speed_mph", "counts at the line only", "take it out of a run that did not come there")
	case run.LineSpeed > 0 && run.Ended:
		f.refuse("line_speed_mph", "counts under power only", "take out one of line_speed_mph and ended")
	case run.LineSpeed > 0 && run.VehicleMass == 0:
		f.refuse("vehicle_lb", "is missing", "write the vehicle's weight, which line_speed_mph needs")
	case run.Ended && !run.Full && distance == 0:
		f.refuse("distance_ft", "is 0 for a run that the sled did not end, which says nothing of the pull", "leave this result out")
	}
}
