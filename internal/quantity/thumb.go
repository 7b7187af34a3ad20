package quantity

// The rule of thumb is how a wall is estimated without a layout. It stands
// beside the layout's numbers as a check, never in their place.
// Source: Dagostino and Peterson, Estimating in Building Construction, pp. 157,
// 199, 202, 203: studs = spaces + 1, then 3 per opening, 2 per intersection, 2
// per corner; waste 5 % on studs and board, 8 % on track, 10 % on tape.

const (
	studWaste  = 5
	trackWaste = 8
	boardWaste = 5
)

// Studs returns spaces + 1 for a length of wall: whole spaces, the last one
// short.
func Studs(length, spacing Length) int { return length.CeilDiv(spacing) + 1 }

// ExtraStuds adds 3 studs per opening and 2 per intersection and per corner.
func ExtraStuds(studs, openings, intersections, corners int) int {
	return studs + 3*openings + 2*intersections + 2*corners
}

// WithWaste returns n and percent of it, rounded up to whole pieces.
func WithWaste(n, percent int) int { return ceilDiv(n*(100+percent), 100) }

// TrackPieces returns how many lengths of stock give top and bottom track of a
// wall with percent waste.
func TrackPieces(wall, stock Length, percent int) int {
	return int(ceilDiv(int64(2*wall)*int64(100+percent), int64(stock)*100))
}

// SheetsByArea returns how many sheets cover faces × length × height, openings
// not taken off.
func SheetsByArea(length, height Length, faces int, width, sheet Length) int {
	// In 1/1000 of a unit² the products of real walls stay below 2^63 only when
	// taken in steps of 1/64 in; lengths are therefore reduced first.
	const step = 3175
	num := int64(length/step) * int64(height/step) * int64(faces)
	return int(ceilDiv(num, int64(width/step)*int64(sheet/step)))
}

// SheetsByWidth returns how many full-height sheets stand along one face.
func SheetsByWidth(length, width Length) int { return length.CeilDiv(width) }

// ByRate returns quantity × rate per 1000, exactly where it is whole.
func ByRate(quantity, rate int) float64 { return float64(quantity) * float64(rate) / 1000 }

// NotDeducted is the area below which an opening is not taken off a wall's
// area by the rule of thumb: 32 sf. The layout cuts the hole all the same.
// Source: construction course notes, percentages; estimating advice: the board
// of a cut-out is scrap.
const NotDeducted = 32

// Deducted returns what the rule of thumb takes off an area for an opening.
func Deducted(width, height Length) float64 {
	if sf := width.Feet() * height.Feet(); sf >= NotDeducted {
		return sf
	}
	return 0
}

func ceilDiv[T int | int64](a, b T) T {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}
