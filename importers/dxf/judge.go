package dxf

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/importers/linework"
)

// Judgement says what the coordinates of a drawing can be taken for. The header
// is one witness among several: it is often left at what the program starts
// with.
type Judgement struct {
	Header     Unit        // "none" where the header says nothing
	Candidates []Candidate // best first
}

// Candidate is one unit, what speaks for it and against it.
type Candidate struct {
	Unit     Unit
	Score    float64
	Evidence []string // sentences, those that weigh most first
}

// A candidate is taken without asking if it leads the second by sureLead and has
// at least sureScore: more than the size of the drawing alone can give.
// Source: own choice, tried on the drawings of the tests.
const (
	sureLead  = 1.0
	sureScore = 2.4
)

// Best returns the first candidate.
func (j Judgement) Best() Candidate { return j.Candidates[0] }

// Sure tells that one unit leads clearly.
func (j Judgement) Sure() bool {
	return j.Candidates[0].Score-j.Candidates[1].Score >= sureLead && j.Candidates[0].Score >= sureScore
}

// Contradicts tells that the drawing is surely in another unit than the header
// says.
func (j Judgement) Contradicts() bool {
	return j.Sure() && j.Header.MM > 0 && j.Best().Unit.Code != j.Header.Code
}

// candidates are the units plans are drawn in, by $INSUNITS.
var candidates = []int{1, 2, 4, 5, 6}

// JudgeUnit weighs what speaks for each unit: how dimension texts read against
// what they measure, how wide door swings are, how thick walls, how high
// letters, how large the whole, and what the header says. The drawing may be in
// its own units or scaled already; its order does not matter. A drawing with
// nothing to judge by gets its header's unit first, or millimetres, and is not
// sure.
func JudgeUnit(d *linework.Drawing) Judgement {
	header := UnitOf(d.InsUnits)
	codes := candidates
	if header.MM > 0 && !slices.Contains(codes, header.Code) {
		codes = append(slices.Clone(codes), header.Code)
	}
	witnesses := hear(d)
	j := Judgement{Header: header}
	for _, code := range codes {
		j.Candidates = append(j.Candidates, weigh(UnitOf(code), witnesses))
	}
	slices.SortStableFunc(j.Candidates, func(a, b Candidate) int {
		if c := cmp.Compare(b.Score, a.Score); c != 0 {
			return c
		}
		return cmp.Compare(rank(a.Unit, header), rank(b.Unit, header))
	})
	return j
}

// rank orders units that are equally likely: the header's, then by how common.
func rank(u, header Unit) int {
	if u.Code == header.Code {
		return -1
	}
	return slices.Index([]int{4, 1, 6, 5, 2}, u.Code)
}

// witness weighs a unit: a number for it or against it, and a sentence if it has
// something to say.
type witness func(Unit) (weight float64, sentence string)

func weigh(u Unit, witnesses []witness) Candidate {
	type said struct {
		weight   float64
		sentence string
	}
	c := Candidate{Unit: u}
	var all []said
	for _, w := range witnesses {
		weight, sentence := w(u)
		c.Score += weight
		if sentence != "" && weight != 0 {
			all = append(all, said{weight, sentence})
		}
	}
	slices.SortStableFunc(all, func(a, b said) int { return cmp.Compare(abs(b.weight), abs(a.weight)) })
	for _, s := range all {
		side := "for"
		if s.weight < 0 {
			side = "against"
		}
		c.Evidence = append(c.Evidence, fmt.Sprintf("%s %s: %s", side, u.Name, s.sentence))
	}
	return c
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
