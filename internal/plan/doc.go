// Package plan is the building as a drawing tells it: storeys, wall segments,
// openings, decks, obstacles, rooms, and the ledger that says what became of
// every placed entity. Importers return it; later stages read it and never
// look at a file again.
//
// Coordinates are the drawing's own, times its unit, on the grid of package
// measure. Heights are from the storey's floor unless said otherwise.
package plan
