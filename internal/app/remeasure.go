package app

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"boardrun/internal/measure"
	"boardrun/internal/report"
	"boardrun/internal/run"
	"boardrun/internal/write"
)

type remeasureOptions struct {
	job, site, dir, from, effort string
}

func remeasureCommand(e *env) *cobra.Command {
	var o remeasureOptions
	c := &cobra.Command{
		Use:   "remeasure JOB [SITE.xlsx] -o DIR --from OLD.json",
		Short: "Heights measured on site in, new tops list out",
		Long: `Without SITE.xlsx: write DIR/site.xlsx, a sheet to print or fill in on site, from the
takeoff OLD.json: left and right of each top, first studs, rough openings, what of each
side is tacked, screwed and taped, sheets on hand.

With it, filled in: cut the tops that are not hung yet to what was measured, lay out anew
the walls of which nothing is hung and whose first stud or openings stand elsewhere, and
say what sheets must be ordered more. What is hung stays, and the sheets it came from with
it. DIR gets remeasure.xlsx (order more, new tops, progress), tops.html and takeoff.json
with every measured value under overrides.

Exit status: 0 done; 1 failed, nothing written; 2 wrong usage; 3 done, with exceptions that
need a person.`,
		Example: `  boardrun remeasure job.yaml -o site --from out/takeoff.json
  boardrun remeasure job.yaml site/site.xlsx -o again --from out/takeoff.json`,
		Args: args(cobra.RangeArgs(1, 2)),
		RunE: func(c *cobra.Command, a []string) error {
			o.job = a[0]
			if len(a) > 1 {
				o.site = a[1]
			}
			return runRemeasure(c.Context(), e, o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.dir, "out", "o", "", "folder to write into (made if missing)")
	f.StringVar(&o.from, "from", "", "takeoff.json of the takeoff that was hung from")
	f.StringVar(&o.effort, "effort", "best", "quick or best, as that takeoff was made")
	return c
}

func runRemeasure(ctx context.Context, e *env, o remeasureOptions) error {
	switch {
	case o.dir == "":
		return usagef("say where to write: -o DIR")
	case o.from == "":
		return usagef("say which takeoff was hung from: --from OLD.json")
	case o.effort != "quick" && o.effort != "best":
		return usagef("--effort %q: say quick or best", o.effort)
	}
	was, err := earlier(o.from)
	if err != nil {
		return err
	}
	p := &pipeline{effort: o.effort, out: e.err}
	j, pl, err := p.read(ctx, o.job)
	if err != nil {
		return err
	}
	p.inputs = append(p.inputs, o.from)
	if o.site == "" {
		return writeFiles(o.dir, write.SiteNames, p.inputs, func(f *write.Folder) error {
			return f.Write("site.xlsx", func(w io.Writer) error { return write.SiteXLSX(w, was, report.Millimetres(j.Rules.DeckGap)) })
		})
	}
	p.inputs = append(p.inputs, o.site)
	set, err := run.BuildFrom(pl, j, oldRuns(was))
	if err != nil {
		return fmt.Errorf("%s: %w", o.job, err)
	}
	m := &remeasure{changes: newChanges(o.site, j, set, nil), was: was, hung: map[string]bool{}, screwed: map[string]bool{}, taped: map[string]bool{}, again: map[string]bool{}}
	if err := m.read(); err != nil {
		return err
	}
	if len(m.again) > 0 {
		if set, err = run.BuildFrom(pl, m.job, oldRuns(was)); err != nil {
			return fmt.Errorf("%s: %w", o.job, err)
		}
	}
	choices, err := p.layouts(ctx, m.job, set)
	if err != nil {
		return err
	}
	layouts := hungAs(choices, was)
	if err := m.same(layouts); err != nil {
		return err
	}
	t, site, err := m.assemble(p, pl, set, layouts)
	if err != nil {
		return err
	}
	err = writeFiles(o.dir, write.TakeoffNames, p.inputs, func(f *write.Folder) error {
		for _, w := range []struct {
			name string
			fill func(io.Writer) error
		}{
			{"remeasure.xlsx", func(w io.Writer) error { return write.RemeasureXLSX(w, t, site) }},
			{"takeoff.json", func(w io.Writer) error { return write.JSON(w, t) }},
			{"tops.html", func(w io.Writer) error { return write.Tops(w, t) }},
		} {
			if err := f.Write(w.name, w.fill); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	more := 0
	for _, s := range site.Stock {
		more += s.More
	}
	fmt.Fprintf(e.err, "%s: %d values measured, %d tops to cut anew, %d sheets to order more; written to %s\n", o.job, len(m.overrides), len(site.Tops), more, o.dir)
	persons := 0
	for i := range t.Exceptions {
		if t.Exceptions[i].Severity == "person" {
			fmt.Fprintln(e.err, t.Exceptions[i].Line)
			persons++
		}
	}
	if persons > 0 {
		return exitError{Exceptions}
	}
	return nil
}

// writeFiles renews the files of one kind in dir.
func writeFiles(dir string, names, inputs []string, fill func(*write.Folder) error) error {
	if err := sparesInputs(dir, names, inputs); err != nil {
		return err
	}
	f, err := write.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := fill(f); err != nil {
		return err
	}
	return f.Commit()
}

// remeasure carries one site sheet into the takeoff.
type remeasure struct {
	*changes
	was     *report.Takeoff
	hung    map[string]bool // pieces tacked, by id
	screwed map[string]bool
	taped   map[string]bool              // faces
	tops    map[string][2]measure.Length // measured less planned, by piece
	stock   map[string][2]int            // bought, left (−1: not counted), by sheet
	hours   []report.SiteHour            // of the crew
	again   map[string]bool              // walls laid out anew
}
