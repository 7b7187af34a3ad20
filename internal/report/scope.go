package report

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Scope is what a bid says it is for: what is in it, what is not, what it rests
// on, and what is asked.
type Scope struct {
	Sum       string // money in words of the job, "" without prices
	Included  []string
	Excluded  []string
	Rests     []string // assumptions, changed rules, assumed control joints
	Questions []Question
}

// Question is one thing to be answered, with the place it is about.
type Question struct {
	Text   string
	Storey string
	Run    string // "" where no wall stands for it
	At     *UV    // a place in the drawing; nil for the whole wall
}

// mostQuestions is how many questions a scope asks; the workbook's sheet
// Questions has the rest.
const mostQuestions = 24

// Scope tells a takeoff as the scope of a bid.
func (w *Draft) Scope() Scope {
	p, t := w.p, w.t
	var s Scope
	s.Excluded = append([]string{Exclusions[0]}, t.Job.Notes...)
	if c := t.Cost; c != nil {
		s.Sum = fmt.Sprintf("%s %s", c.Currency, grouped(c.Total))
		var without []string
		for i := range c.Lines {
			if !c.Lines[i].Priced {
				without = append(without, c.Lines[i].Item)
			}
		}
		if len(without) > 0 {
			s.Excluded = append(s.Excluded, "No price was given for, and the sum leaves out: "+several(without, 10)+".")
		}
	}
	s.Excluded = append(s.Excluded, p.leftStanding()...)
	s.Included = append(p.scopeWalls(), p.scopeRest()...)
	for _, a := range t.Job.Assumptions {
		s.Rests = append(s.Rests, fmt.Sprintf("%s: taken as %s (%s of the job file).", sentence(a.Reason), a.Value, a.Path))
	}
	for i := range t.Job.Rules {
		if r := &t.Job.Rules[i]; r.Changed {
			s.Rests = append(s.Rests, fmt.Sprintf("%s: %s (this job's own rule).", r.Text, r.Value))
		}
	}
	s.Questions = w.questions()
	return s
}

// sentence begins a text with a capital letter.
func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// grouped writes money with two decimals and commas at the thousands.
func grouped(v float64) string {
	cents := int64(math.Round(math.Abs(v) * 100))
	whole := fmt.Sprint(cents / 100)
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if v < 0 {
		whole = "-" + whole
	}
	return fmt.Sprintf("%s.%02d", whole, cents%100)
}

// standingWords says why walls of the drawings are not in the work.
var standingWords = map[string]string{"existing": "drawn as existing", "demolish": "drawn as to be demolished", "left out": "left out, see the workbook's Exceptions"}

// openingWords name the openings of a kind.
var openingWords = map[string]string{
	"door": "door", "window": "window", "framed": "framed opening", "wrapped": "wrapped opening", "penetration": "penetration", "niche": "niche",
}

// leftStanding says what walls of the drawings are not in the work.
func (p *paper) leftStanding() []string {
	length, n := map[string]float64{}, count{}
	for i := range p.t.Standing {
		s := &p.t.Standing[i]
		if s.LengthMM > 0 {
			n[s.Kind]++
			length[s.Kind] += float64(s.LengthMM)
		}
	}
	var out []string
	for _, k := range n.sorted() {
		out = append(out, fmt.Sprintf("%d wall%s %s, %.0f %s.", n[k], plural(n[k]), standingWords[k], p.lf(length[k]), p.lfName()))
	}
	return out
}

// scopeWalls says the walls by type: how many, how long, made of what, how high,
// and the board hung on them.
func (p *paper) scopeWalls() []string {
	var out []string
	for i := range p.t.Job.Types {
		y := &p.t.Job.Types[i]
		sums := p.sumsOf(y.Name)
		if sums.walls == 0 {
			continue
		}
		text := fmt.Sprintf("%s: %d wall%s, %.0f %s, %s; %.0f %s of sides boarded, openings off.",
			y.Name, sums.walls, plural(sums.walls), p.lf(sums.length), p.lfName(), p.makeUp(y), p.sf(sums.net[0]+sums.net[1]), p.sfName())
		if y.Rating != "" {
			text += " Rated " + y.Rating
			if y.Listing != "" {
				text += " after " + y.Listing
			}
			text += ": the listed design governs."
		}
		out = append(out, text)
	}
	return out
}

// scopeRest says what goes with the walls.
func (p *paper) scopeRest() []string {
	var out []string
	kinds := count{}
	for i := range p.t.Openings {
		kinds[p.t.Openings[i].Kind]++
	}
	var parts []string
	for _, k := range kinds.sorted() {
		word := openingWords[k]
		if word == "" {
			word = k
		}
		parts = append(parts, fmt.Sprintf("%d %s%s", kinds[k], word, plural(kinds[k])))
	}
	if len(parts) > 0 {
		out = append(out, "Openings framed and boarded round: "+strings.Join(parts, ", ")+". Frames, doors, glass and their setting are by others.")
	}
	var levels []string
	for i := range p.t.Phases {
		if l, ok := strings.CutPrefix(p.t.Phases[i].Name, "tape level "); ok && !slices.Contains(levels, l) {
			levels = append(levels, l)
		}
	}
	sort.Strings(levels)
	if len(levels) > 0 {
		out = append(out, "Joints, fasteners and beads finished to level "+join(levels)+" as GA-214 has them, above the ceiling to level 1 or fire taping.")
	}
	area := map[string]float64{}
	long := map[string]float64{}
	for _, it := range p.t.Finishing {
		if strings.HasPrefix(it.Item, "insulation") {
			area["Insulation, "+it.Spec] += float64(it.AreaM2)
		}
	}
	for _, it := range p.t.Sealant {
		long[it.Item] += float64(it.LengthMM)
	}
	for _, k := range sortedFloats(area) {
		out = append(out, fmt.Sprintf("%s: %.0f %s.", k, p.sf(area[k]), p.sfName()))
	}
	for _, k := range sortedFloats(long) {
		out = append(out, fmt.Sprintf("%s: %.0f %s.", strings.ToUpper(k[:1])+k[1:], p.lf(long[k]), p.lfName()))
	}
	return out
}

func sortedFloats(m map[string]float64) []string {
	var out []string
	for k := range m {
		if k != "" {
			out = append(out, k)
		}
	}
	sort.Strings(out)
	return out
}

// asked are the codes of exceptions that others have to answer, beside those that
// need a person: what the drawing leaves open and what was put where nobody drew
// it.
var asked = map[string]string{
	"opening-doubtful": "Please say what it is and its rough opening.",
	"control-joint":    "Please confirm its place, or show where the control joints go.",
}

func (w *Draft) questions() []Question {
	storey := map[string]string{}
	for _, d := range w.t.Drawings {
		storey[d.File] = d.Storey
	}
	var out []Question
	controls := map[string][]UV{}
	for i := range w.t.Exceptions {
		e := &w.t.Exceptions[i]
		tail, ask := asked[e.Code]
		if e.Severity != "person" && !ask {
			continue
		}
		if len(out) == mostQuestions {
			break
		}
		if !ask {
			tail = "Please confirm."
		}
		q := Question{Text: strings.TrimSuffix(e.Message, ".") + ". " + tail, Storey: storey[e.Source.File], At: e.AtMM}
		if r := w.runOf(e.Target); r != nil {
			q.Run, q.Storey = r.ID, r.Storey
			q.Text = r.ID + ": " + q.Text
			if e.Code == "control-joint" { // told in their order along the wall
				if controls[r.ID] == nil {
					controls[r.ID] = w.controlsOf(r)
				}
				if c := controls[r.ID]; len(c) > 0 {
					q.At, controls[r.ID] = &c[0], c[1:]
				}
			}
		} else {
			q.Text = sentence(q.Text)
		}
		out = append(out, q)
	}
	return out
}

// controlsOf returns where the control joints of a run stand, in their order.
func (w *Draft) controlsOf(r *Run) []UV {
	var at []float64
	for i := range w.t.Joints {
		j := &w.t.Joints[i]
		f := w.p.fac[j.Face]
		if j.Kind != "control" || f == nil || f.Run != r.ID || j.FromUV[0] != j.ToUV[0] {
			continue
		}
		s := float64(station(f, j.FromUV[0]))
		if !slices.ContainsFunc(at, func(o float64) bool { return math.Abs(o-s) < 50 }) { // both sides have it, a stud apart at most
			at = append(at, s)
		}
	}
	sort.Float64s(at)
	out := []UV{}
	for _, s := range at {
		c, _ := along(r, MM(s))
		out = append(out, c)
	}
	return out
}

// runOf returns the run that a target names: itself, one of its sides, pieces or
// openings.
func (w *Draft) runOf(target string) *Run {
	for {
		if r := w.p.run[target]; r != nil {
			return r
		}
		if f := w.p.fac[target]; f != nil {
			return w.p.run[f.Run]
		}
		i := strings.LastIndexAny(target, "-/")
		if i < 0 {
			return nil
		}
		target = target[:i]
	}
}

// Spot draws where a question is: its wall solid, its place ringed. Scale is that
// of the base it goes over, in mm on one mm of paper.
func (w *Draft) Spot(q *Question, scale float64) *Picture {
	d := &Picture{Name: "spot", Scale: scale}
	if r := w.p.run[q.Run]; r != nil && len(r.AxisMM) > 1 {
		d.area(PenWall, LayerWall, FillSolid, Band(r))
	}
	if q.At != nil {
		d.area(PenWall, LayerMark, NoFill, ring(*q.At, MM(2.5*scale)))
	}
	d.fit()
	return d
}
