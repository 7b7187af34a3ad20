package app

import (
	"context"
	"fmt"
	"io"
	"slices"

	"boardrun/importers"
	"boardrun/internal/cutting"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/parallel"
	"boardrun/internal/plan"
	"boardrun/internal/quantity"
	"boardrun/internal/report"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// pipeline is the stages in their order, for one job.
type pipeline struct {
	effort string
	from   string
	out    io.Writer
	edits  string   // edited workbook, "" for none
	store  *store   // nil: nothing is kept between runs
	inputs []string // files read by the last run, that no output may overwrite

	// What an edited workbook or a site sheet gave; nil without one.
	table     *report.EditTable
	overrides []report.Override
	done      map[string]string
}

// run takes one job from its file to the takeoff.
func (p *pipeline) run(ctx context.Context, path string) (*report.Takeoff, error) {
	j, err := job.Read(path)
	if err != nil {
		return nil, err
	}
	return p.take(ctx, j)
}

// take takes a job that is read to the takeoff.
func (p *pipeline) take(ctx context.Context, j *job.Job) (*report.Takeoff, error) {
	path := j.File
	pl, err := p.drawings(ctx, j)
	if err != nil {
		return nil, err
	}
	was, err := earlier(p.from)
	if err != nil {
		return nil, err
	}
	old := oldRuns(was)
	if p.edits != "" {
		p.inputs = append(p.inputs, p.edits)
		if j, err = p.edited(j, pl, old); err != nil {
			return nil, err
		}
	}
	t, err := p.assemble(ctx, j, pl, old)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if was != nil {
		t.Revisions = report.Revise(was, t)
	}
	return t, nil
}

// read reads a job file and the drawings it names.
func (p *pipeline) read(ctx context.Context, path string) (*job.Job, *plan.Plan, error) {
	j, err := job.Read(path)
	if err != nil {
		return nil, nil, err
	}
	pl, err := p.drawings(ctx, j)
	return j, pl, err
}

// drawings reads the drawings that a job names.
func (p *pipeline) drawings(ctx context.Context, j *job.Job) (*plan.Plan, error) {
	p.inputs = []string{j.File}
	for i := range j.Drawings {
		p.inputs = append(p.inputs, j.Drawings[i].Path)
	}
	p.inputs = append(p.inputs, j.Lists...)
	pl, err := readDrawings(j)
	if err != nil {
		return nil, err
	}
	return pl, ctx.Err()
}

// assemble takes a plan to the takeoff: runs, layouts, cut list, quantities.
func (p *pipeline) assemble(ctx context.Context, j *job.Job, pl *plan.Plan, old []run.OldRun) (*report.Takeoff, error) {
	set, err := run.BuildFrom(pl, j, old)
	if err != nil {
		return nil, err
	}
	layouts, cut, err := p.solve(ctx, j, set)
	if err != nil {
		return nil, err
	}
	q := quantity.Take(quantity.Input{Job: j, Runs: set, Layouts: layouts, Bought: bought(set, layouts, cut), Cuts: cuts(cut)})
	t := report.Build(report.Stages{Job: j, Plan: pl, Runs: set, Layouts: layouts, Cut: cut, Exceptions: slices.Concat(jobExceptions(j), uncut(cut), q.Exceptions)})
	report.AddQuantities(t, q)
	t.Job.Rules = ruleList(j)
	if t.Edits = p.table; t.Edits == nil {
		t.Edits = editTable(j, set)
	}
	t.Overrides, t.Done = p.overrides, p.done
	return report.Normalise(t), nil
}

// find lays every run out and finds sheets for the pieces.
func (p *pipeline) find(ctx context.Context, j *job.Job, set *run.Set) ([]*layout.Layout, *cutting.Solution, error) {
	choices, err := p.layouts(ctx, j, set)
	if err != nil {
		return nil, nil, err
	}
	layouts, cut := p.choose(j, set, choices)
	if p.effort != "quick" {
		boundAny(j, set, layouts, &cut)
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	return layouts, &cut, nil
}

// choose takes a layout for each run and cuts its pieces: quick takes the best of
// each run as it stands, best lets the cut list decide.
func (p *pipeline) choose(j *job.Job, set *run.Set, choices [][]*layout.Layout) ([]*layout.Layout, cutting.Solution) {
	if p.effort != "quick" {
		return couple(j, set, choices)
	}
	layouts := make([]*layout.Layout, len(choices))
	for i, ls := range choices {
		if len(ls) > 0 {
			layouts[i] = ls[0]
		}
	}
	return layouts, cutting.Solve(cutProblem(j, set, layouts), cutting.Quick)
}

func readDrawings(j *job.Job) (*plan.Plan, error) {
	var thick []measure.Length
	for i := range j.Types {
		thick = append(thick, j.Types[i].Thickness(j.Board))
	}
	var plans []*plan.Plan
	for _, d := range j.Drawings {
		p, err := importers.Read(d, thick)
		if err != nil {
			return nil, err
		}
		for _, l := range p.Ledger {
			if !l.Balanced() {
				return nil, fmt.Errorf("%s: the account of its entities does not add up (%d read); this is a fault of boardrun, nothing was written", l.Drawing, l.Read)
			}
		}
		plans = append(plans, p)
	}
	return importers.Join(plans), nil
}

// layouts lays out every run, on all cores, and returns the few layouts of each
// to choose from, best first; the result does not depend on how many cores there
// are.
func (p *pipeline) layouts(ctx context.Context, j *job.Job, set *run.Set) ([][]*layout.Layout, error) {
	env := layout.Env{Rules: j.Rules, Boards: j.Board, Prices: j.Prices, Effort: layout.Best}
	if p.effort == "quick" {
		env.Effort = layout.Quick
	}
	most := mostLayouts
	switch {
	case p.effort == "quick":
		most, env.First = 1, true
	case len(set.Runs) > manyRuns:
		most = fewLayouts
	}
	out := make([][]*layout.Layout, len(set.Runs))
	parallel.Each(len(set.Runs), func(i int) {
		if ctx.Err() == nil {
			out[i] = differing(j, layout.Solve(set.Runs[i], env), most)
		}
	})
	return out, ctx.Err()
}

// cutProblem asks for every piece, from the sheets the job can buy. Offcuts
// travel as far as the job allows.
func cutProblem(j *job.Job, set *run.Set, layouts []*layout.Layout) cutting.Problem {
	// The contract's cuts run from boundary to boundary of a fragment; a piece
	// out of a notch has none such, so notches are waste here.
	p := cutting.Problem{Keep: cutting.Keep{MinWidth: j.Rules.OffcutMinW, MinLength: j.Rules.OffcutMinL, WasteNotches: true}}
	for i := range j.Boards {
		for _, s := range stockOf(j, j.Boards[i].Name) {
			s.Cost = sheetCost(j, s.Board, s.Width, s.Length)
			p.Stock = append(p.Stock, s)
		}
	}
	for _, l := range layouts {
		if l == nil {
			continue
		}
		for i := range l.Pieces {
			p.Pieces = append(p.Pieces, cutPiece(j, &l.Pieces[i]))
		}
	}
	return p
}

// sheetCost is what a sheet costs; without prices sheets are compared by area.
func sheetCost(j *job.Job, board string, width, length measure.Length) int64 {
	if j.Prices == nil {
		return 0
	}
	amount, _ := j.Prices.Sheet(board, width, length, j.System)
	return amount
}

func cutPiece(j *job.Job, q *layout.Piece) cutting.Piece {
	box := q.Outline.Bounds()
	o := make(geom.Poly, len(q.Outline))
	for i, p := range q.Outline {
		o[i] = p.Sub(box.Min)
	}
	wish := func(e layout.Edge) cutting.Edge {
		switch e {
		case layout.Tapered:
			return cutting.Tapered
		case layout.EndEdge:
			return cutting.End
		}
		return cutting.CutEdge
	}
	c := cutting.Piece{
		ID: q.ID, Board: q.Board, Group: travelGroup(j, q), Outline: o, Uncut: q.Uncut,
		Left: wish(q.Left), Right: wish(q.Right), Bottom: wish(q.Bottom), Top: wish(q.Top),
	}
	c.Turn = q.Left != layout.Tapered && q.Right != layout.Tapered && q.Top != layout.Tapered && q.Bottom != layout.Tapered
	return c
}

// travelGroup names the pieces that may share sheets with q.
func travelGroup(j *job.Job, q *layout.Piece) string {
	r := q.Face.Run
	switch j.Offcuts {
	case job.TravelRoom:
		if q.Face.Space != "" {
			return r.Storey + "/" + q.Face.Space
		}
	case job.TravelStorey:
		return r.Storey
	case job.TravelJob:
		return "job"
	}
	return r.ID
}

func cuts(s *cutting.Solution) int {
	n := 0
	for i := range s.Sheets {
		n += len(s.Sheets[i].Cuts)
	}
	return n
}

// bought tells the quantities which sheets stand where.
func bought(set *run.Set, layouts []*layout.Layout, s *cutting.Solution) []quantity.Bought {
	storey := map[string]string{}
	for _, l := range layouts {
		if l == nil {
			continue
		}
		for i := range l.Pieces {
			storey[l.Pieces[i].ID] = l.Run.Storey
		}
	}
	out := make([]quantity.Bought, 0, len(s.Sheets))
	for i := range s.Sheets {
		sh := &s.Sheets[i]
		b := quantity.Bought{Board: sh.Board, Width: sh.Width, Length: sh.Length, Group: sh.Group, Count: 1}
		for _, p := range sh.Placements {
			b.Pieces = append(b.Pieces, p.Piece)
			b.Storey = storey[p.Piece]
		}
		out = append(out, b)
	}
	return out
}

func uncut(s *cutting.Solution) []plan.Exception {
	var out []plan.Exception
	for _, u := range s.Unplaced {
		out = append(out, plan.Exception{
			Severity: plan.Person, Code: "no-sheet", Target: u.Piece, Message: u.Reason,
			Did: "the piece is in the layout but in no sheet; add a longer or wider sheet of " + u.Board + " to the stock",
		})
	}
	return out
}

func ruleList(j *job.Job) []report.Rule {
	changed := map[string]bool{}
	for _, id := range j.Changed {
		changed[id] = true
	}
	var out []report.Rule
	for i := range rules.Table {
		r := &rules.Table[i]
		out = append(out, report.Rule{ID: r.ID, Text: r.Text, Value: r.Format(r.Get(j.Rules), j.System), Source: r.Source, Changed: changed[r.ID]})
	}
	return out
}

// jobExceptions lists what the job left open: every value nobody gave, a height
// as a thing a person has to settle; and what the job allows but should not be
// left unseen.
func jobExceptions(j *job.Job) []plan.Exception {
	var out []plan.Exception
	for _, a := range j.Assumed {
		e := plan.Exception{
			Severity: plan.Note, Code: "assumed", Source: plan.Source{File: j.File, Line: a.Line},
			Message: a.Path + " is " + a.Value + ": " + a.Reason, Did: "taken so",
		}
		if a.Height {
			e.Severity, e.Code, e.Did = plan.Person, "height-assumed", "taken so; give it in the job file"
		}
		out = append(out, e)
	}
	for _, d := range j.Doubts {
		e := plan.Exception{Severity: plan.Warning, Code: d.Code, Source: plan.Source{File: j.File, Line: d.Line}, Message: d.Path + ": " + d.Text}
		if d.Person {
			e.Severity = plan.Person
		}
		out = append(out, e)
	}
	return out
}
