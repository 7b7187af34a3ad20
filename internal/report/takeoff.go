package report

// Schema is the version of takeoff.json. It changes when a reader of the old
// one would read the new one wrongly.
const Schema = 1

// Takeoff is one job's takeoff, the whole content of takeoff.json. Empty lists
// are [], never null: Normalise sees to it.
type Takeoff struct {
	Schema     int         `json:"schema"`
	Job        JobInfo     `json:"job"`
	Drawings   []Drawing   `json:"drawings"`
	Runs       []Run       `json:"runs"`
	Junctions  []Junction  `json:"junctions"`
	Faces      []Face      `json:"faces"`
	Openings   []Opening   `json:"openings"`
	Rooms      []Room      `json:"rooms"`
	Pieces     []Piece     `json:"pieces"`
	Joints     []Joint     `json:"joints"`
	Sheets     []Sheet     `json:"sheets"`
	Screws     []Screw     `json:"screws"`
	Framing    []Item      `json:"framing"`
	Finishing  []Item      `json:"finishing"`
	Order      []Item      `json:"order"`
	Stocking   []Item      `json:"stocking"`
	Cost       *Cost       `json:"cost,omitempty"`
	Phases     []Phase     `json:"phases,omitempty"`
	Bound      []Bound     `json:"bound"`
	Overrides  []Override  `json:"overrides"`
	Revisions  []Revision  `json:"revisions,omitempty"` // since an earlier takeoff, where one was given
	Exceptions []Exception `json:"exceptions"`
	Ledger     []Ledger    `json:"ledger"`
	Standing   []Standing  `json:"standing,omitempty"`

	// Labour and Checks are for paper only.
	Labour []Labour `json:"-"`
	Checks []Check  `json:"-"`
	// Sealant is the part of Finishing that is firestop and sealant.
	Sealant []Item `json:"-"`
	// Edits is what of it can be changed in its workbook.
	Edits *EditTable `json:"-"`
	// Done says how far sides are, by "1-W003 left": tacked, screwed, taped.
	Done map[string]string `json:"-"`
	// Linework is the drawing under the walls, for the drawings only.
	Linework []Line `json:"-"`
	// Decks are drawn on the review page.
	Decks []Deck `json:"-"`
}

// JobInfo says which job this is and under what rules.
type JobInfo struct {
	Name        string       `json:"name"`
	Title       string       `json:"title"`
	File        string       `json:"file"`
	Stamp       string       `json:"stamp"` // BUDGET, BID, BUILD
	System      string       `json:"system"`
	Rules       []Rule       `json:"rules"`
	Assumptions []Assumption `json:"assumptions"`
	Notes       []string     `json:"notes"`
	Boards      []BoardInfo  `json:"boards"`
	Delivery    *Delivery    `json:"delivery,omitempty"`
	Types       []TypeInfo   `json:"types"`
}

// Delivery is what the job says of how the material comes; absent where it says
// nothing.
type Delivery struct {
	LongestMM MM      `json:"longest_mm,omitempty"` // what fits the way in
	FloorKPa  float64 `json:"floor_kpa,omitempty"`  // what stacks may load the floor with
	Needed    string  `json:"needed,omitempty"`     // when, as written
}

// Rule is one rule in force.
type Rule struct {
	ID      string `json:"id"`
	Text    string `json:"text"`
	Value   string `json:"value"`
	Source  string `json:"source"`
	Changed bool   `json:"changed"`
}

// Assumption is one input nobody gave.
type Assumption struct {
	Path   string `json:"path"`
	Value  string `json:"value"`
	Reason string `json:"reason"`
}

// BoardInfo is one board product of the job.
type BoardInfo struct {
	Name        string `json:"name"`
	ThicknessMM MM     `json:"thickness_mm"`
	MassKgM2    Kg     `json:"mass_kg_m2"`
	Special     bool   `json:"special_order"`
}

// TypeInfo is one wall type of the job.
type TypeInfo struct {
	Name        string   `json:"name"`
	ThicknessMM MM       `json:"thickness_mm"`
	StudDepthMM MM       `json:"stud_depth_mm"`
	Mil         int      `json:"mil"`
	SpacingMM   MM       `json:"spacing_mm"`
	Left        []string `json:"left"`
	Right       []string `json:"right"`
	HeightLeft  string   `json:"height_left"`
	HeightRight string   `json:"height_right"`
	Insulation  string   `json:"insulation"`
	Rating      string   `json:"rating"`
	Listing     string   `json:"listing"`
}

// Drawing is one file read.
type Drawing struct {
	File    string `json:"file"`
	Format  string `json:"format"`
	Version string `json:"version"`
	Unit    string `json:"unit"`
	Storey  string `json:"storey"`

	UnitMM float64 `json:"-"`
}

// Source says where a thing stands in a file.
type Source struct {
	File  string `json:"file"`
	Ref   string `json:"ref"`
	GUID  string `json:"guid"`
	Layer string `json:"layer"`
}

// Run is one wall.
type Run struct {
	ID          string   `json:"id"`
	Fingerprint string   `json:"fingerprint"`
	Was         []string `json:"was"`
	Type        string   `json:"type"`
	Storey      string   `json:"storey"`
	Status      string   `json:"status"`
	AxisMM      []UV     `json:"axis_mm"`
	Arc         *Arc     `json:"arc,omitempty"`
	LengthMM    MM       `json:"length_mm"`
	ThicknessMM MM       `json:"thickness_mm"`
	SpacingMM   MM       `json:"spacing_mm"`
	StudStartMM MM       `json:"stud_start_mm"`
	Studs       []Stud   `json:"studs"`
	Flange      string   `json:"flange"`  // "start" or "end": the way the open sides face
	Deck        []UV     `json:"deck_uv"` // underside of the structure over the axis
	Rating      string   `json:"rating"`
	Listing     string   `json:"listing"`
	Assumed     []string `json:"assumed"`
	Why         string   `json:"why"`
	Status2     string   `json:"layout_status"` // optimal, feasible, infeasible, none
	Gap         string   `json:"layout_gap"`
	Source      []Source `json:"source"`
}

// Arc is a curved axis. Sweep is signed, counter-clockwise positive.
type Arc struct {
	CentreMM UV      `json:"centre_mm"`
	RadiusMM MM      `json:"radius_mm"`
	SweepDeg float64 `json:"sweep_deg"`
}

// Stud is one stud of a run.
type Stud struct {
	ID        string `json:"id"`
	StationMM MM     `json:"station_mm"`
	Kind      string `json:"kind"` // field, jamb, corner, tee, cripple, added
	BottomMM  MM     `json:"bottom_mm"`
	LengthMM  MM     `json:"length_mm"`
	Mil       int    `json:"mil,omitempty"` // where it is not the wall type's
}

// Junction is one meeting of runs.
type Junction struct {
	Kind    string   `json:"kind"`
	AtMM    UV       `json:"at_mm"`
	Runs    []string `json:"runs"`
	Through string   `json:"through"`
	Laps    []Lap    `json:"laps"`
}

// Lap is how far a face's board goes beyond (+) or stops short of (−) its
// finished end.
type Lap struct {
	Face     string `json:"face"`
	End      string `json:"end"`
	LengthMM MM     `json:"length_mm"`
}

// Face is one side of a run.
type Face struct {
	ID          string     `json:"id"`
	Run         string     `json:"run"`
	Side        string     `json:"side"`
	Boarded     bool       `json:"boarded"`
	Reason      string     `json:"reason"`
	Room        string     `json:"room"`
	StartMM     MM         `json:"start_mm"`
	LengthMM    MM         `json:"length_mm"`
	FinishedMM  MM         `json:"finished_length_mm"`
	OutlineUV   Poly       `json:"outline_uv"`
	HolesUV     []Poly     `json:"holes_uv"`
	Plies       []Ply      `json:"plies"`
	Studs       []FaceStud `json:"studs"`
	Top         string     `json:"top"` // slip, fixed
	HeightBy    string     `json:"height_by"`
	CeilingMM   MM         `json:"ceiling_mm"` // 0 = unknown
	SlipBelowMM MM         `json:"slip_line_below_top_mm"`
	GrossM2     M2         `json:"gross_area_m2"`
	NetM2       M2         `json:"net_area_m2"`
	HangFrom    string     `json:"hang_from"`
	HungFirst   bool       `json:"hung_first"`
	BreaksMM    []MM       `json:"breaks_mm"` // heights of horizontal joint lines
	BoardBefore []string   `json:"board_before"`
	Layout      string     `json:"layout"` // vertical, horizontal
}

// Ply is one thickness of board on a face, 1 = base.
type Ply struct {
	Ply       int    `json:"ply"`
	OutlineUV Poly   `json:"outline_uv"`
	Zones     []Zone `json:"zones"`
}

// Zone is a part of a ply with one board.
type Zone struct {
	OutlineUV Poly   `json:"outline_uv"`
	Board     string `json:"board"`
}

// FaceStud is where a stud of the run stands on a face.
type FaceStud struct {
	Stud string `json:"stud"`
	UMM  MM     `json:"u_mm"`
}

// Opening is one opening of a run. UMM is its centre on the first of Faces.
type Opening struct {
	ID        string   `json:"id"`
	Run       string   `json:"run"`
	Faces     []string `json:"faces"`
	Kind      string   `json:"kind"`
	Mark      string   `json:"mark"`
	Frame     string   `json:"frame"`
	Installed string   `json:"installed"`
	UMM       MM       `json:"u_mm"`
	WidthMM   MM       `json:"width_mm"`
	SillMM    MM       `json:"sill_mm"`
	HeadMM    MM       `json:"head_mm"`
	RoughMM   [2]MM    `json:"rough_mm"` // width between jamb studs, underside of the header
	NominalMM [2]MM    `json:"nominal_mm"`
	Basis     string   `json:"basis"`
	HeadBy    string   `json:"head_by"`
	ShapeUV   Poly     `json:"shape_uv,omitempty"`
	Source    []Source `json:"source"`
}

// Room is a closed room.
type Room struct {
	Name        string   `json:"name"`
	Number      string   `json:"number"`
	Storey      string   `json:"storey"`
	OutlineMM   Poly     `json:"outline_mm"`
	PerimeterMM MM       `json:"perimeter_mm"`
	AreaM2      M2       `json:"area_m2"`
	CeilingMM   MM       `json:"ceiling_mm"`
	Faces       []string `json:"faces"`
}

// Edges says what each outermost side of a piece is: tapered, end, cut.
type Edges struct {
	Left   string `json:"left"`
	Right  string `json:"right"`
	Bottom string `json:"bottom"`
	Top    string `json:"top"`
}

// Piece is what is hung.
type Piece struct {
	ID          string   `json:"id"`
	Fingerprint string   `json:"fingerprint"`
	Face        string   `json:"face"`
	Ply         int      `json:"ply"`
	Board       string   `json:"board"`
	Role        string   `json:"role"`
	Uncut       bool     `json:"uncut"`
	Hooks       []string `json:"hooks"`
	OutlineUV   Poly     `json:"outline_uv"`
	CutoutsUV   []Poly   `json:"cutouts_uv"`
	CentresMM   []MM     `json:"centres_mm"`
	HeightsMM   []UV     `json:"heights_mm"`
	Edges       Edges    `json:"edges"`
	Sheet       string   `json:"sheet"`
	AreaM2      M2       `json:"area_m2"`
	MassKg      Kg       `json:"mass_kg"`
	Order       int      `json:"order"`
	TwoPeople   string   `json:"two_people"` // "", "floor", "lift": where it takes two

	// BlankMM is HeightsMM of the piece before notches: what straight cuts make
	// of it, and what paper says. Empty where that is HeightsMM.
	BlankMM []UV `json:"blank_mm,omitempty"`
}

// Blank is the height of the piece before notches at its left edge, along its
// top, and at its right edge, from its lowest point.
func (p *Piece) Blank() []UV {
	if len(p.BlankMM) > 0 {
		return p.BlankMM
	}
	return p.HeightsMM
}

// Joint is the shared boundary of two neighbouring pieces of one face and ply.
type Joint struct {
	Face      string    `json:"face"`
	Ply       int       `json:"ply"`
	FromUV    UV        `json:"from_uv"`
	ToUV      UV        `json:"to_uv"`
	Kind      string    `json:"kind"`
	Stud      string    `json:"stud,omitempty"`
	Pieces    [2]string `json:"pieces"`
	Exposed   bool      `json:"exposed"`
	Exception string    `json:"exception,omitempty"`
}

// Sheet is one sheet as bought.
type Sheet struct {
	ID         string      `json:"id"`
	Board      string      `json:"board"`
	WidthMM    MM          `json:"width_mm"`
	LengthMM   MM          `json:"length_mm"`
	Storey     string      `json:"storey"`
	Group      string      `json:"group"`
	Placements []Placement `json:"placements"`
	Cuts       []Cut       `json:"cuts"`
	Offcuts    []Offcut    `json:"offcuts"`
}

// Placement is one piece on a sheet: x across, y along; Turned anticlockwise.
type Placement struct {
	Piece     string `json:"piece"`
	OutlineMM Poly   `json:"outline_mm"`
	Turned    int    `json:"turned"`
}

// Cut is one straight through cut.
type Cut struct {
	From  UV  `json:"from"`
	To    UV  `json:"to"`
	Order int `json:"order"`
}

// Offcut is what is left of a sheet.
type Offcut struct {
	OutlineMM Poly `json:"outline_mm"`
	Kept      bool `json:"kept"`
}

// Screw counts the screws of one item at one place of one ply.
type Screw struct {
	Face  string `json:"face"`
	Ply   int    `json:"ply"`
	Item  string `json:"item"`
	Place string `json:"place"` // edge, field, opening, track, top
	Count int    `json:"count"`
	Tack  int    `json:"tack"`
}

// Item is one line of framing, finishing, order or stocking.
type Item struct {
	Item      string   `json:"item"`
	Spec      string   `json:"spec"`
	WidthMM   MM       `json:"width_mm,omitempty"`
	LengthMM  MM       `json:"length_mm,omitempty"`
	AreaM2    M2       `json:"area_m2,omitempty"`
	Count     int      `json:"count,omitempty"`
	Allowance int      `json:"allowance,omitempty"`
	MassKg    Kg       `json:"mass_kg,omitempty"`
	VolumeL   float64  `json:"volume_l,omitempty"`
	Storey    string   `json:"storey"`
	Area      string   `json:"area,omitempty"` // where it is set down
	Runs      []string `json:"runs"`
	Note      string   `json:"note,omitempty"`
	Special   bool     `json:"special_order,omitempty"`
}

// Cost is absent without prices.
type Cost struct {
	Currency string     `json:"currency"`
	Lines    []CostLine `json:"lines"`
	Total    float64    `json:"total"`
}

// CostLine is one priced line.
type CostLine struct {
	Item     string  `json:"item"`
	Unit     string  `json:"unit"`
	Quantity float64 `json:"quantity"`
	Price    float64 `json:"price"`
	Amount   float64 `json:"amount"`
	Priced   bool    `json:"priced"` // false: no price was given, amount 0 and listed

	Kind    string `json:"kind,omitempty"`    // material, labour, added; by a price list
	Section string `json:"section,omitempty"` // MasterFormat
	Of      string `json:"of,omitempty"`      // of an added percentage: material, labour; else of all above
	Note    string `json:"note,omitempty"`
}

// Bound is what is proven about the area bought of one board.
type Bound struct {
	Board       string       `json:"board"`
	AreaM2      M2           `json:"area_m2"`
	Sheets      []SheetCount `json:"sheets"`
	ForPiecesM2 M2           `json:"for_these_pieces_m2"`
	ForAnyM2    M2           `json:"for_any_layout_m2"`
	HungM2      M2           `json:"hung_m2"`
	KeptM2      M2           `json:"offcuts_kept_m2"`
	WasteM2     M2           `json:"waste_m2"`
	Method      string       `json:"method"`
	Status      string       `json:"status"`
}

// Labour is the area hung of one storey and type, weighted by height: hours are
// the user's own rate times it.
type Labour struct {
	Storey, Type         string
	HungM2, HighM2       float64 // of it above the height where work slows
	OpeningsM2, Weighted float64 // small openings are not deducted
}

// Phase is one phase of the work on one storey.
type Phase struct {
	Storey     string  `json:"storey"`
	Name       string  `json:"name"`
	Sheets     int     `json:"sheets"` // that have to be there for it
	AreaM2     M2      `json:"area_m2"`
	HighM2     M2      `json:"high_m2"`     // of it above the height where work slows
	WeightedM2 M2      `json:"weighted_m2"` // high work counted more
	LengthMM   MM      `json:"length_mm,omitempty"`
	Hours      float64 `json:"hours"` // 0: no price list gives any
}

// Work names a phase and its storey.
func (f *Phase) Work() string {
	if f.Storey == "" {
		return f.Name
	}
	return f.Storey + ", " + f.Name
}

// Check is one figure an estimator compares with another.
type Check struct {
	Name, Unit     string
	Value, Against float64
	Basis          string
}

// SheetCount is how many sheets of one size.
type SheetCount struct {
	WidthMM  MM  `json:"width_mm"`
	LengthMM MM  `json:"length_mm"`
	Count    int `json:"count"`
}

// Override is one value that an edited workbook or a site sheet changed.
type Override struct {
	Target string `json:"target"`
	Field  string `json:"field"`
	Was    string `json:"was"`
	Now    string `json:"now"`
	File   string `json:"file"`
	Cell   string `json:"cell"`
	Kind   string `json:"kind"` // edit, site
}

// Exception is one thing a person may have to know.
type Exception struct {
	Severity string `json:"severity"` // note, warning, person
	Code     string `json:"code"`
	Message  string `json:"message"`
	Source   Source `json:"source"`
	Target   string `json:"target"`
	AtMM     *UV    `json:"at_mm,omitempty"`
	SpanMM   MM     `json:"span_mm,omitempty"`
	Did      string `json:"did"`
	Line     string `json:"line"` // the whole as one line
}

// Ledger is the account of one drawing.
type Ledger struct {
	Drawing    string   `json:"drawing"`
	Read       int      `json:"read"`
	Used       int      `json:"used"`
	Ignored    []Reason `json:"ignored"`
	WallLineMM MM       `json:"wall_line_mm"`
	WallUsedMM MM       `json:"wall_line_used_mm"`
}

// Reason counts entities ignored for one reason.
type Reason struct {
	Reason string `json:"reason"`
	Count  int    `json:"count"`
}

// Line is one polyline of a drawing and what became of it: background, used,
// ignored, unread.
type Line struct {
	Drawing string
	Storey  string
	Layer   string
	Use     string
	Points  []UV
}

// Deck is a plane of the structure's underside over a storey.
type Deck struct {
	Storey  string
	Outline Poly
	Text    string
}
