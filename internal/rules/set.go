package rules

import "boardrun/internal/measure"

// Length is measure.Length.
type Length = measure.Length

// Set is the rules of one job, resolved: defaults of the job's system of
// units, overlaid with what the job changed. Each field is one Rule of Table,
// which gives its text and source.
type Set struct {
	System measure.System
	Step   Length // measuring step that face lengths and profile vertices go to

	// Gaps.
	FloorGap   Length
	DeckGap    Length // gap left under the structure for it to move
	CeilingGap Length // gap over a wall that stops under a ceiling
	BeamClear  Length // clear of beams and joists at the head
	SlipLeg    Length // leg of the slip track
	SlipClear  Length // nothing is screwed higher than deck − (SlipLeg + DeckGap + SlipClear)
	TrackLeg   Length
	Cutout     Length // clear round a cut-out
	FitSlack   Length // off the boardable outline at inside corners

	// Where joints may be.
	JambBandHard, JambBandWarn Length
	StemHard, StemWarn         Length
	RipHard, RipWarn           Length
	TopHard, TopWarn           Length
	HideAbove                  Length // a horizontal joint is hidden this far above the ceiling
	AboveCeiling               Length // "to ceiling +": how far such a side goes on
	EndStaggerBays             int
	ControlJointEvery          Length
	TopStagger                 Length // horizontal joints of neighbouring plies apart; 0 = one line
	SpliceTops                 bool   // more than one horizontal joint per column allowed

	// Screws.
	ScrewEdge, ScrewField, ScrewOpening Length
	WideSpacing                         Length // studs further apart than this take ScrewWide everywhere
	ScrewWide                           Length
	EdgeDistance                        Length
	TopScrew                            Length // first screw above, last below a horizontal joint
	TackEdge                            Length // tack pass: joint edge spacing
	ScrewEmbed                          Length // screw length = board total + this, next stock size
	Counting                            Convention

	// Framing.
	StudEngage            Length // of a stud in the slip track, at least
	JambFromFrame         Length
	HeaderExtra           Length // header track = rough opening + this
	Flange                Length // stud flange width
	TrackFix, TrackFixEnd Length

	// Offcuts, order, lifting.
	OffcutMinW, OffcutMinL  Length
	DamagePercent           float64
	LiftFloorKg, LiftHighKg float64 // two people above: on the floor; on a lift
	LiftLength              Length  // longer sheets take two people on a lift
	HighWork                Length  // work above this height takes LabourHigh times the hours
	LabourHigh              float64

	// Weights where no prices are given: joints tapered–tapered, tapered–cut, butt.
	WeightTapered, WeightTaperedCut, WeightButt int

	// One snap tolerance guards every comparison of drawn coordinates.
	Snap Length
}
