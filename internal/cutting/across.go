package cutting

import "boardrun/internal/measure"

// side is something that may lie beside others across a sheet, once.
type side struct {
	w     measure.Length
	need  int // tapered edges it takes
	value float64
}

// across is the dynamic programme that lays sides beside each other: for every
// number of tapered edges taken and every bucket of width the most valuable set.
// Like the shelf it is exact where widths are multiples of the bucket, else
// nearly so; what it returns always fits.
type across struct {
	width measure.Length
	val   []float64
	wide  []measure.Length
	sides int
	from  [][]int32 // per side and state: state before + 1, 0 = not taken
	last  []lastSide
}

// lastSide is the most valuable set that ends with a side, given the sides
// before it.
type lastSide struct {
	value float64
	state int32 // before the side
}

// widthCells is how many widths are told apart.
const widthCells = 512

// reset prepares a for a sheet, keeping its memory.
func (a *across) reset(width measure.Length) {
	a.width, a.sides, a.last = width, 0, a.last[:0]
	if a.val == nil {
		n := (barEdges + 1) * (widthCells + 1)
		a.val, a.wide = make([]float64, n), make([]measure.Length, n)
	}
	for i := range a.val {
		a.val[i] = -1
	}
	a.val[0], a.wide[0] = 0, 0
}

// put offers the next side.
func (a *across) put(s side) {
	if a.sides == len(a.from) {
		a.from = append(a.from, make([]int32, len(a.val)))
	}
	row := a.from[a.sides]
	clear(row)
	a.sides++
	last := lastSide{value: -1}
	for e := barEdges - s.need; e >= 0; e-- {
		base := e * (widthCells + 1)
		for k := widthCells; k >= 0; k-- {
			i := base + k
			w := a.wide[i] + s.w
			if a.val[i] < 0 || w > a.width {
				continue
			}
			v := a.val[i] + s.value
			if v > last.value {
				last = lastSide{v, int32(i)}
			}
			to := (e+s.need)*(widthCells+1) + int(w*widthCells/a.width)
			if v > a.val[to]+1e-12 || v >= a.val[to]-1e-12 && w < a.wide[to] {
				a.val[to], a.wide[to] = v, w
				row[to] = int32(i) + 1
			}
		}
	}
	a.last = append(a.last, last)
}

// set returns the sides of the most valuable set that ends with side n, n first.
func (a *across) set(n int) []int {
	out := []int{n}
	at := a.last[n].state
	for k := n - 1; k >= 0; k-- {
		if f := a.from[k][at]; f != 0 {
			out = append(out, k)
			at = f - 1
		}
	}
	return out
}
