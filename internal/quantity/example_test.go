package quantity_test

import (
	"fmt"

	"boardrun/internal/measure"
	"boardrun/internal/quantity"
)

// The screws of a 4x10 sheet in a 10 ft wall at 16 in studs: two edge lines,
// two field lines and the track row.
func ExampleCount() {
	in := measure.Inch
	top := 118*in + 3*in/4 - 9*in/4 // the board's top less what hangs at the slip track
	edge := quantity.Count(12*in, 12*in, top)
	field := quantity.Count(16*in, 16*in, top)
	track := quantity.TrackCount(48*in, 16*in, false)
	fmt.Println(edge, field, track, 2*edge+2*field+track)
	// Output: 10 8 4 40
}
