// Package measure holds lengths, areas and masses, and reads and prints them as
// the trade writes them.
//
// A Length is a whole number of eighths of a micrometre, used as the standard
// library uses time.Duration. One millimetre is 8000 units and 1/64 inch is
// 3175, so both unit systems are exact and nothing is ever rounded by a change
// of unit. Range: ±1.15e9 m. A cross product of two differences up to 268 m
// fits an int64; longer products go through math/bits (see geom).
package measure
