// Package run turns wall segments into runs and faces: collinear touching
// segments of one type merge, junctions are solved once, and each side gets
// its own length, its own top under the deck, its holes and the boardable
// extent of each ply with laps. Marks and fingerprints are given here.
package run
