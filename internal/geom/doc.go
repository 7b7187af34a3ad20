// Package geom holds points, polygons, piecewise-linear profiles and regions
// on the integer grid of package measure. It does no I/O.
//
// Plan coordinates are x, y in the drawing's own frame. A face is seen by a
// person who faces it: u from its left end, v up from the storey's floor.
// Polygons are closed without repeating the first point; outlines run
// counter-clockwise. Predicates are exact: products beyond 268 m go through
// 128 bits.
package geom
