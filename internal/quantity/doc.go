// Package quantity counts what a laid-out job takes besides board: screws by
// position, framing, joints to tape, beads, compound, insulation, sealant; what
// to order and where to set it down; the lists people cut and build from; the
// checks an estimator makes; and what it costs at the job's prices.
//
// It takes one layout per run, the sheets bought and the rules, and returns
// plain lines (Item, ScrewCount, TopRow, …) that the report converts. Nothing
// here chooses: every number follows from the layout by a rule whose source is
// named beside it.
//
// Invariants: no two screws of one line are further apart than the rule; none
// is nearer to an edge, end or hole than rules.Set.EdgeDistance; none is above
// the slip line. Sums are made in the order of runs, faces and pieces, so the
// result does not depend on map order.
package quantity
