// Package job reads the job file: which drawings, how their layers map, what
// the walls are made of and how high each side goes, decks, ceilings, frames,
// stock, rules changed, prices. Reading is strict: an unknown key, a bad length
// or a missing file is an error with file, line, column and the nearest right
// spelling.
package job
