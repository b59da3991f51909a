package sled

// Units at the edge, each in SI. All are exact: NIST SP 811 (2008), appendix B.8 and B.9, gives the foot, the pound and
// the standard gravity as definitions, and the others follow. (The digits were read second-hand.)
const (
	Foot        = 0.3048            // m
	Inch        = Foot / 12         // m
	Mile        = 5280 * Foot       // m
	Pound       = 0.45359237        // kg
	Gravity     = 9.80665           // m/s²
	PoundForce  = Pound * Gravity   // N, 4.4482216152605
	FootPound   = Foot * PoundForce // J
	MilePerHour = Mile / 3600       // m/s, 0.44704
)
