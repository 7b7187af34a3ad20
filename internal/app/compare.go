package app

import (
	"context"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

type compareOptions struct {
	job, dir, effort string
}

// asItStands is the name of the job without any alternative.
const asItStands = "as it stands"

func compareCommand(e *env) *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use:   "compare JOB -o DIR",
		Short: "A job's alternatives side by side",
		Long: `Take the job off as it stands and under each of its alternatives, and put them side by
side: board bought, waste, joints by kind, studs, screws, weight, money, and the walls that
make the difference. An alternative is a name and the keys of the job file it changes:

  alternatives:
    - name: wide sheets
      changes: {stock: {5/8 type X: {sheets: {54in: [8ft, 10ft, 12ft]}}}}
    - name: offcuts travel the storey
      changes: {offcuts: storey}

A table goes to stdout; DIR gets compare.xlsx with charts and compare.json.

Exit status: 0 done; 1 failed, nothing written; 2 wrong usage; 3 done, with exceptions that
need a person.`,
		Example: `  boardrun compare samples/vet-clinic/job.yaml -o out`,
		Args:    args(cobra.ExactArgs(1)),
		RunE: func(c *cobra.Command, a []string) error {
			o.job = a[0]
			return runCompare(c.Context(), e, o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.dir, "out", "o", "", "folder to write into (made if missing)")
	f.StringVar(&o.effort, "effort", "best", "quick or best")
	return c
}

func runCompare(ctx context.Context, e *env, o compareOptions) error {
	switch {
	case o.dir == "":
		return usagef("say where to write: -o DIR")
	case o.effort != "quick" && o.effort != "best":
		return usagef("--effort %q: say quick or best", o.effort)
	}
	p := &pipeline{effort: o.effort, out: e.err}
	j, pl, err := p.read(ctx, o.job)
	if err != nil {
		return err
	}
	if len(j.Alternatives) == 0 {
		return fmt.Errorf("%s: names no alternatives to compare; add them under alternatives: (see boardrun compare --help)", o.job)
	}
	options, err := p.options(ctx, j, pl)
	if err != nil {
		return fmt.Errorf("%s: %w", o.job, err)
	}
	c := report.Compare(options)
	if err := sparesInputs(o.dir, write.CompareNames, p.inputs); err != nil {
		return err
	}
	f, err := write.Open(o.dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Write("compare.xlsx", func(w io.Writer) error { return write.CompareXLSX(w, c) }); err != nil {
		return err
	}
	if err := f.Write("compare.json", func(w io.Writer) error { return write.CompareJSON(w, c) }); err != nil {
		return err
	}
	if err := f.Commit(); err != nil {
		return err
	}
	if _, err := io.WriteString(e.out, alignedTable(report.CompareText(c))); err != nil {
		return err
	}
	for _, a := range c.Alternatives {
		if a.Person > 0 {
			fmt.Fprintf(e.err, "%s: %s: %d exceptions need a person; take it off alone to see them\n", o.job, a.Name, a.Person)
		}
	}
	for _, a := range c.Alternatives {
		if a.Person > 0 {
			return exitError{Exceptions}
		}
	}
	return nil
}

// alignedTable sets lines in columns: words left in the first two, numbers right in the rest.
func alignedTable(rows [][]string) string {
	var widths []int
	for _, r := range rows {
		for i, c := range r {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	var b strings.Builder
	for _, r := range rows {
		var line strings.Builder
		for i, c := range r {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c))
			if i < 2 {
				line.WriteString(c + pad + "  ")
			} else {
				line.WriteString(pad + c + "  ")
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

// options takes off the job as it stands and each alternative. Marks are those
// of the job as it stands, so that walls can be told apart by them.
func (p *pipeline) options(ctx context.Context, j *job.Job, pl *plan.Plan) ([]report.Option, error) {
	base, err := p.assemble(ctx, j, pl, nil)
	if err != nil {
		return nil, err
	}
	marks := oldRuns(base)
	out := []report.Option{{Name: asItStands, T: base}}
	for i := range j.Alternatives {
		a := &j.Alternatives[i]
		t, err := p.assemble(ctx, a.Job, pl, marks)
		if err != nil {
			return nil, fmt.Errorf("alternative %q: %w", a.Name, err)
		}
		out = append(out, report.Option{Name: a.Name, Changes: a.Changes, T: t})
	}
	return out, nil
}
