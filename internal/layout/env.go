package layout

import (
	"boardrun/internal/job"
	"boardrun/internal/rules"
)

// Effort limits the work. Work is limited by counts, never by the clock.
type Effort uint8

// Quick looks at the layouts that matter on bid day; Best looks at all.
const (
	Quick Effort = iota
	Best
)

// Env is what a layout is found under.
type Env struct {
	Rules  *rules.Set
	Boards func(name string) *job.Board
	Prices *job.Prices
	Effort Effort
	// Most is how many layouts are wanted, at most 16; 0 = 6 for Quick, 16 for Best.
	Most int
	// First asks for the best layout alone: the others are weighed, told of in its
	// reasons, and not built.
	First bool

	whole bool // nothing is left out that cannot be among the best, nothing known is used again: what tests compare with
}

func (e Env) most() int {
	switch {
	case e.Most > 0:
		return min(e.Most, 16)
	case e.Effort == Quick:
		return 6
	}
	return 16
}
