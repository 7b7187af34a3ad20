package report

import (
	"boardrun/internal/job"
	"boardrun/internal/measure"
)

// heightText says how high a side goes, as the trade says it.
func heightText(h job.HeightRule, j *job.Job) string {
	switch h.Kind {
	case job.ToDeck:
		return "to deck"
	case job.AboveCeiling:
		return "to ceiling + " + measure.Human(h.Value, j.System)
	case job.ToCeiling:
		return "to ceiling"
	}
	return measure.Human(h.Value, j.System)
}
