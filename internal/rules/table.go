package rules

import "boardrun/internal/measure"

const (
	practice = "common practice, no source"
	memory   = "from memory, no source at hand"
)

// Table is every rule, in the order it is printed. A change here is a change
// of behaviour: it wants a line in DEVELOPERS.md and a source.
var Table = []Rule{
	length("measuring-step", "gaps", "lengths of faces and tops go to this step, once", in(1, 64), mm10(1), in(1, 64), mm10(1), in(1, 8), mm(2),
		practice, func(s *Set) any { return &s.Step }),

	// Gaps.
	checked(length("floor-gap", "gaps", "board above the floor's high spot", in(1, 2), mm(12), in(1, 4), mm(6), none, none,
		"GA-216-2024 4.6.11: at least 1/4 in (6 mm); 1/2 in tolerated by US Navy NAVEDTRA 14044; the rest "+practice,
		func(s *Set) any { return &s.FloorGap }), "at most track-leg − 5/8 in (15 mm), so that the track screw finds steel"),
	length("deck-gap", "gaps", "gap left under the structure for it to move; the listed head-of-wall design governs", in(3, 4), mm(20), none, none, in(4, 1), mm(100),
		practice, func(s *Set) any { return &s.DeckGap }),
	length("ceiling-gap", "gaps", "gap over a side that stops under a ceiling", in(1, 4), mm(6), none, none, in(1, 1), mm(25),
		practice+": 1/4 to 1/2 in", func(s *Set) any { return &s.CeilingGap }),
	length("beam-clear", "gaps", "clear of beams, joists and pipes at the head, for sealant", in(3, 8), mm(10), none, none, in(1, 1), mm(25),
		"a California school specification citing ASTM C754 and C840: 1/4 to 3/8 in", func(s *Set) any { return &s.BeamClear }),
	length("slip-leg", "gaps", "leg of the slip track at the head", in(2, 1), mm(50), in(1, 1), mm(25), in(6, 1), mm(150),
		practice, func(s *Set) any { return &s.SlipLeg }),
	length("slip-clear", "gaps", "nothing is screwed higher than the deck − (slip-leg + deck-gap + this)", in(1, 4), mm(6), none, none, in(2, 1), mm(50),
		practice, func(s *Set) any { return &s.SlipClear }),
	length("track-leg", "gaps", "leg of the floor track", in(5, 4), mm(30), in(7, 8), mm(21), in(4, 1), mm(100),
		"UL U419 (2010): 1-1/4 in; 1 in in its text of 2007", func(s *Set) any { return &s.TrackLeg }),
	length("cutout-clear", "gaps", "clear round a cut-out; the firestop design governs", in(1, 4), mm(6), none, none, in(1, 4), mm(6),
		"a US city's residential guide: at most 1/4 in", func(s *Set) any { return &s.Cutout }),
	length("fit-slack", "gaps", "off the boardable outline at inside corners", in(1, 8), mm(3), none, none, in(1, 2), mm(12),
		practice, func(s *Set) any { return &s.FitSlack }),

	// Joints.
	fact("joint-on-stud", "joints", "a joint along the studs stands on a stud's centre",
		"International Building Code 2021 2508.3; Gypsum Association, Using Gypsum Board III"),
	fact("plies-apart", "joints", "neighbours in the order left face ply … left base, right base … right face ply never share a stud; control joints excepted",
		"GA-216-2024 4.6.8; British Columbia wall and ceiling association manual 9.5"),
	length("jamb-band", "joints", "no joint nearer to a jamb line, above the head or below the sill", in(6, 1), mm(150), none, none, in(24, 1), mm(600),
		"US Navy NAVEDTRA 14044: at least 6 in", func(s *Set) any { return &s.JambBandHard }),
	length("jamb-band-warn", "joints", "a joint nearer to a jamb line costs money and is listed", in(12, 1), mm(300), none, none, in(24, 1), mm(600),
		"British Columbia wall and ceiling association manual 9.5: at least 12 in", func(s *Set) any { return &s.JambBandWarn }),
	length("stem", "joints", "narrowest stem or tongue beside an opening", in(6, 1), mm(150), none, none, in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.StemHard }),
	length("stem-warn", "joints", "a narrower stem is listed", in(12, 1), mm(300), none, none, in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.StemWarn }),
	length("rip", "joints", "narrowest rip, at a run's end only", in(6, 1), mm(150), in(1, 1), mm(25), in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.RipHard }),
	length("rip-warn", "joints", "a narrower rip is listed", in(12, 1), mm(300), none, none, in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.RipWarn }),
	length("top", "joints", "least height of a top at its low side", in(6, 1), mm(150), in(1, 1), mm(25), in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.TopHard }),
	length("top-warn", "joints", "a lower top is listed", in(12, 1), mm(300), none, none, in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.TopWarn }),
	length("hide-joint", "joints", "a horizontal joint this far above the ceiling is hidden", in(4, 1), mm(100), none, none, in(24, 1), mm(600),
		practice, func(s *Set) any { return &s.HideAbove }),
	length("above-ceiling", "joints", "a side that goes above the ceiling goes on this far", in(6, 1), mm(150), in(1, 1), mm(25), in(120, 1), mm(3000),
		practice, func(s *Set) any { return &s.AboveCeiling }),
	count("end-stagger", "joints", "stud bays between end joints of neighbouring courses", 1, 1, 6,
		"GA-216-2024 4.6.7 (staggered); one bay: common practice", func(s *Set) any { return &s.EndStaggerBays }),
	length("control-joint", "joints", "longest partition without a control joint or a full-height frame", in(360, 1), mm(9100), in(48, 1), mm(1200), in(360, 1), mm(9144),
		"GA-216-2013 4.7; ASTM C840-08 section 20: 30 ft (9.1 m)", func(s *Set) any { return &s.ControlJointEvery }),
	length("top-stagger", "joints", "horizontal joints of neighbouring plies at least this far apart, both sides and within a side; 0: one straight line; a listed design's stagger holds where it is more", none, none, none, none, in(96, 1), mm(2400),
		"Gypsum Association fire designs stagger by 16 or 24 in; one line otherwise is "+practice, func(s *Set) any { return &s.TopStagger }),
	yesNo("splice-tops", "joints", "a column may have more than one horizontal joint", true,
		practice, func(s *Set) any { return &s.SpliceTops }),

	fact("joint-across-studs", "joints", "a joint across the studs is fastened at each stud; backed only where a listing or the job says so",
		"International Building Code 2021 2508.3, exception for edges across framing"),
	fact("rip-at-end", "joints", "a rip stands at a run's end, its factory edge to the joint and its cut edge in the corner; never two side by side", practice),
	fact("joint-lines", "joints", "the joint between vertical sheets and tops is one straight line along a run, hidden above the ceiling where it can be, both sides alike; a rated wall keeps its listing's stagger",
		practice+", against the staggered ends of GA-216-2024 4.6.7: the exception is listed"),
	fact("header-and-leg", "joints", "only unrated and where hooking fails: the header ends on studs 6 in (150 mm) past each jamb, its top on the sheet line, legs fill below; listed",
		practice+", against a school specification that allows no joint at an opening's corner"),
	fact("opened-first", "joints", "a pipe or duct installed before board never lies in a closed hole of one piece: a joint crosses it", practice),
	fact("wrapped-opening", "joints", "sheets run across a wrapped opening and are routed after hanging; returns boarded, rough opening = clear + 2 boards", practice),
	fact("frame-throat", "joints", "board enters a welded frame 1/2 in (12.7 mm): notch = frame outside − 2 × 1/2 in, head − 1/2 in; other frames: flush with the rough opening's studs", practice),
	fact("turned-never-mirrored", "joints", "a piece is turned on its sheet, never mirrored: the paper faces out", practice),
	fact("rows", "joints", "horizontal layout: top row first, tapers meet in the wall's middle, the cut edge at the floor; the usual choice for walls to about 9 ft",
		practice+"; US Navy NAVEDTRA 14044 runs boards horizontally under ceilings to 8 ft 1 in"),
	fact("frame-spacing", "joints", "board on walls: 1/2 and 5/8 in on studs to 24 in (625 mm), 3/8 in to 16 in (450 mm), cement board to 16 in (400 mm)",
		wallboardData+"; "+irc+"; UK house-builder standard 6.3.12"),
	fact("bending", "joints", "least radius bent dry along its length: 1/4 in 5 ft, 3/8 in 7-1/2 ft, 1/2 in 10 ft, 5/8 in 15 ft; across its width 1/4 in 15 ft, 3/8 in 25 ft, thicker not at all; studs then at most 6 in apart",
		BendSource),
	fact("start", "joints", "one side starts with an uncut sheet; the other some bays later, at the same end of the wall, so that the side hung first holds the open side of the flanges",
		"a maker guide for flanges one way; the rest "+practice),
	fact("cut-sizes", "joints", "cut sizes on paper are rounded down to 1/8 in or 1 mm; the exact shape stays in the data", practice),

	// Screws.
	length("screw-edge", "screws", "screws along tapered edges", in(12, 1), mm(300), in(2, 1), mm(50), in(16, 1), mm(400),
		"maker guide, non-loadbearing partitions: 16 in at studs to 16 in; 12 in is common practice within it", func(s *Set) any { return &s.ScrewEdge }),
	length("screw-field", "screws", "screws in the field", in(16, 1), mm(400), in(2, 1), mm(50), in(16, 1), mm(400),
		"maker guide, non-loadbearing partitions: 16 in at studs to 16 in", func(s *Set) any { return &s.ScrewField }),
	length("screw-opening", "screws", "screws beside, over and under openings", in(8, 1), mm(200), in(2, 1), mm(50), in(16, 1), mm(400),
		practice, func(s *Set) any { return &s.ScrewOpening }),
	length("wide-spacing", "screws", "studs further apart than this take screw-wide everywhere", in(16, 1), mm(400), in(8, 1), mm(200), in(16, 1), mm(400),
		"maker guide, non-loadbearing partitions", func(s *Set) any { return &s.WideSpacing }),
	length("screw-wide", "screws", "screws where studs are further apart than wide-spacing", in(12, 1), mm(300), in(2, 1), mm(50), in(12, 1), mm(300),
		"maker guide, non-loadbearing partitions: 12 in at studs at 24 in", func(s *Set) any { return &s.ScrewWide }),
	length("edge-distance", "screws", "least distance of a screw from edges and ends", in(3, 8), mm(10), in(3, 8), mm(10), in(1, 1), mm(25),
		"a US city's residential guide and a maker guide: at least 3/8 in; a UK specification: 10 mm", func(s *Set) any { return &s.EdgeDistance }),
	checked(length("top-screw", "screws", "first screw above and last below a horizontal joint", in(1, 2), mm(12), in(3, 8), mm(10), in(2, 1), mm(50),
		practice, func(s *Set) any { return &s.TopScrew }), "at least edge-distance"),
	length("tack-edge", "screws", "tack pass: screws along the joint edge", in(24, 1), mm(600), in(8, 1), mm(200), in(48, 1), mm(1200),
		practice, func(s *Set) any { return &s.TackEdge }),
	length("screw-embed", "screws", "screw length is board total + this, to the next stock length", in(3, 8), mm(10), in(3, 8), mm(9), in(1, 1), mm(25),
		"maker guide: 3/8 in through steel; Ontario Building Code 9.24.1.5: 10 mm", func(s *Set) any { return &s.ScrewEmbed }),
	{ID: "screw-counting", Group: "screws", Text: "how screws are counted: positions on each stud line, or C1: rows 3/8 in inside both ends, track screws only in listed patterns",
		Kind: Choice, Options: []string{"positions", "C1"}, Source: practice, at: func(s *Set) any { return &s.Counting }},
	fact("screw-point", "screws", "steel under 0.033 in takes C1002 screws, from there to 0.112 in C954",
		"ASTM C1002 and C954, scopes"),
	fact("listed-patterns", "screws", "where a listed fire design governs, its pattern holds; of two rules that both apply, the stricter; an unlisted pattern is refused, never invented",
		"ASTM C840 1.2.1; Gypsum Association fire designs WP 1200, 1201, 1204"),
	fact("no-screw-in-slip-track", "screws", "neither board nor stud nor jamb is screwed to a slip track", practice),

	// Framing.
	length("stud-engage", "framing", "least length of a stud in the slip track", in(1, 1), mm(25), in(1, 2), mm(12), in(4, 1), mm(100),
		practice, func(s *Set) any { return &s.StudEngage }),
	length("jamb-from-frame", "framing", "jamb studs at most this far from the frame", in(2, 1), mm(50), none, none, in(4, 1), mm(100),
		"a project's stud specification: about 2 in (50 mm)", func(s *Set) any { return &s.JambFromFrame }),
	length("header-extra", "framing", "header track is cut longer than the rough opening by this, slit and bent at both ends", in(12, 1), mm(300), in(6, 1), mm(150), in(24, 1), mm(600),
		"a maker handbook as quoted: about 6 in; Ontario Building Code 9.24.3.2: 150 mm at each end", func(s *Set) any { return &s.HeaderExtra }),
	length("stud-flange", "framing", "width of a stud's flange", in(5, 4), mm(32), in(1, 1), mm(25), in(3, 1), mm(75),
		"Canadian sheet steel institute bulletin 7-1: 1-1/4 in; UL U419: at least 1-1/4 in", func(s *Set) any { return &s.Flange }),
	length("track-fix", "framing", "track fixings apart", in(24, 1), mm(600), in(6, 1), mm(150), in(24, 1), mm(610),
		"maker guide, UL U419, Ontario Building Code 9.24.3.1: at most 24 in (610 mm)", func(s *Set) any { return &s.TrackFix }),
	length("track-fix-end", "framing", "first track fixing from its end", in(2, 1), mm(50), in(1, 1), mm(25), in(12, 1), mm(300),
		"Ontario Building Code 9.24.3.1: about 50 mm", func(s *Set) any { return &s.TrackFixEnd }),

	fact("flanges", "framing", "the flanges of all studs of a run face one way", "a maker guide, 12th edition"),
	fact("jambs", "framing", "two studs at each jamb, of heavier steel than the field's", practice+"; UFGS 05400 asks two for load-bearing walls"),

	// Offcuts, order, lifting.
	length("offcut-width", "order", "narrowest offcut kept", in(24, 1), mm(600), in(4, 1), mm(100), in(54, 1), mm(1400),
		practice, func(s *Set) any { return &s.OffcutMinW }),
	length("offcut-length", "order", "shortest offcut kept", in(24, 1), mm(600), in(4, 1), mm(100), in(192, 1), mm(4800),
		practice, func(s *Set) any { return &s.OffcutMinL }),
	number("damage", "order", "damage allowance on the laid-out count, per cent", 3000, 0, 20000,
		practice+" (a waste percentage on top would count waste twice)", func(s *Set) any { return &s.DamagePercent }),
	mass("lift-floor", "order", "heavier sheets take two people on the floor; local law first", 100, 45, practice, func(s *Set) any { return &s.LiftFloorKg }),
	mass("lift-high", "order", "heavier sheets take two people on a lift", 75, 34, practice, func(s *Set) any { return &s.LiftHighKg }),
	length("lift-height", "order", "longer sheets take two people on a lift", in(96, 1), mm(2400), in(48, 1), mm(1200), in(192, 1), mm(4800),
		practice, func(s *Set) any { return &s.LiftLength }),
	length("high-work", "order", "work above this height takes labour-high times the hours", in(120, 1), mm(3000), in(72, 1), mm(1800), in(360, 1), mm(9000),
		"AWCI, Practical Estimating part 2: above 8 to 10 ft", func(s *Set) any { return &s.HighWork }),
	number("labour-high", "order", "hours above high-work, times", 1400, 1000, 5000,
		"AWCI, Practical Estimating part 2: about 40 % more", func(s *Set) any { return &s.LabourHigh }),
	count("weight-tapered", "order", "without prices: weight of a joint of two tapered edges", 1, 0, 1000, practice, func(s *Set) any { return &s.WeightTapered }),
	count("weight-tapered-cut", "order", "without prices: weight of a joint of a tapered and a cut edge", 2, 0, 1000, practice, func(s *Set) any { return &s.WeightTaperedCut }),
	count("weight-butt", "order", "without prices: weight of a butt joint", 3, 0, 1000, practice, func(s *Set) any { return &s.WeightButt }),

	length("snap", "drawing", "drawn points nearer than this are one point", in(1, 32), mm(1), in(1, 64), mm10(1), in(1, 4), mm(6),
		practice+": drafting noise, well under the thinnest board", func(s *Set) any { return &s.Snap }),
}

const none Value = 0

func in(num, den Value) Value { return num * Value(measure.Inch) / den }
func mm(n Value) Value        { return n * Value(measure.Millimetre) }
func mm10(n Value) Value      { return n * Value(measure.TenthOfMM) }

func length(id, group, text string, def, defM, least, leastM, most, mostM Value, source string, at func(*Set) any) Rule {
	return Rule{ID: id, Group: group, Text: text, Kind: Measure, Default: [2]Value{def, defM},
		Min: [2]Value{least, leastM}, Max: [2]Value{most, mostM}, Source: source, at: at}
}

func count(id, group, text string, def, least, most Value, source string, at func(*Set) any) Rule {
	return Rule{ID: id, Group: group, Text: text, Kind: Count, Default: [2]Value{def, def},
		Min: [2]Value{least, least}, Max: [2]Value{most, most}, Source: source, at: at}
}

func number(id, group, text string, def, least, most Value, source string, at func(*Set) any) Rule {
	r := count(id, group, text, def, least, most, source, at)
	r.Kind = Number
	return r
}

// mass takes pounds and kilograms.
func mass(id, group, text string, lb, kg Value, source string, at func(*Set) any) Rule {
	grams := Value(float64(lb)*measure.KgPerPound*1000 + 0.5)
	return Rule{ID: id, Group: group, Text: text, Kind: Kilos, Default: [2]Value{grams, kg * 1000},
		Min: [2]Value{1000, 1000}, Max: [2]Value{100000, 100000}, Source: source, at: at}
}

func yesNo(id, group, text string, def bool, source string, at func(*Set) any) Rule {
	r := Rule{ID: id, Group: group, Text: text, Kind: YesNo, Source: source, at: at}
	if def {
		r.Default = [2]Value{1, 1}
	}
	return r
}

func fact(id, group, text, source string) Rule {
	return Rule{ID: id, Group: group, Text: text, Kind: Fact, Source: source, Fixed: true}
}

func checked(r Rule, against string) Rule {
	r.Against = against
	return r
}
