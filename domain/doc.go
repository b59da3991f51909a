// Package domain holds what is true about a pull, whoever asks: values, rules and decisions.
//
// # The model
//
// An [Event] has tracks, sleds and sessions. A [Class] is pulled on one track with one sled under one
// [RuleSet]. It is a list of rounds: class rounds ("1", "2", …) and, where the rules bring the full pullers
// back, pull-offs ("P1", "P2", …). Each [Round] has a line-up, setting revisions and hooks. A [Hook] is one
// vehicle's run at the sled against one setting revision; its [Result] is what came of it. The standing is
// computed from the results by [Rank] and never stored.
//
// Everything that happens to a class is an [Action]. [Decide] takes the class as it is, an action and the time,
// and returns the class as it is afterwards or an [Error] that says what to do. Ids and times are arguments;
// nothing here reads a clock, a database or a random source. Folding the actions of the journal over the zero
// Class gives the stored class back.
//
// # A small class, worked
//
// Three vehicles under a 300 ft capped set: 41 goes 281.36 ft as the test puller and keeps it, 7 makes a full
// pull and 23 makes one too. Nobody is on the track, no choice is open and the line-up is done, so
// [Class.Phase] says that a pull-off is due for 7 and 23. It gets a round P1 with a setting of its own; 7 goes
// 312.44 ft, 23 goes 305.1 ft. Rank then gives 7, 23, 41.
//
// # The same class as a journal
//
// Each line is one action, named by its kind in [Kinds]. What is not in a line follows from the class and the
// rules:
//
//	class     the rule set, the sled, the session, the track
//	entry     41, then 7, then 23: three lines
//	draw      seed "dice 4 2 6"; the order that follows from it is 41, 7, 23
//	setting   the draft of revision 1 of round 1
//	freeze    revision 1; from now on every hook is pulled against it
//	call      hook 1, which is 41's and the test hook
//	result    281.36 for hook 1; it leaves a choice, so that nobody is called
//	choice    keep; calls hook 2, which is 7's
//	result    FP for hook 2; calls hook 3, which is 23's
//	result    FP for hook 3; nobody waits, and P1 is due
//	round     P1; in it are 7 and 23, in class order
//	setting   heavier, or in another gear
//	freeze    revision 1 of P1
//	call      hook 1 of P1, which is 7's; no hook of a pull-off is a test hook
//	result    312.44; calls hook 2, which is 23's
//	result    305.1; nobody waits and nothing is due: decided
//	official  signed, once the window for protests is over; from now on only reopen is taken
//
// # A line-up that moves
//
// A line-up is the order in which a round is pulled, and it is the only place that says who is next: the first
// in it who is not out and has nothing that counts yet. Moving an entry counts places among those who still
// wait, because a place among those who are done would mean nothing. With 41 done and 7 called, and rules that
// let a puller in trouble drop two places:
//
//	before   41 (281.36)   7 (called)   23   12   5
//	7 drops 2
//	after    41 (281.36)   23 (called)   12   7   5
//
// The call that 7 gave up stays as a hook with the outcome void, so that the record shows it.
//
// # A standing with shared places
//
// Equal results share a place and the places after them are used up; nothing but a pull-off breaks a tie:
//
//	1   23   300 ft      full pull, then 312.44 in P1
//	2   7    300 ft      full pull, then 305.1 in P1
//	3=  38   281.36 ft
//	3=  41   281.360 ft  the same length, read with another digit
//	5   12   254.77 ft
//	-   5    DQ          no place, and not the last place
//
// # What must always hold
//
// The slices of a class are its history and its order at once. Rounds are in the order opened, and only the
// last is pulled. Hooks are in the order called, numbered from 1 without gaps, and never removed. Revisions are
// in the order drafted, and only the last can be a draft or open. Entries are in the order entered and never
// leave the list, so that an index of one class is good for its successors. At most one hook of a class has no
// result; that puller is on the track.
//
// # Sources
//
// Comments name the rule book behind a decision by a key and, where it has them, the number of its rule: "SCTPA
// 9" is rule 9 of the first text below whose key is SCTPA. The rule books contradict one another; a key says
// that one of them has the rule, not that all do. "Common practice, no published source" marks what was found
// in no text. docs/rules.md has the keys of the values that a rule set can take.
//
//	AMPI     http://americanminipuller.com/general-track-rules.html
//	ASTTQ    https://123dok.net/article/comp%C3%A9tition-amp-proc%C3%A9dures-contest-amp-procedures.q058vkg9
//	BE-BORG  http://www.trekkertrekborgloon.be/reglement
//	BEAST    http://beastoftheeastpulls.com/rules/
//	BIGIRON  http://www.bigironclassic.com/rules.php
//	CARP     http://carpfair.ca/2018-truck-tractor-pull-generalrules/
//	CENTR    http://centrevillefair.com/tractor-and-truck-pulls-copy/
//	CH       https://www.tpvemmental.ch/tractor-pulling/
//	CHEL     http://chelseafair.org/farm-stock-speed-pull/
//	CITP     https://www.centralillinoistruckpullers.com/points-rules
//	CME      http://cmetractorpullers.com/General_Rules.html
//	DK-GARD  http://dgtp.dk/regler/generelle-regler/
//	FLANT    http://flantiquepullers.com/index.php/go/static/general_rules
//	FR-TP    https://www.tractor-pulling.fr/en/tractorpulling.php
//	FTG      http://fullthrottlegardentractorpulling.com/index.php/protest-2016/
//	GPP      https://groundpounderspulling.tripod.com/untitled-page-2.html
//	GREEN    http://greencountrytractorclub.com/pullingpoints.htm
//	GSRA     http://gsandr.com/index.php?page=antique-classic-antique-modern-antique
//	GSRT     https://gsandr.com/index.php?page=truck-pulls
//	HANOV    https://www.hanoverharvestfestival.com/tractor-pull/
//	HARF     http://harfordfair.com/depts16/truckTractorPull/files/basic-html/page4.html
//	HTP      https://www.heartlandtruckpullers.com/general
//	LATP     https://latractorpullers.blogspot.com/p/fees-awards-entry-fees-trophy-classes-5.html
//	LSG      http://www.lsgtpa.com/rule-book
//	MAM      https://michianaautomania.com/pages/truck-pull-rules
//	MERR     http://merrilltractorpull.com/rules/
//	MICRO    http://nmmtpapullers.com/2013_rulebook.html
//	MMTT     http://mmttpainc.com/rules/
//	NATPA    http://www.natpa.com/point_system.htm
//	NGTPS    https://ngtps.org/2022-points-entry-new/
//	NIST     https://physics.nist.gov/cuu/pdf/sp811.pdf (SP 811, appendix B.8)
//	NK       https://nkpullers.wixsite.com/nkpullers/classes-rules
//	NL-VP    http://trekkertrekvp.nl/2018/04/07/de-trekpoging/
//	NO       https://www.traktorcross.no/reglement-for-traktorpulling/
//	NSTT     https://docplayer.net/amp/17829013-Non-sanctioned-truck-tractor-pull-rules.html
//	OMTPA    http://www.omtpa.com/rules.html
//	OPS      http://outlawpullingseries.com/rules.html
//	PINE     http://www.pinecountyfair.com/index.php?option=com_content&view=article&id=14&Itemid=111&lang=en
//	QUYON    https://quyonpull.com/rules-and-regulations
//	RENEG    https://renegadepuller.com/contest-rules
//	RIVER    https://riverlandpullers.com/points
//	SCTPA    http://www.ptpapullers.com/sctpageneralrules.htm
//	SCW      http://scwtp.com/2021-points
//	SE-RTT   https://ru.scribd.com/document/348981362/Tractorpulling-Norr-Reglemente-Tractorpulling-20151
//	SEMP     https://semproniusfiredepartment.com/truck-tractor-pull/pull-rules/
//	SE-VET   http://www.rudskoga.se/evenemang/veterantraktorpulling-2038342
//	SNUB     https://snubbersgtp.com/track-operations
//	TMTPA    http://www.tmtpa.com/General.html
//	TWOR     https://tworiversgtpa.com/safety-%26-event
//	UCTCC    https://uppercanadatwocylinderclub.com/3/miscellaneous12.htm
//	UK       https://tractorpulling.co.uk/frequently-asked-questions
//	VTPA     http://vttractorpuller.com/page-aa.htm
//	WAUSH    http://wausharacofair.com/Tractor-Rules.html
//	WOLV     http://e-clubhouse.org/sites/wolverine/page-6.php
package domain
