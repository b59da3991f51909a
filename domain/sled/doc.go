// Package sled estimates how hard a weight-transfer sled pulls back, and where vehicles would stop under another
// setting. It takes numbers and gives numbers, all in metres, newtons, kilograms, seconds and joules; documents in feet
// and pounds are read and written by domain/doc.
//
// # The sled
//
// A frame stands on an axle at its rear and rests on a pan in front. A box full of weights is driven forward along the
// frame by the axle's own wheels, so that load moves from the wheels, which roll, to the pan, which drags. At the trip
// the pan drops and digs; when the box has reached its forward stop, a push-down may lift the axle until everything
// stands on the pan. docs/sled.md has the equations in the order of this package, and where each comes from.
//
// Positions along the sled count forward from the axle; travel counts from the start line. Drag is made of straight
// pieces between a handful of places, so that work, stops and speeds are exact: nothing is integrated in steps.
//
// # Worked example
//
// A box of 8,000 lb alone on a frame of 20 ft, started at the axle and moved 0.1 ft a foot, on ground with a friction
// of 0.5: after 100 ft it stands in the middle, 4,000 lb rest on the pan, and the drag is 2,000 lb, the mean until
// there half of that. Whoever stopped at 100 ft pulled 1,000 lb in the mean, and stops at 50 ft against 16,000 lb.
//
// # What it is not
//
// An estimate, and no advice on safety: it must never be used to judge whether a sled will stop a vehicle. The sled
// operator decides; local rules and officials come first.
package sled
