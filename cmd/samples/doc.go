// Command samples draws the invented fit-outs of samples/: plans as an
// architect would draw them, with nothing in them but what a plan holds, and
// the clinic a second time as a building model, from the same description. It
// is run by `go generate ./cmd/samples` after a change here; the drawings are
// committed so that nobody needs it to run a sample.
//
// All buildings, names and sizes are invented.
package main

//go:generate go run . ../../samples
