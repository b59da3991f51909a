package domain

// InHookOrder returns how far the hooks of a round went that is over, in the order in which they were called, in
// nanometres: what package trend asks for. The index is that of [Class.Rounds].
//
// Full pulls that end at the line are equal there. A hook without a distance that counts is left out, and whoever hooked
// again stands where the hook that counts was made. It is nil while the round is not over, and where hooks that count were
// made against two settings, since their distances do not compare; see [Round.TwoSettings].
//
//	41 void (test hook given up), 7 full pull, 23 DQ, 12 263.10, 41 281.36    300 ft, 263.10 ft, 281.36 ft
func (c *Class) InHookOrder(round int) []int64 {
	r := &c.Rounds[round]
	if !c.roundOver(round) || r.TwoSettings() {
		return nil
	}
	var distances []int64
	for _, h := range r.Hooks {
		if reach := c.Rules.reach(r.Name, h.Result); h.Result.Counts() && reach >= 0 {
			distances = append(distances, reach)
		}
	}
	return distances
}
