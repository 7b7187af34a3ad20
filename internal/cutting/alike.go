package cutting

import (
	"fmt"

	"boardrun/internal/measure"
)

// alike puts shapes of one blank and one set of wishes together: where the board
// inside notches is thrown away they are cut alike, whatever is notched out
// after. Those that stay uncut stay apart.
func alike(shapes []*shape) []*shape {
	at := map[string]int{}
	var out []*shape
	for _, s := range shapes {
		if s.uncut {
			out = append(out, s)
			continue
		}
		key := fmt.Sprint(s.blank, s.left, s.right, s.bottom, s.top, s.turn)
		i, ok := at[key]
		if !ok {
			at[key] = len(out)
			c := *s
			c.outline, c.pocket = s.blank, nil
			out = append(out, &c)
			continue
		}
		out[i].copies = append(out[i].copies[:len(out[i].copies):len(out[i].copies)], s.copies...)
	}
	return out
}

// takeAlone gives every piece that can share a sheet with no other left the
// cheapest sheet it fits: no cutting does better by it. Sheets must be of one
// width, and no piece may come out of another's notch.
func takeAlone(shapes []*shape, left []int, stock []Stock) []planned {
	if stock[0].Width != stock[len(stock)-1].Width {
		return nil
	}
	width, length := stock[0].Width, stock[len(stock)-1].Length
	vars := make([][]variant, len(shapes))
	for i, s := range shapes {
		if left[i] == 0 {
			continue
		}
		for _, v := range s.variants(i) {
			if v.fits(width, length) {
				v.w, v.h = s.surely(v)
				vars[i] = append(vars[i], v)
			}
		}
	}
	// Two upright rectangles that are apart lie beside each other or one above the other.
	shares := func(i, j int) bool {
		for _, v := range vars[i] {
			for _, u := range vars[j] {
				if v.h+u.h <= length || v.w+u.w <= width && v.need+u.need <= 2 {
					return true
				}
			}
		}
		return false
	}
	var alone []planned
	for i := range shapes {
		if left[i] == 0 || left[i] > 1 && shares(i, i) {
			continue
		}
		free := true
		for j := range shapes {
			free = free && (j == i || left[j] == 0 || !shares(i, j))
		}
		if free {
			alone = append(alone, planned{cheapest(shapes[i], i, stock), left[i]})
		}
	}
	for _, c := range alone {
		c.u.take(left, c.times)
	}
	return alone
}

// cheapest returns the cheapest sheet shape i fits on.
func cheapest(s *shape, i int, stock []Stock) candidate {
	var best candidate
	for k, st := range stock {
		for _, v := range s.variants(i) {
			if v.fits(st.Width, st.Length) && (best.b == nil || st.Cost < stock[best.stock].Cost) {
				b := singleBlock(v)
				best = candidate{stock: k, b: b, u: b.u}
			}
		}
	}
	return best
}

// surely returns the sides of an upright rectangle that a shape lying as v takes
// of its sheet.
func (s *shape) surely(v variant) (w, h measure.Length) {
	switch {
	case isRect(s.blank):
		return v.w, v.h
	case s.sloped && v.quarter:
		return min(s.l, s.r), v.h
	case s.sloped:
		return v.w, min(s.l, s.r)
	}
	return 0, 0
}
