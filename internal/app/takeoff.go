package app

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"boardrun/internal/check"
	"boardrun/internal/job"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// takeoffOptions are the words of one takeoff command.
type takeoffOptions struct {
	jobs   []string
	dir    string
	effort string
	only   []string
	from   string
	edits  string
	cache  string
	verify bool
}

func takeoffCommand(e *env) *cobra.Command {
	var o takeoffOptions
	c := &cobra.Command{
		Use:   "takeoff JOB... -o DIR",
		Short: "Take off a job: workbook, JSON, drawings",
		Long: `Read the drawings a job file names, find the walls, lay out the board on every side and
write the takeoff into DIR: takeoff.xlsx, takeoff.json and the drawings. Several jobs, or a
folder of job files (*.yaml in it, job.yaml in the folders of it), are taken off at once
and go into DIR/<job>, each whole or not at all, with one order for all, DIR/orders.xlsx. --only svg writes sides.zip, a picture of each
side in SVG; it is not among the files written when nothing is asked for.

Exit status: 0 done; 1 failed, nothing written for that job; 2 wrong usage; 3 done, with
exceptions that need a person.`,
		Example: `  boardrun takeoff samples/vet-clinic/job.yaml -o out
  boardrun takeoff jobs -o bids                                a folder of jobs
  boardrun takeoff jobs/*.yaml -o bids --effort quick --only xlsx,json
  boardrun takeoff job.yaml -o out --from out/takeoff.json     keep the marks of an earlier takeoff
  boardrun takeoff job.yaml -o out2 --edits out/takeoff.xlsx   with the changes made in its sheet Edits`,
		Args: args(cobra.MinimumNArgs(1)),
		RunE: func(c *cobra.Command, a []string) error {
			o.jobs = a
			return runTakeoff(c.Context(), e, o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.dir, "out", "o", "", "folder to write into (made if missing)")
	f.StringVar(&o.effort, "effort", "best", "quick or best")
	f.StringSliceVar(&o.only, "only", nil, "write only these: "+strings.Join(outputWords(), ", "))
	f.StringVar(&o.from, "from", "", "takeoff.json of an earlier takeoff whose marks are kept")
	f.StringVar(&o.edits, "edits", "", "takeoff.xlsx with cells of its sheet Edits changed")
	f.StringVar(&o.cache, "cache", "", "folder to keep layouts and cut lists in for the next run (made if missing; safe to delete; nothing is kept without it)")
	f.BoolVar(&o.verify, "verify", false, "judge the result by an independent check; objections fail the job")
	return c
}

// output is one file a takeoff writes.
type output struct {
	word, name string
	write      func(io.Writer, *report.Takeoff) error
	asked      bool // written only where --only names it
}

func outputs() []output {
	return []output{
		{"xlsx", "takeoff.xlsx", write.XLSX, false},
		{"json", "takeoff.json", write.JSON, false},
		{"html", "review.html", write.HTML, false},
		{"pdf", "walls.pdf", write.PDF, false},
		{"scope", "scope.pdf", write.Scope, false},
		{"tops", "tops.html", write.Tops, false},
		{"plan", "plan.dxf", write.PlanDXF, false},
		{"walls", "walls.dxf", write.WallsDXF, false},
		{"svg", "sides.zip", write.Sides, true},
	}
}

func outputWords() []string {
	var w []string
	for _, o := range outputs() {
		if !slices.Contains(w, o.word) {
			w = append(w, o.word)
		}
	}
	return w
}

func (o *takeoffOptions) check() error {
	if o.dir == "" {
		return usagef("say where to write: -o DIR")
	}
	if o.effort != "quick" && o.effort != "best" {
		return usagef("--effort %q: say quick or best", o.effort)
	}
	for _, w := range o.only {
		if !slices.Contains(outputWords(), w) {
			return usagef("--only %q: say some of %s", w, strings.Join(outputWords(), ", "))
		}
	}
	if len(o.jobs) > 1 && (o.from != "" || o.edits != "") {
		return usagef("--from and --edits go with one job")
	}
	return nil
}

// runTakeoff takes off each job. One failed job does not stop the others: the
// status is 1 if any failed, else 3 if any has exceptions that need a person.
func runTakeoff(ctx context.Context, e *env, o takeoffOptions) error {
	if o.dir == "" {
		return usagef("say where to write: -o DIR")
	}
	files, err := jobFiles(o.jobs)
	if err != nil {
		return err
	}
	o.jobs = files
	if err := o.check(); err != nil {
		return err
	}
	if err := sameJobTwice(o.jobs); err != nil {
		return err
	}
	if len(o.jobs) > 1 {
		return runBatch(ctx, e, o)
	}
	j, err := job.Read(o.jobs[0])
	if err != nil {
		return err
	}
	_, st, err := takeoffOne(ctx, e, o, j, false)
	switch {
	case err != nil:
		return err
	case st != Done:
		return exitError{st}
	}
	return nil
}

// takeoffOne takes one job off and writes it: into DIR, or as one of several
// into DIR/<job>.
func takeoffOne(ctx context.Context, e *env, o takeoffOptions, j *job.Job, several bool) (*report.Takeoff, int, error) {
	p := &pipeline{effort: o.effort, from: o.from, edits: o.edits, out: e.err}
	if o.cache != "" {
		p.store = &store{o.cache}
	}
	t, err := p.take(ctx, j)
	if err != nil {
		return nil, Failed, err
	}
	if o.verify {
		if obj := check.Takeoff(t, limits(t)); len(obj) > 0 {
			var many manyErrors
			for _, b := range obj {
				many = append(many, fmt.Errorf("%s: the check objects: %s", j.File, b))
			}
			return nil, Failed, many
		}
	}
	dir := o.dir
	if several {
		dir = filepath.Join(o.dir, t.Job.Name)
	}
	if err := sparesInputs(dir, write.TakeoffNames, p.inputs); err != nil {
		return nil, Failed, err
	}
	if err := writeAll(ctx, dir, o.only, t); err != nil {
		return nil, Failed, err
	}
	return t, summary(e.err, j.File, dir, t), nil
}

func limits(t *report.Takeoff) check.Limits {
	if t.Job.System == "metric" {
		return check.MetricLimits
	}
	return check.InchLimits
}

func writeAll(ctx context.Context, dir string, only []string, t *report.Takeoff) error {
	f, err := write.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, out := range outputs() {
		if len(only) == 0 && out.asked || len(only) > 0 && !slices.Contains(only, out.word) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := f.Write(out.name, func(w io.Writer) error { return out.write(w, t) }); err != nil {
			return err
		}
	}
	return f.Commit()
}

// summary tells in a few lines what was done and what needs a person, and
// returns the status.
func summary(w io.Writer, path, dir string, t *report.Takeoff) int {
	n := map[string]int{}
	for _, e := range t.Exceptions {
		n[e.Severity]++
	}
	fmt.Fprintf(w, "%s: %d walls, %d sides boarded, %d sheets; written to %s\n", path, len(t.Runs), boarded(t), len(t.Sheets), dir)
	shown := 0
	for _, e := range t.Exceptions {
		if e.Severity == "person" && shown < 10 {
			fmt.Fprintln(w, e.Line)
			shown++
		}
	}
	if rest := n["person"] - shown; rest > 0 {
		fmt.Fprintf(w, "and %d more that need a person: see the sheet Exceptions\n", rest)
	}
	if a := len(t.Job.Assumptions); a > 0 {
		inputs := "inputs were"
		if a == 1 {
			inputs = "input was"
		}
		fmt.Fprintf(w, "%d %s assumed: see the sheet Assumptions\n", a, inputs)
	}
	if n["person"] > 0 {
		return Exceptions
	}
	return Done
}

func boarded(t *report.Takeoff) int {
	n := 0
	for i := range t.Faces {
		if t.Faces[i].Boarded {
			n++
		}
	}
	return n
}
