package app

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"boardrun/importers"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

type startOptions struct {
	files []string
	out   string
	unit  string
	force bool
}

func startCommand(e *env) *cobra.Command {
	var o startOptions
	c := &cobra.Command{
		Use:   "start DRAWING... -o job.yaml",
		Short: "A commented job file to begin from, filled in with what the drawing tells",
		Long: `Survey the drawings and write a job file that takeoff accepts as it is. What no drawing
tells (heights, make-ups, frames) is filled in with a usual value and listed under
"assumed:"; delete a line there when you have checked the value. Until then each stands in
the takeoff as an assumption.`,
		Example: `  boardrun start plan.dxf -o job.yaml
  boardrun start level-1.dxf level-2.dxf -o job.yaml`,
		Args: args(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, a []string) error {
			o.files = a
			return runStart(e, o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.out, "out", "o", "", "job file to write")
	f.StringVar(&o.unit, "unit", "", "the drawings' unit, where their header is silent or wrong")
	f.BoolVar(&o.force, "force", false, "overwrite the job file if it is there")
	return c
}

func runStart(e *env, o startOptions) error {
	if o.out == "" {
		return usagef("say where to write the job file: -o job.yaml")
	}
	if _, err := os.Stat(o.out); err == nil && !o.force {
		return fmt.Errorf("%s: is there already; choose another name, or say --force to overwrite it", o.out)
	}
	for _, f := range o.files {
		if sameFile(f, o.out) {
			return usagef("%s: is the drawing; give the job file another name", o.out)
		}
	}
	surveys, err := startSurveys(e, o)
	if err != nil {
		return err
	}
	text := job.Start(startInput(surveys, o))
	tmp := o.out + ".new"
	if err := os.MkdirAll(filepath.Dir(o.out), 0o777); err != nil {
		return err
	}
	if err := os.WriteFile(tmp, text, 0o666); err != nil {
		return fmt.Errorf("%s: can't be written: %w", o.out, err)
	}
	if err := os.Rename(tmp, o.out); err != nil {
		os.Remove(tmp)
		return fmt.Errorf("%s: can't be written: %w", o.out, err)
	}
	j, err := job.Read(o.out)
	if err != nil {
		return err
	}
	heights := 0
	for _, a := range j.Assumed {
		if a.Height {
			heights++
		}
	}
	fmt.Fprintf(e.err, "%s: %d wall types, %d values assumed (%d of them heights); read the comments, then: boardrun takeoff %s -o out\n", o.out, len(j.Types), len(j.Assumed), heights, o.out)
	return nil
}

// startSurveys looks at the drawings. Where a plan shows no wall its layers can
// still be mapped; models without any that can be used are nothing to start from.
func startSurveys(e *env, o startOptions) ([]*importers.Survey, error) {
	var surveys []*importers.Survey
	var bare manyErrors
	for _, f := range o.files {
		s, err := importers.Look(f, o.unit)
		if err != nil {
			return nil, err
		}
		surveys = append(surveys, s)
		switch {
		case s.Format == string(importers.IFC) && len(s.Walls) > 0 && !slices.ContainsFunc(s.Plan.Walls, isNew):
			bare = append(bare, fmt.Errorf("%s: all %d walls of the model are existing or to be demolished; there is nothing new to board; correct their status in the model (Pset_WallCommon)", f, len(s.Walls)))
		case len(s.Walls) > 0:
		case s.Format == string(importers.IFC):
			bare = append(bare, fmt.Errorf("%s: %s", f, whyBare(s)))
		default:
			fmt.Fprintf(e.err, "%s: no wall was found; the job file is written, but map the layers of its walls before a takeoff\n", f)
		}
	}
	if len(bare) == len(surveys) {
		return nil, bare
	}
	for _, err := range bare {
		fmt.Fprintln(e.err, err)
	}
	return surveys, nil
}

// whyBare says why a model gives no wall: the first reason its reader lists.
func whyBare(s *importers.Survey) string {
	for i := range s.Plan.Exceptions {
		q := &s.Plan.Exceptions[i]
		switch {
		case q.Severity != plan.Person:
		case q.Source.Ref == "":
			return q.Message + "; " + q.Did
		default:
			return fmt.Sprintf("none of its walls can be used; the first: %s %s: %s", q.Source.Entity, q.Source.Ref, q.Message)
		}
	}
	return "the model has no wall that can be used"
}

func isNew(w plan.Wall) bool { return w.Status == plan.New }

// startInput gathers what the surveys tell into the plain data job.Start asks
// for.
func startInput(ss []*importers.Survey, o startOptions) job.StartInput {
	in := job.StartInput{Name: jobName(o.out), System: systemOf(ss)}
	singleLines(ss, job.UsualThickness(in.System))
	walls := map[wallKey]*job.StartWall{}
	openings := map[job.StartOpening]int{}
	for i, s := range ss {
		in.Drawings = append(in.Drawings, startDrawing(s, i, len(ss), o))
		for k := range s.Plan.Walls {
			addWall(walls, &s.Plan.Walls[k])
		}
		for k := range s.Plan.Openings {
			q := &s.Plan.Openings[k]
			openings[job.StartOpening{Kind: q.Kind.String(), Type: q.Type, Width: q.Width.RoundTo(measure.Millimetre), Height: q.Head - q.Sill}]++
		}
		for _, r := range s.Plan.Rooms {
			in.Rooms = append(in.Rooms, job.StartRoom{Name: r.Name, Number: r.Number, Ceiling: r.Ceiling})
		}
		if s.Format == string(importers.IFC) {
			for _, t := range s.Plan.Storeys {
				in.Storeys = append(in.Storeys, job.StartStorey{Name: t.Name, Elevation: t.Elevation})
			}
		}
		in.Decks = append(in.Decks, startDecks(s.Plan.Decks)...)
	}
	in.Walls = sortedWalls(walls)
	for q, n := range openings {
		q.Count = n
		in.Openings = append(in.Openings, q)
	}
	slices.SortFunc(in.Openings, func(a, b job.StartOpening) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Type, b.Type), cmp.Compare(a.Width, b.Width), cmp.Compare(a.Height, b.Height))
	})
	return in
}

// systemOf is the system of units most drawings are in.
func systemOf(ss []*importers.Survey) measure.System {
	inch := 0
	for _, s := range ss {
		if s.Unit.Used == "inch" || s.Unit.Used == "foot" {
			inch++
		}
	}
	if inch*2 > len(ss) {
		return measure.InchPound
	}
	return measure.Metric
}

// singleLines gives walls drawn as single lines of no stated thickness the
// usual one; the job file lists it as assumed, layer by layer.
func singleLines(ss []*importers.Survey, usual measure.Length) {
	for _, s := range ss {
		unsaid := map[string]bool{}
		for _, e := range s.Plan.Exceptions {
			if e.Code == importers.CodeThickness {
				unsaid[e.Source.Layer] = true
				s.SingleLine(e.Source.Layer, usual)
			}
		}
		for k := range s.Plan.Walls {
			if w := &s.Plan.Walls[k]; unsaid[w.Layer] && w.Doubt != "" || w.Thickness == 0 {
				w.Thickness = usual
			}
		}
	}
}

func jobName(path string) string {
	name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	if name == "job" {
		if abs, err := filepath.Abs(path); err == nil {
			name = filepath.Base(filepath.Dir(abs))
		}
	}
	return name
}

func startDrawing(s *importers.Survey, i, n int, o startOptions) job.StartDrawing {
	d := job.StartDrawing{
		File: relative(s.File, o.out), Header: s.Unit.Header, Unit: s.Unit.Used, Evidence: s.Unit.Evidence,
		Sure: !s.Unit.Assumed, Storey: fmt.Sprint(i + 1),
	}
	centre := 0.0
	faces := 0.0
	for _, l := range s.Mapping.Layers {
		if l.Role.String() != "wall" {
			continue
		}
		if strings.Contains(l.Why, "centrelines") {
			centre += l.LengthMM
		} else {
			faces += l.LengthMM
		}
	}
	if centre > faces {
		d.Drawn = job.DrawnCentre
	}
	for _, l := range s.Layers {
		q := job.StartLayer{Name: l.Name, Role: l.Role, Entities: l.Entities, Length: measure.FromMM(l.LengthMM), Why: l.Why, Thickness: s.Single[l.Name]}
		if q.Role == "background" {
			q.Role = ""
		}
		d.Layers = append(d.Layers, q)
	}
	for _, b := range s.Blocks {
		role := b.Role
		if role == "background" {
			role = ""
		}
		d.Blocks = append(d.Blocks, job.StartBlock{Name: b.Name, Role: role, Count: b.Count})
	}
	return d
}

// relative names a drawing from the job file's folder.
func relative(file, out string) string {
	a, err1 := filepath.Abs(file)
	b, err2 := filepath.Abs(filepath.Dir(out))
	if err1 == nil && err2 == nil {
		if r, err := filepath.Rel(b, a); err == nil {
			return filepath.ToSlash(r)
		}
	}
	return filepath.ToSlash(file)
}

type wallKey struct {
	thick    geom.Length
	tag, typ string
	kind     plan.WallKind
}

func addWall(by map[wallKey]*job.StartWall, w *plan.Wall) {
	if w.Status != plan.New {
		return
	}
	k := wallKey{w.Thickness, w.Tag, w.TypeName, w.Kind}
	q := by[k]
	if q == nil {
		q = &job.StartWall{Thickness: w.Thickness, Tag: w.Tag, TypeName: w.TypeName, Rating: w.Rating}
		if w.Kind != plan.Partition {
			q.Kind = w.Kind.String()
		}
		for _, m := range w.Layers {
			q.Materials = append(q.Materials, job.StartMaterial{Name: m.Name, Thickness: m.Thickness})
		}
		by[k] = q
	}
	q.Count++
	q.Length += measure.FromMM(importers.AxisLength(w))
	if !slices.Contains(q.Layers, w.Layer) && w.Layer != "" {
		q.Layers = append(q.Layers, w.Layer)
		sort.Strings(q.Layers)
	}
}

func sortedWalls(by map[wallKey]*job.StartWall) []job.StartWall {
	out := make([]job.StartWall, 0, len(by))
	for _, q := range by {
		out = append(out, *q)
	}
	slices.SortFunc(out, func(a, b job.StartWall) int {
		return cmp.Or(-cmp.Compare(a.Length, b.Length), cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(a.Tag, b.Tag), cmp.Compare(a.TypeName, b.TypeName), cmp.Compare(a.Kind, b.Kind))
	})
	return out
}

// startDecks tells the lowest and highest underside of structure of each storey
// of a model.
func startDecks(decks []plan.Deck) []job.StartDeck {
	var out []job.StartDeck
	for i := range decks {
		d := &decks[i]
		k := slices.IndexFunc(out, func(q job.StartDeck) bool { return q.Storey == d.Storey })
		if k < 0 {
			k = len(out)
			out = append(out, job.StartDeck{Storey: d.Storey, Lowest: d.Plane[0].Z, Highest: d.Plane[0].Z})
		}
		for _, p := range d.Plane {
			out[k].Lowest, out[k].Highest = min(out[k].Lowest, p.Z), max(out[k].Highest, p.Z)
		}
	}
	slices.SortFunc(out, func(a, b job.StartDeck) int { return cmp.Compare(a.Storey, b.Storey) })
	return out
}
