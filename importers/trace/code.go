package trace

// Codes of the exceptions of this package.
const (
	CodeUnread     = "wall-line-unread"       // a stretch of wall line that no wall explains
	CodeUnreadMore = "wall-lines-unread"      // the shorter ones of them, added up
	CodeGap        = "gap-unexplained"        // two walls in line stop apart, with nothing that makes the gap an opening
	CodeOpening    = "opening-doubtful"       // an opening whose size or kind is doubtful
	CodeHomeless   = "opening-without-wall"   // a door or window that stands in no wall
	CodeThickness  = "wall-thickness-assumed" // a centreline of which nobody says how thick its wall is
	CodeTags       = "tags-disagree"          // two tags beside one wall
	CodeLoose      = "directions-loose"       // faces are not quite parallel
	CodeAreas      = "wall-areas-differ"      // the two methods find different areas
	CodeOutline    = "outline-without-wall"   // a closed outline as thin as a wall that was not paired
	CodeUnchecked  = "wall-areas-not-checked" // the second method was not run
	CodeView       = "view-left-out"          // a part of the sheet that is no plan
	CodePlans      = "several-plans"          // more than one plan on the sheet
	CodePier       = "outline-taken-for-pier" // a closed outline on a wall layer, too thick for a wall
	CodePost       = "outline-taken-for-post" // a small closed outline that stands free on a wall layer
	CodeInside     = "line-inside-wall"       // a third line runs along inside a wall
	CodeSite       = "looks-like-a-site"      // outlines inside an outline, and no opening
	CodePattern    = "floor-pattern"          // many short lines in pairs, a joint apart
	CodeKind       = "walls-of-a-kind"        // walls that are low, glazed or masonry by their layer
	CodeBlock      = "block-taken-for-door"   // a block that stands in gaps of walls, from jamb to jamb
	CodeDeckFit    = "deck-plane-fitted"      // a deck's plane through its corners or spot elevations, with the residual
	CodeDeck       = "deck-without-height"    // a deck outline without elevation
)

// Codes lists every code, for tests and for the table of codes.
func Codes() []string {
	return []string{
		CodeUnread,
		CodeUnreadMore,
		CodeGap,
		CodeOpening,
		CodeHomeless,
		CodeThickness,
		CodeTags,
		CodeLoose,
		CodeAreas,
		CodeOutline,
		CodeUnchecked,
		CodeView,
		CodePlans,
		CodePier,
		CodePost,
		CodeInside,
		CodeSite,
		CodePattern,
		CodeDeckFit,
		CodeBlock,
		CodeKind,
		CodeDeck,
	}
}
