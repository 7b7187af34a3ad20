// Package report holds the takeoff as it is given away: the contract of
// takeoff.json as Go types, and the format-neutral tables and drawings that
// every writer draws from. Writers read this package and nothing else.
//
// Numbers are millimetres, square metres and kilograms. A face's own frame: u
// from its left end as seen by a person facing it, v up from the storey's
// floor. Outlines are closed, counter-clockwise, first point not repeated.
package report
