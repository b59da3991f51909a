package domain

// KeptBack reports whether a distance is measured and not told yet, because under the rules the test puller chooses
// before it is; see [TestRule].BeforeDistance. It is told with the choice, whatever the choice is.
func (c *Class) KeptBack() bool {
	return c.Rules.Test.BeforeDistance && c.Phase() == ChoiceOpen && c.Pending().Test
}

// Told returns the class as everybody may be told of it: while a distance is kept back, the hook with the open choice
// is without its result and its speeds, and nothing that is computed from the class has the figure. A hook that ended and
// has no result is such a hook. What the class waits for is asked of the class itself.
//
// The test puller 41 stopped at 281.36 ft and has to choose before the distance is told:
//
//	the class    ChoiceOpen, 41 leads with 281.36
//	as told      41 on the track, nobody has a place
func (c Class) Told() Class {
	if !c.KeptBack() {
		return c
	}
	hook := c.Pending().Hook.ID
	c = c.Clone()
	c.hook(hook).Result, c.hook(hook).Speeds = Result{}, Speeds{}
	return c
}
