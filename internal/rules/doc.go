// Package rules holds every number the layout obeys, as data: id, value in
// both systems of units, source, and whether a job may change it. Set is the
// same numbers resolved for one job, the form later stages read. Beside them
// stand the published tables that no job changes: frame spacings, bending
// radii, fire-rated patterns, screw lengths and points, and the boards that
// can be bought.
//
// A source is a publication in short. "Common practice, no source" is a habit
// of the trade that no publication was found for; "from memory" is a number
// recalled, to be checked before anybody leans on it.
package rules
