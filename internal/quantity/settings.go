package quantity

import "boardrun/internal/measure"

// Settings are the sizes things are sold in and the habits of a firm: what the
// rules of the layout do not hold. Take fills in Defaults where ScrewBox is 0.
type Settings struct {
	ScrewBox    int      // board screws in a box
	FramingBox  int      // framing screws in a box
	StudStock   []Length // lengths studs are stocked in, rising
	TrackStock  Length
	BeadStock   []Length // lengths of bead and trim, rising
	TapeRoll    Length
	TapeWaste   int     // per cent
	PailLitres  float64 // of ready-mix compound
	Cartridge   float64 // millilitres of sealant
	Bead        Length  // diameter of a round bead of sealant
	JambMil     map[int]int
	Kickers     Length // apart, over a wall that stops above the ceiling
	PlateEvery  Length // backing plates under an open flute
	BridgeEvery Length // one row of bridging per this much height
	LiftReach   Length // pieces that start higher than this are hung from a lift
}

// Defaults returns the settings of a system of units.
// Sources: studs 8 to 16 ft by 2 ft, Dagostino and Peterson, Estimating in
// Building Construction; track 10 ft, a framing how-to; tape rolls of 500 ft,
// bead of 8 and 10 ft, pails of 4.5 gal and boxes of screws from memory; tape
// waste 10 %, the same textbook, p. 203; cartridge 29 fl oz, a common size;
// kickers and plates: common practice, no source; bridging: one project's stud
// specification, mid-height to 10 ft.
func Defaults(sys measure.System) Settings {
	s := Settings{
		ScrewBox: 1000, FramingBox: 1000, TapeWaste: 10,
		JambMil: map[int]int{15: 33, 18: 33, 27: 33, 30: 33, 33: 43, 43: 54, 54: 68, 68: 97, 97: 97},
	}
	if sys == measure.Metric {
		m := measure.Millimetre
		s.StudStock = []Length{2400 * m, 2700 * m, 3000 * m, 3600 * m, 4200 * m, 4800 * m, 6000 * m}
		s.TrackStock, s.BeadStock = 3000*m, []Length{2400 * m, 3000 * m}
		s.TapeRoll, s.PailLitres, s.Cartridge, s.Bead = 150*measure.Metre, 17, 600, 6*m
		s.Kickers, s.PlateEvery, s.BridgeEvery, s.LiftReach = 1200*m, 600*m, 3000*m, 1500*m
		return s
	}
	ft := measure.Foot
	s.StudStock = []Length{8 * ft, 10 * ft, 12 * ft, 14 * ft, 16 * ft, 20 * ft}
	s.TrackStock, s.BeadStock = 10*ft, []Length{8 * ft, 10 * ft}
	s.TapeRoll, s.PailLitres, s.Cartridge, s.Bead = 500*ft, 4.5*litresPerGallon, 29*millilitresPerOunce, measure.Inch/4
	s.Kickers, s.PlateEvery, s.BridgeEvery, s.LiftReach = 4*ft, 2*ft, 10*ft, 5*ft
	return s
}

// Exact: US gallon of 231 in³, fluid ounce of 1/128 gallon.
const (
	litresPerGallon      = 3.785411784
	millilitresPerOunce  = 29.5735295625
	metresPerFoot        = 0.3048
	squareMetresPerSqFt  = metresPerFoot * metresPerFoot
	litresPerCubicInch   = 0.016387064
	cubicMillimetresPerL = 1e6
)

// jambMil is the steel of doubled jambs: the next heavier, at least 33 mil.
// Source: common practice, no source.
func (s *Settings) jambMil(mil int) int {
	if m, ok := s.JambMil[mil]; ok {
		return m
	}
	return mil
}
