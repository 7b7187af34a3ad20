package rules

import "strings"

// Nearest returns the known word nearest to word, whatever the case: at most a
// third of its letters changed, left out, added or swapped with their
// neighbour; "" if none is that near. The first of equals wins.
func Nearest(word string, known []string) string {
	best, least := "", len([]rune(word))/3+1
	word = strings.ToLower(word)
	for _, k := range known {
		if d := distance(word, strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance is the optimal string alignment distance. Words beyond 64 letters
// count as wholly different, which bounds the work on hostile input.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 64 || len(y) > 64 {
		return max(len(x), len(y))
	}
	var d [65][65]int // d[i][j]: from the first i letters of a to the first j of b
	for i := range x {
		d[i+1][0] = i + 1
	}
	for j := range y {
		d[0][j+1] = j + 1
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(x)][len(y)]
}
