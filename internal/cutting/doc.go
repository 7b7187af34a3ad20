// Package cutting turns pieces to be hung into a cut list: which sheets to buy,
// how each is scored and snapped, and how far the result can be from the
// cheapest one.
//
// What enters: pieces with their outline as hung and the edges they want, and
// the sheets that can be bought. What leaves: sheets with placements, cuts in
// order and offcuts; for each board a lower bound and a status.
//
// Words used inside, besides those of the trade:
//
//	shape    pieces of one outline and one set of wishes, counted
//	blank    what straight cuts can make of a piece; notches are cut out of it after
//	block    shapes put together so that straight cuts across take them apart again:
//	         one blank, two blanks along one slanted cut, a row side by side, a stack
//	pattern  a block that fills one sheet
//	pocket   the board inside a notch, free for small pieces
//	brick    blanks put together with next to no waste, built only if wanted
//	set      pieces that may lie on one sheet for all that simple reasons say
//
// Cuts are straight, across a whole fragment (score and snap, no kerf). A piece
// is turned, never mirrored: the paper faces out. A sheet has two tapered long
// edges, x = 0 and x = Width, and two square ends; a piece that wants a tapered
// edge on a side lies with that side on one of them.
//
// Invariants: every piece is placed once or listed in Unplaced; area bought =
// area hung + offcuts kept + waste, exactly; a bound is never above what was
// found. The result depends on the input alone: groups are solved apart and
// merged in order, work is limited by rounds and columns, never by the clock.
package cutting
