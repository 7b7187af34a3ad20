package app

import (
	"encoding/json"
	"fmt"
	"os"

	"boardrun/internal/geom"
	"boardrun/internal/report"
	"boardrun/internal/run"
)

// earlier reads an earlier takeoff.json, whose marks a new takeoff keeps. An
// empty path gives none.
func earlier(path string) (*report.Takeoff, error) {
	if path == "" {
		return nil, nil
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("%s: can't be read: %w", path, err)
	}
	var t report.Takeoff
	if err := json.Unmarshal(b, &t); err != nil {
		return nil, fmt.Errorf("%s: is not a takeoff.json: %w", path, err)
	}
	if t.Schema != report.Schema {
		return nil, fmt.Errorf("%s: is of schema %d, this boardrun reads %d; take the job off anew without --from", path, t.Schema, report.Schema)
	}
	return &t, nil
}

// oldRuns are the runs of a takeoff as the next one keeps their marks.
func oldRuns(t *report.Takeoff) []run.OldRun {
	if t == nil {
		return nil
	}
	out := make([]run.OldRun, 0, len(t.Runs))
	for i := range t.Runs {
		r := &t.Runs[i]
		o := run.OldRun{ID: r.ID, Storey: r.Storey, Type: r.Type, Was: r.Was}
		for _, p := range r.AxisMM {
			o.Axis = append(o.Axis, geom.Pt{X: p[0].Length(), Y: p[1].Length()})
		}
		for _, s := range r.Source {
			if s.GUID != "" {
				o.Refs = append(o.Refs, s.GUID)
			} else if s.Ref != "" {
				o.Refs = append(o.Refs, s.Ref)
			}
		}
		out = append(out, o)
	}
	return out
}
