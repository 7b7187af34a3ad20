package cutting

import (
	"encoding/binary"
	"fmt"
	"math/bits"

	"boardrun/internal/measure"
)

// Total is an area of any size: a sum of measure.Area, which by itself ends at
// 144,000 m². It is exact; the zero value is none.
type Total struct {
	hi int64
	lo uint64
}

// Plus returns t + a.
func (t Total) Plus(a measure.Area) Total { return t.Add(Total{int64(a) >> 63, uint64(a)}) }

// Add returns t + u.
func (t Total) Add(u Total) Total {
	lo, carry := bits.Add64(t.lo, u.lo, 0)
	return Total{t.hi + u.hi + int64(carry), lo}
}

// Minus returns t − u.
func (t Total) Minus(u Total) Total {
	lo, borrow := bits.Sub64(t.lo, u.lo, 0)
	return Total{t.hi - u.hi - int64(borrow), lo}
}

// Less reports whether t is smaller than u.
func (t Total) Less(u Total) bool { return t.hi < u.hi || t.hi == u.hi && t.lo < u.lo }

// M2 returns t in square metres.
func (t Total) M2() float64 {
	return float64(t.hi)*float64(measure.Area(1<<62).M2())*4 + float64(t.lo>>2)*measure.Area(4).M2() + measure.Area(t.lo&3).M2()
}

// times returns n areas of a.
func times(a measure.Area, n int64) Total {
	hi, lo := bits.Mul64(uint64(a), uint64(n))
	return Total{int64(hi), lo}
}

// areaUnit is what sheets compared by area cost per 1/100 mm²: sums of such
// costs stay far from the end of an int64.
const areaUnit = 800 * 800

// GobEncode and GobDecode let a cut list be kept between runs.
func (t Total) GobEncode() ([]byte, error) {
	return binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(nil, uint64(t.hi)), t.lo), nil
}

// GobDecode reads what GobEncode wrote.
func (t *Total) GobDecode(b []byte) error {
	if len(b) != 16 {
		return fmt.Errorf("a total of %d bytes", len(b))
	}
	t.hi, t.lo = int64(binary.BigEndian.Uint64(b)), binary.BigEndian.Uint64(b[8:])
	return nil
}
