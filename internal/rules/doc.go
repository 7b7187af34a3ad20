// Package rules holds every number the layout obeys, as data: id, value in
// both systems of units, source, and whether a job may change it. Set is the
// same numbers resolved for one job, the form later stages read.
package rules
