package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sort"
	"strings"

	"boardrun/internal/job"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// jobFiles turns the arguments of takeoff into job files: a folder stands for
// the job files in it, and for those named job.yaml one folder further down.
func jobFiles(args []string) ([]string, error) {
	var out []string
	for _, a := range args {
		info, err := os.Stat(a)
		if err != nil || !info.IsDir() {
			out = append(out, a) // what is no file is told when it is read
			continue
		}
		var found []string
		for _, pattern := range []string{"*.yaml", "*.yml", filepath.Join("*", "job.yaml"), filepath.Join("*", "job.yml")} {
			list, err := filepath.Glob(filepath.Join(escapeGlob(a), pattern))
			if err != nil {
				return nil, fmt.Errorf("%s: can't be searched for job files: %w", a, err)
			}
			found = append(found, list...)
		}
		if len(found) == 0 {
			return nil, fmt.Errorf("%s: has no job files: neither *.yaml in it nor job.yaml in the folders of it", a)
		}
		sort.Strings(found)
		out = append(out, found...)
	}
	return out, nil
}

// escapeGlob makes a path of a pattern that matches it alone.
func escapeGlob(path string) string {
	if runtime.GOOS == "windows" { // no escapes there; brackets in a folder's name stay a pattern
		return path
	}
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`).Replace(path)
}

// batchResult is what became of one job.
type batchResult struct {
	job     *job.Job
	status  int
	err     error
	said    bytes.Buffer // what it printed, kept together
	ordered report.OrderOf
	done    chan struct{}
}

// runBatch takes several jobs off at once, as many as there are cores, each
// into DIR/<job>. What a job has to say is printed as one piece, in the order
// of the jobs, whatever finishes first; failures once more at the end.
func runBatch(ctx context.Context, e *env, o takeoffOptions) error {
	results := make([]batchResult, len(o.jobs))
	first := map[string]string{}
	for i, path := range o.jobs {
		r := &results[i]
		r.done = make(chan struct{})
		if r.job, r.err = job.Read(path); r.err != nil {
			continue
		}
		// Folders of names that differ in case alone are one on many systems.
		key := strings.ToLower(r.job.Name)
		if other, taken := first[key]; taken {
			r.err = fmt.Errorf("%s: its job is named %q like that of %s; give it another name", path, r.job.Name, other)
		} else {
			first[key] = path
		}
	}
	go func() {
		cores := make(chan struct{}, runtime.GOMAXPROCS(0))
		for i := range results {
			cores <- struct{}{}
			go func() {
				results[i].take(ctx, o)
				close(results[i].done)
				<-cores
			}()
		}
	}()
	return o.gather(e, results)
}

func (r *batchResult) take(ctx context.Context, o takeoffOptions) {
	if r.err == nil {
		r.err = ctx.Err()
	}
	if r.err != nil {
		return
	}
	var t *report.Takeoff
	if t, r.status, r.err = takeoffOne(ctx, &env{out: io.Discard, err: &r.said}, o, r.job, true); r.err == nil {
		r.ordered = report.OrderOf{Job: t.Job.Name, Title: t.Job.Title, System: t.Job.System, Stamp: t.Job.Stamp, Order: t.Order}
	}
}

// gather prints what the jobs say in their order, then the sum of all.
func (o *takeoffOptions) gather(e *env, results []batchResult) error {
	bar := newBar(e.err, len(results))
	var failed []string
	var orders []report.OrderOf
	worst, persons := Done, 0
	for i := range results {
		r := &results[i]
		<-r.done
		bar.clear()
		if errors.Is(r.err, context.Canceled) {
			for k := i; k < len(results); k++ { // those under way clear up after themselves
				<-results[k].done
			}
			return r.err
		}
		e.err.Write(r.said.Bytes())
		if r.err != nil {
			r.status = status(r.err, e.err)
		}
		switch r.status {
		case Exceptions:
			persons++
		case Done:
		default:
			failed = append(failed, o.jobs[i])
		}
		if r.status != Done && worst != Failed {
			worst = r.status
		}
		if r.err == nil {
			orders = append(orders, r.ordered)
		}
		bar.show(i+1, len(failed))
	}
	bar.clear()
	if len(orders) > 0 {
		if err := o.writeOrders(orders, failed); err != nil {
			return err
		}
	}
	fmt.Fprintf(e.err, "%d jobs: %d done", len(results), len(results)-len(failed))
	if persons > 0 {
		fmt.Fprintf(e.err, ", %d of them with exceptions that need a person", persons)
	}
	if len(failed) > 0 {
		fmt.Fprintf(e.err, "; %d failed, nothing written for them: %s", len(failed), strings.Join(failed, ", "))
	}
	if len(orders) > 0 {
		fmt.Fprintf(e.err, "; one order for all in %s", filepath.Join(o.dir, "orders.xlsx"))
	}
	fmt.Fprintln(e.err)
	if worst != Done {
		return exitError{worst}
	}
	return nil
}

func (o *takeoffOptions) writeOrders(orders []report.OrderOf, failed []string) error {
	f, err := write.Open(o.dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Write("orders.xlsx", func(w io.Writer) error { return write.OrdersXLSX(w, orders, failed) }); err != nil {
		return err
	}
	return f.Commit()
}

// bar is a line of progress on a terminal, nothing elsewhere.
type bar struct {
	w     io.Writer
	total int
	shown bool
}

func newBar(w io.Writer, total int) *bar {
	if f, ok := w.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			return &bar{w: w, total: total}
		}
	}
	return &bar{w: io.Discard, total: total}
}

const barWidth = 30

func (b *bar) show(done, failed int) {
	if done == b.total {
		return
	}
	full := barWidth * done / max(b.total, 1)
	fmt.Fprintf(b.w, "\r[%s%s] %d of %d jobs, %d failed", strings.Repeat("=", full), strings.Repeat(" ", barWidth-full), done, b.total, failed)
	b.shown = true
}

func (b *bar) clear() {
	if b.shown {
		fmt.Fprint(b.w, "\r\x1b[K")
		b.shown = false
	}
}

// sameJobTwice tells a job file that is named twice.
func sameJobTwice(files []string) error {
	for i, a := range files {
		if slices.ContainsFunc(files[:i], func(b string) bool { return sameFile(a, b) }) {
			return usagef("%s is named twice", a)
		}
	}
	return nil
}
