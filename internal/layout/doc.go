// Package layout finds, for each run, where its studs stand and how the sheets
// of both sides hang on them: joints, hooks, rips, tops, and the pieces they
// make. It returns the few best layouts of a run so that cutting can choose.
package layout
