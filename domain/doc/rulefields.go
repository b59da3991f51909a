package doc

import "slices"

// ruleField is what people and programs are told of one field of a rule set file. The comments of
// [CommentRuleSet], the schema and the advice of [RuleFaults] are all made of it, so that they cannot disagree.
type ruleField struct {
	path      string            // the name of the field, after that of its group and a full stop
	says      string            // what it is for, one sentence
	write     string            // what may stand there, to be read after "write"
	meanings  map[string]string // what each word means, where the values are words
	byDefault any               // what is meant when the field is left out; nil where nothing is, or it must not be
	needed    bool              // the field has no default and must be written
	shape     schema            // what the schema says beside the type
}

// ruleFields lists the fields in the order of the document, a group before its members. Which fields there are
// is decided by the document's types; a test holds that each has a row here.
var ruleFields = slices.Concat(classFields, orderFields, hookFields, reasonFields, pullOffFields, pointsFields, purseFields, protestFields, weightFields)

// classFields are about the class as a whole: its line, what is measured, how its rounds count.
var classFields = []ruleField{
	{path: "name", needed: true, shape: schema{MinLength: 1},
		says: "The short name by which the set is called up; results say it.", write: "a short name such as my-club-300ft"},
	{path: "title", byDefault: "",
		says: "One sentence for people.", write: "any text"},
	{path: "unit", needed: true, shape: schema{Enum: []string{"ft", "in", "m"}},
		says: "The unit of line and restart, and of every figure that is typed without one.", write: `"ft", "in" or "m"`},
	{path: "line", needed: true, shape: schema{ExclusiveMinimum: new(0)},
		says: "The full-pull line.", write: "figures with up to three decimals, such as 300"},
	{path: "moving_line",
		says: "The officials may move the full-pull line when they have seen the sled at work. Without it the line stays.", write: "a group in braces"},
	{path: "moving_line.choices", needed: true, shape: schema{MinItems: 1, Items: &schema{Type: "number", ExclusiveMinimum: new(0)}},
		says: "The lines there are beside line.", write: "a list of figures such as [320]"},
	{path: "moving_line.by", needed: true, shape: schema{Minimum: new(1), Maximum: new(9)},
		says: "After how many hooks of the first round, at the latest, it is moved.", write: "a whole number from 1 to 9"},
	{path: "measure",
		says: "How distances are read.", write: "a group in braces"},
	{path: "measure.from", byDefault: "",
		says: "The point that is measured to, in the words of the rule book; every result says it.", write: "any text, such as the front of the pan"},
	{path: "measure.decimals", shape: schema{Minimum: new(0), Maximum: new(3)},
		says: "How many decimals the device has; a figure with more is asked about once. 0, or left out: up to three.", write: "1, 2 or 3"},
	{path: "measure.minimum", shape: schema{Pattern: "^[0-9.]*[1-9][0-9.]* ?(ft|in|m)?$"},
		says:  "The shortest measurable pull: less is no pull, and has no place. Without it any movement of the sled is one.",
		write: "a distance with its unit, such as 1 in"},
	{path: "cap", needed: true, meanings: map[string]string{
		"true":  "at or past the line all full pulls are equal; two or more bring a pull-off",
		"false": "floating finish: the figure counts wherever the sled stops, and there is no pull-off"},
		says: "Whether class pulls end at the line.", write: "true or false"},
	{path: "rounds", needed: true, shape: schema{Minimum: new(1), Maximum: new(9)},
		says: "The number of class rounds.", write: "a whole number from 1 to 9"},
	{path: "counts", byDefault: "best", shape: words(countWords), meanings: map[string]string{
		"best": "the best round counts",
		"sum":  "the rounds are added"},
		says: "How the class rounds become one figure.", write: `"best" or "sum"`},
}

// orderFields are about who is entered and when each of them hooks.
var orderFields = []ruleField{
	{path: "entries",
		says: "What is entered.", write: "a group in braces"},
	{path: "entries.vehicle_twice", byDefault: "no", shape: words(vehicleWords), meanings: map[string]string{
		"no":          "a vehicle hooks once in a class",
		"yes":         "it may hook again with another driver, and each entry has its own place",
		"places_once": "it may hook again with another driver, and its better entry alone has a place"},
		says: "Whether one vehicle may be entered twice in a class.", write: `"no", "yes" or "places_once"`},
	{path: "entries.least", shape: schema{Minimum: new(0), Maximum: new(100)},
		says: "The number of entries below which the class is not pulled as one; the desk is told. 0: any number will do.", write: "a whole number"},
	{path: "entries.below", byDefault: "",
		says: "What it is then, in the words of the rule book.", write: "any text, such as exhibition"},
	{path: "order",
		says: "Where the order comes from.", write: "a group in braces"},
	{path: "order.by", byDefault: "draw", shape: words(orderWords), meanings: map[string]string{
		"draw":      "it is drawn",
		"entered":   "as registered, or as weighed in",
		"organiser": "fixed by the organiser"},
		says: "How the order of a class comes about.", write: `"draw", "entered" or "organiser"`},
	{path: "order.late", byDefault: "last", shape: words(lateWords), meanings: map[string]string{
		"last":    "who is entered after the draw hooks last",
		"refused": "nobody is entered once the class has started"},
		says: "What becomes of late entries.", write: `"last" or "refused"`},
	{path: "call",
		says: "The time to hook.", write: "a group in braces"},
	{path: "call.minutes", shape: schema{Minimum: new(0), Maximum: new(60)},
		says: "How many minutes a puller has to hook; the booth shows until when. 0: the rules give no number.", write: "a whole number of minutes"},
	{path: "call.from", byDefault: "",
		says: "What starts the time, in the words of the rule book.", write: "any text, such as sled back on the line"},
	{path: "call.not_ready", byDefault: "official", shape: words(readyWords), meanings: map[string]string{
		"official":     "the officials decide",
		"drop":         "the puller drops back in the order",
		"disqualified": "the puller is disqualified",
		"forfeit":      "the puller does not hook in this round"},
		says: "What these rules advise when a puller is not ready in time.", write: `"official", "drop", "disqualified" or "forfeit"`},
	{path: "call.drop_once", byDefault: false,
		says: "Whether an entry may drop back for mechanical trouble once in a class only.", write: "true or false"},
}

// hookFields are about a hook: starting again, the test puller, the sled.
var hookFields = []ruleField{
	{path: "restart", shape: schema{ExclusiveMinimum: new(0)},
		says:  "The restart line: an attempt that stops short of it may be repeated. Without a line there is no second attempt.",
		write: "figures such as 75, less than line"},
	{path: "restarts",
		says: "How an attempt that failed at the start may be repeated, beside the line.", write: "a group in braces"},
	{path: "restarts.share", shape: schema{Pattern: sharePattern},
		says: "The restart line as a share of the track, instead of restart.", write: "a share such as 1/3"},
	{path: "restarts.kinds", shape: schema{Items: &schema{Type: "string", Pattern: "^.*[^ ] +[0-9.]*[1-9][0-9.]*$"}},
		says:  "Restart lines of kinds of vehicles; a class is planned for one kind, or for none and has the line of restart.",
		write: `a list such as ["tractor 50", "truck 100"]`},
	{path: "restarts.attempts", shape: schema{Minimum: new(0), Maximum: new(9), Not: &schema{Const: 1}},
		says: "The number of attempts in all. 0, or left out: two.", write: "a whole number from 2 to 9"},
	{path: "restarts.judged_by", byDefault: "sled", shape: words(judgeWords), meanings: map[string]string{
		"sled":     "where the sled stopped decides",
		"throttle": "who let off before the line may start again though the sled rolled past it; the officials say so"},
		says: "What decides whether an attempt stopped short.", write: `"sled" or "throttle"`},
	{path: "restarts.options", shape: schema{Items: &schema{Type: "string", Pattern: againPattern}}, meanings: map[string]string{
		"now":  "starts again at once; what is meant when the list is left out",
		"last": "starts again at the end",
		"7":    "starts again as the seventh from now, which is six places back"},
		says: "When the attempt is repeated.", write: `a list of "now", "last" or a place such as "7"`},
	{path: "test_puller",
		says:  "Who makes the first hook against a setting, and what may be chosen after it. Without it the hook counts like any other.",
		write: "a group in braces"},
	{path: "test_puller.who", byDefault: "first", shape: words(testWords), meanings: map[string]string{
		"first":   "the first in the order",
		"chosen":  "the sled operator may choose any entry instead",
		"session": "nobody: the sled is tried in a session of its own"},
		says: "Who makes the test hook.", write: `"first", "chosen" or "session"`},
	{path: "test_puller.options", shape: schema{Items: &schema{Type: "string", Pattern: optionPattern}}, meanings: map[string]string{
		"keep":     "the result stands; always among them, written or not, unless must is true",
		"last":     "hooks again at the end",
		"now":      "hooks again at once",
		"original": "hooks again in the place that was drawn, for one who was chosen out of turn",
		"3":        `hooks again as the third from now; any place from "2" to "127"`},
		says: "The choices.", write: `a list of "keep", "last", "now", "original" or a place such as "3"`},
	{path: "test_puller.must", byDefault: false,
		says: "Whether the test puller hooks again without a choice, by the one option there is.", write: "true or false"},
	{path: "test_puller.until", byDefault: "",
		says:  "When the choice must be made, in the words of the rule book; the booth reads it out.",
		write: "any text, such as before unhooking"},
	{path: "test_puller.silence", byDefault: "keep", shape: schema{Pattern: optionPattern},
		says: "What a test puller takes who says nothing.", write: "keep, or one of the options"},
	{path: "test_puller.before_distance", byDefault: false,
		says: "Whether the choice is made before the distance is told.", write: "true or false"},
	{path: "test_puller.after_dq", byDefault: false,
		says: "Whether a disqualified test puller still has the choice.", write: "true or false"},
	{path: "test_puller.no_restart", byDefault: false,
		says: "Whether the restart line does not hold on the test hook, so that it is one attempt.", write: "true or false"},
	{path: "test_puller.lost_part_free", byDefault: false,
		says: "Whether what falls off on the test hook disqualifies nobody.", write: "true or false"},
	{path: "rehook_drop", byDefault: 0, shape: schema{Minimum: new(0), Maximum: new(100)},
		says:  "How many places, at most, an entry may drop to cool down after a re-hook that the sled or an official caused.",
		write: "a whole number; 0 means at once"},
	{path: "rehook_minutes", shape: schema{Minimum: new(0), Maximum: new(60)},
		says: "How many minutes there are to cool down where fewer entries are left than may be dropped. 0: the rules do not say.", write: "a whole number of minutes"},
	{path: "drop_places", byDefault: 0, shape: schema{Minimum: new(0), Maximum: new(100)},
		says:  "How many places, at most, a puller who was called may drop for mechanical trouble.",
		write: "a whole number; 0 means to the last place"},
	{path: "reset", byDefault: "restart", shape: words(resetWords), meanings: map[string]string{
		"restart":  "every earlier hook of the round is void and the line-up starts again",
		"keep":     "earlier hooks stand, and every page says that the round was pulled on two settings",
		"previous": "earlier hooks stand but the last one, whose puller hooks again after the next",
		"never":    "the setting is not changed within a round"},
		says: "What a reset of the sled does to the hooks that the round already has.", write: `"restart", "keep", "previous" or "never"`},
	{path: "reset_when",
		says: "When these rules advise a reset; the officials and the sled operator decide.", write: "a group in braces"},
	{path: "reset_when.past", shape: schema{ExclusiveMinimum: new(0)},
		says: "When the test hook went past this distance.", write: "figures such as 325"},
	{path: "reset_when.full_pulls", shape: schema{Minimum: new(0), Maximum: new(100)},
		says: "When so many hooks, from the first on, were full pulls. 0: no number.", write: "a whole number"},
}

// reasonFields are about what goes wrong, and what ends a class early.
var reasonFields = slices.Concat([]ruleField{{path: "reasons",
	says: "What follows from what goes wrong in a hook. What is left out is a disqualification without a distance.", write: "a group in braces"}},
	[]ruleField{
		causeField("out_of_bounds", "the vehicle touches or crosses the side line"),
		causeField("sled_out_of_bounds", "the sled does"),
		causeField("lost_part", "something falls off while hooked"),
		causeField("breakage", "something breaks in plain sight"),
		causeField("fluid", "there is a stream of fluid or a spill"),
		causeField("front_end", "the front wheels rise higher than allowed"),
		causeField("speed", "the speed limit is passed"),
		causeField("red_flag", "the vehicle does not stop under red"),
		causeField("early_start", "it starts before the green flag"),
		causeField("jerking", "slack is made and the sled snatched"),
		causeField("not_ready", "the time to hook is over"),
		causeField("overweight", "the scale says more than limit and tolerance"),
		causeField("illegal_vehicle", "the vehicle is not what the class allows"),
		causeField("conduct", "somebody argues, coaches on the track or leaves the seat"),
		{path: "side_lines_to", shape: schema{ExclusiveMinimum: new(0)},
			says: "How far the side lines reach; past that nobody is out of bounds. Without it they reach as far as anybody pulls.", write: "figures such as 320"},
		{path: "speed",
			says: "The speed limit of the class. Without it there is none.", write: "a group in braces"},
		{path: "speed.limit", needed: true, shape: schema{Pattern: "^[0-9.]+ ?(mph|km/h)$"},
			says: "The limit; every setting of the class has it.", write: "a speed with its unit, such as 3.5 mph"},
		{path: "speed.from", shape: schema{Pattern: "^([0-9.]*[1-9][0-9.]*|[1-9][0-9]?/[1-9][0-9]*)$"},
			says: "From where on it holds: a distance, or a share of the track. Left out: from the start.", write: "figures such as 75, or a share such as 1/3, between quotes"},
		{path: "speed.warnings", byDefault: 0, shape: schema{Minimum: new(0), Maximum: new(9)},
			says: "How often it may be passed before it costs the hook.", write: "a whole number"},
		{path: "speed.device", byDefault: "",
			says: "What reads the speed, in the words of the rule book.", write: "any text, such as radar"},
		{path: "speed.own_device", byDefault: true,
			says: "Whether competitors may carry a speed measuring device of their own.", write: "true or false"},
		{path: "ready", shape: schema{Items: &schema{Type: "string", Pattern: `\S`}, MaxItems: 30},
			says: "What the sled's crew looks at before each hook, after the points of the sled. It is read and gives no go.", write: `a list of points such as ["hitch height measured"]`},
		{path: "stopped", byDefault: "rounds", shape: words(stoppedWords), meanings: map[string]string{
			"rounds":  "what was pulled to the end of a round",
			"nothing": "nothing, unless the class was decided",
			"pulled":  "every hook that counts"},
			says: "What stands of a class that is stopped before its end, by rain for instance.", write: `"rounds", "nothing" or "pulled"`},
	})

// causeField is the row of a cause.
func causeField(name, happens string) ruleField {
	return ruleField{path: "reasons." + name, byDefault: "no_distance", shape: words(reasonWords), meanings: map[string]string{
		"last_place":  "disqualified, and last of the class",
		"no_distance": "disqualified, without a distance",
		"attempt":     "the attempt is void, and another follows where one is left",
		"measured":    "the distance where it happened counts",
		"ends":        "the pull ends, and the distance where the sled stopped counts",
		"none":        "nothing follows"},
		says: "What follows when " + happens + ".", write: `"last_place", "no_distance", "attempt", "measured", "ends" or "none"`}
}

// pullOffFields are about who comes back, and about ties.
var pullOffFields = []ruleField{
	{path: "pull_off",
		says:  "Who is brought back and how; only where cap is true. Without it every field of the group is as if it were left out.",
		write: "a group in braces"},
	{path: "pull_off.who", byDefault: "full_pulls", shape: words(whoWords), meanings: map[string]string{
		"full_pulls": "every full puller, when there are two or more",
		"top":        "the best of the class, as many as top says",
		"nobody":     "nobody: full pulls share their place"},
		says: "Who comes back.", write: `"full_pulls", "top" or "nobody"`},
	{path: "pull_off.top", shape: schema{Minimum: new(0), Maximum: new(100), Not: &schema{Const: 1}},
		says: "How many come back, where who is top.", write: "a whole number from 2 on"},
	{path: "pull_off.fill_to", shape: schema{Minimum: new(0), Maximum: new(100), Not: &schema{Const: 1}},
		says: "With fewer than two full pulls the final is filled up to so many by the longest distances. 0: it is not; a single full puller wins.", write: "a whole number from 2 on"},
	{path: "pull_off.measured", byDefault: "past_line", shape: words(finishWords), meanings: map[string]string{
		"past_line": "the figure counts past the line too",
		"to_line":   "it ends at the line again; whoever is still equal pulls again"},
		says: "How a pull-off ends.", write: `"past_line" or "to_line"`},
	{path: "pull_off.line", shape: schema{ExclusiveMinimum: new(0)},
		says: "The full-pull line of the pull-off, where it has one of its own.", write: "figures such as 110, not less than line"},
	{path: "pull_off.order", byDefault: "class", shape: words(lineupWords), meanings: map[string]string{
		"class":    "as in the class",
		"reversed": "the other way round"},
		says: "In which order a pull-off is hooked.", write: `"class" or "reversed"`},
	{path: "pull_off.absent", byDefault: "last_of_pull_off", shape: words(absentWords), meanings: map[string]string{
		"last_of_pull_off": "after those who hooked in it, before all who were not in it",
		"withdrawn":        "no place; the others move up"},
		says:  "What somebody gets who is in the pull-off and does not hook in it.",
		write: `"last_of_pull_off" or "withdrawn"`},
	{path: "pull_off.disqualified", byDefault: "last_of_pull_off", shape: words(absentWords), meanings: map[string]string{
		"last_of_pull_off": "after those with a distance in it, before all who were not in it",
		"withdrawn":        "no place; the others move up"},
		says:  "What somebody gets who is disqualified in the first pull-off.",
		write: `"last_of_pull_off" or "withdrawn"`},
	{path: "pull_off.added", byDefault: false,
		says: "Whether the pull-off is added to the printed total; it changes no place.", write: "true or false"},
	{path: "pull_off.second_attempt", byDefault: false,
		says: "Whether the restart line holds in pull-offs too.", write: "true or false"},
	{path: "pull_off.same_driver", byDefault: false,
		says: "Whether the driver of the class must drive in the pull-off; the desk is reminded.", write: "true or false"},
	{path: "pull_off.before", byDefault: "",
		says: "What is seen to before the pull-off, in the words of the rule book.", write: "any text, such as weighed again unless the vehicle stayed in staging"},
	{path: "ties",
		says: "What becomes of the others that are equal.", write: "a group in braces"},
	{path: "ties.are", byDefault: "shared", shape: words(tieWords), meanings: map[string]string{
		"shared":       "they share the place",
		"pulled_again": "they pull again",
		"next_best":    "the next longest of their other class rounds decides"},
		says: "What becomes of a tie.", write: `"shared", "pulled_again" or "next_best"`},
	{path: "ties.places", shape: schema{Minimum: new(0)},
		says: "The last place that is pulled again for. 0: every place.", write: "a whole number"},
}

// optionPattern is the spelling of an option: the words, and the places that [domain.ParseOption] takes.
const optionPattern = "^(keep|original|last|now|[2-9]|[1-9][0-9]|1[01][0-9]|12[0-7])$"

// againPattern is the spelling of an option that starts again; sharePattern that of a share of the track.
const (
	againPattern = "^(last|now|[2-9]|[1-9][0-9]|1[01][0-9]|12[0-7])$"
	sharePattern = "^[1-9][0-9]?/([1-9][0-9]?|100)$"
)
