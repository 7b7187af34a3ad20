package report

import (
	"fmt"
	"strconv"
	"strings"
)

func strconvI(n int) string { return strconv.Itoa(n) }

// Tabs returns the sheets of the workbook in the contract's order, as far as
// they have content.
func Tabs(t *Takeoff) []Tab {
	p := newPaper(t)
	var finishing, insulation []Item
	for _, it := range t.Finishing[:len(t.Finishing)-len(t.Sealant)] {
		if strings.HasPrefix(it.Item, "insulation") {
			insulation = append(insulation, it)
		} else {
			finishing = append(finishing, it)
		}
	}
	all := []Tab{
		p.summary(), p.assumptions(), p.exceptions(), p.wallTypes(), p.walls(), p.roomsSheet(), p.openingsSheet(), p.edits(), p.prices(), p.labour(), p.order(),
	}
	all = append(all, p.drops()...)
	all = append(all, p.stocking(), p.studList(), p.studCuts(), p.fasteners(), p.items("Finishing", "finishing", finishing), p.items("Insulation", "insulation", insulation),
		p.items("Firestop and sealant", "sealant", t.Sealant),
		p.schedule(), p.tops(), p.cutList(), p.questions(), p.revisions(), p.rules(),
	)
	out := all[:0]
	for _, s := range all {
		some := false
		for i := range s.Blocks {
			some = some || len(s.Blocks[i].Rows) > 0
			if s.Name != EditSheet { // an empty cell there can be filled in
				s.Blocks[i] = s.Blocks[i].withoutBlanks()
			}
		}
		if some {
			out = append(out, s)
		}
	}
	return out
}

// Exclusions are what no plan of walls can tell; they stand first and large.
var Exclusions = []string{
	"Not in this takeoff: ceilings, bulkheads, soffits, and whatever the drawing does not show as a wall.",
	"Heights, make-ups and ratings are the job file's word; what nobody gave is listed under Assumptions.",
	"Quantities are an estimate, not a design. Rated walls follow their listed design exactly; local codes, the listed head-of-wall detail and licensed practice govern.",
}

func (p *paper) summary() Tab {
	t := p.t
	// What is left out stands first and large: the built-in sentence, then what
	// the job itself excludes.
	s := Tab{Name: "Summary", Landscape: true, Lead: []string{Exclusions[0]}}
	s.Lead = append(s.Lead, t.Job.Notes...)
	s.Large = len(s.Lead)
	s.Lead = append(s.Lead, fmt.Sprintf("%s: %s", t.Job.Title, stampText(t.Job.Stamp)))
	s.Lead = append(s.Lead, Exclusions[1:]...)
	s.Blocks = append(s.Blocks, p.totals(), p.boardTotals(), p.checks(), p.drawings())
	return s
}

func stampText(stamp string) string {
	switch stamp {
	case "BUDGET":
		return "BUDGET: a first figure. Every default is listed under Assumptions; confirm them before bidding."
	case "BID":
		return "BID: heights, make-ups and openings confirmed by the estimator; site measurements not yet in."
	case "BUILD":
		return "BUILD: measured on site."
	}
	return stamp
}

func (p *paper) totals() Block {
	t := p.t
	b := Block{Key: "totals", Title: "What there is", Columns: []Column{
		col("what", "", 44, Words), col("n", "Quantity", 12, Whole), col("unit", "", 8, Words),
	}}
	row := func(what string, n float64, unit string) { b.Rows = append(b.Rows, []Cell{T(what), N(n), T(unit)}) }
	var length, sides, net float64
	boarded := 0
	for i := range t.Runs {
		if t.Runs[i].Status == "new" {
			length += float64(t.Runs[i].LengthMM)
		}
	}
	for i := range t.Faces {
		if f := &t.Faces[i]; f.Boarded {
			boarded++
			sides += float64(f.LengthMM)
			net += float64(f.NetM2)
		}
	}
	kinds := count{}
	for i := range t.Openings {
		kinds[t.Openings[i].Kind]++
	}
	row("Walls", float64(len(t.Runs)), "")
	row("Length of walls", p.lf(length), p.lfName())
	row("Sides boarded", float64(boarded), "")
	row("Length of boarded sides", p.lf(sides), p.lfName())
	row("Net area of boarded sides", p.sf(net), p.sfName())
	for _, k := range kinds.sorted() {
		row("Openings: "+k, float64(kinds[k]), "")
	}
	row("Pieces to hang", float64(len(t.Pieces)), "")
	row("Sheets laid out", float64(len(t.Sheets)), "")
	return b
}

func (p *paper) boardTotals() Block {
	b := Block{Key: "boards", Title: "Board: bought, hung, and the least it could be", Columns: []Column{
		col("board", "Board, "+p.sfName(), 24, Words), col("sheets", "Sheets", 11, Whole), col("bought", "Bought", 11, Whole),
		col("hung", "Hung", 11, Whole), col("kept", "Offcuts kept", 11, Whole), col("waste", "Waste", 11, Whole),
		col("ofbought", "Waste of bought", 11, Percent), col("ofhung", "Waste of hung", 11, Percent),
		col("these", "Fewest possible, these pieces", 14, Whole), col("any", "Fewest possible, any layout", 14, Whole),
	}}
	for _, q := range p.t.Bound {
		n := 0
		for _, s := range q.Sheets {
			n += s.Count
		}
		bought, waste, hung := p.sf(float64(q.AreaM2)), p.sf(float64(q.WasteM2)), p.sf(float64(q.HungM2))
		b.Rows = append(b.Rows, []Cell{
			T(q.Board), I(n), N(bought), N(hung), N(p.sf(float64(q.KeptM2))),
			F("{bought}-{hung}-{kept}", waste), F("IF({bought}=0,0,{waste}/{bought})", ratio(waste, bought)),
			F("IF({hung}=0,0,{waste}/{hung})", ratio(waste, hung)),
			N(p.sf(float64(q.ForPiecesM2))), N(p.sf(float64(q.ForAnyM2))),
		})
		b.Notes = append(b.Notes, q.Board+": "+q.Method)
	}
	return b
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// checks are what an estimator tries first.
func (p *paper) checks() Block {
	b := Block{Key: "checks", Title: "Checks an estimator makes", Columns: []Column{
		col("what", "", 40, Words), col("here", "Here", 11, Decimal), col("beside", "Beside it", 11, Decimal), col("difference", "Difference", 11, Percent), col("unit", "", 11, Words), flow("note", "what that is", 60),
	}}
	for _, c := range p.t.Checks {
		beside, difference := T(""), T("")
		if c.Against != 0 {
			beside, difference = N(c.Against), F("{here}/{beside}-1", c.Value/c.Against-1)
		}
		b.Rows = append(b.Rows, []Cell{T(c.Name), N(c.Value), beside, difference, T(c.Unit), T(c.Basis)})
	}
	assumed := 0
	for i := range p.t.Runs {
		if len(p.t.Runs[i].Assumed) > 0 {
			assumed++
		}
	}
	b.Rows = append(b.Rows, []Cell{T("Walls with an input nobody gave, of all walls"), I(assumed), I(len(p.t.Runs)), T(""), T(""), T("see Assumptions")})
	return b
}

func (p *paper) labour() Tab {
	unit := p.sfName()
	b := Block{Key: "labour", Title: "Board to hang, weighted for height: multiply by your own rate", Columns: []Column{
		col("storey", "Storey", 10, Words), col("type", "Wall type", 12, Words), col("hung", "Hung, "+unit, 12, Whole), col("high", "of it high", 12, Whole),
		col("openings", "small openings, not deducted", 16, Whole), col("weighted", "Weighted "+unit, 14, Whole),
	}}
	for _, l := range p.t.Labour {
		b.Rows = append(b.Rows, []Cell{T(l.Storey), T(l.Type), N(p.sf(l.HungM2)), N(p.sf(l.HighM2)), N(p.sf(l.OpeningsM2)), N(p.sf(l.Weighted))})
	}
	b.Total = totalRow(b, "All", "hung", "high", "openings", "weighted")
	return Tab{Name: "Labour", Landscape: true, Blocks: []Block{b, p.phases()}, Lead: []string{
		"Phases stand in the order of the work; sheets are those that have to be there for it. Hours come from the price list, none where it gives none. What is inspected before it is closed in, the code in force says.",
		"Work above 10 ft counts 1.4 times (Association of the Wall and Ceiling Industry, estimating column); openings under 32 sf are not deducted.",
	}}
}

func (p *paper) drawings() Block {
	b := Block{Key: "drawings", Title: "Drawings read", Columns: []Column{
		col("file", "File", 44, Words), col("storey", "Storey", 12, Words), col("format", "Format", 12, Words), col("unit", "Unit", 8, Words),
		col("read", "Entities on mapped layers", 14, Whole), col("used", "used", 9, Whole), col("ignored", "ignored", 9, Whole), col("share", "Wall linework used", 12, Percent),
	}}
	for i, d := range p.t.Drawings {
		var l Ledger
		if i < len(p.t.Ledger) {
			l = p.t.Ledger[i]
		}
		b.Rows = append(b.Rows, []Cell{
			T(d.File), T(d.Storey), T(d.Format + " " + d.Version), T(d.Unit), I(l.Read), I(l.Used), F("{read}-{used}", float64(l.Read-l.Used)),
			N(ratio(float64(l.WallUsedMM), float64(l.WallLineMM))),
		})
	}
	return b
}

func (p *paper) assumptions() Tab {
	b := Block{Key: "assumed", Title: "Nobody gave these: confirm or change them in the job file", Columns: []Column{
		col("path", "Where in the job file", 34, Words), col("value", "Taken as", 24, Words), col("reason", "Why", 60, Words), col("ok", "Confirmed", 11, Box),
	}}
	for _, a := range p.t.Job.Assumptions {
		b.Rows = append(b.Rows, []Cell{T(a.Path), T(a.Value), T(a.Reason), T("")})
	}
	return Tab{Name: "Assumptions", Landscape: true, Blocks: []Block{b}}
}

func (p *paper) exceptions() Tab {
	s := Tab{Name: "Exceptions", Landscape: true}
	titles := []struct{ severity, title string }{
		{"person", "These need a person"}, {"warning", "Allowed, look at it"}, {"note", "Assumed or repaired"},
	}
	for _, k := range titles {
		b := Block{Key: k.severity, Title: k.title, Columns: []Column{
			col("target", "Wall, side or piece", 18, Words), col("code", "Code", 22, Words), col("what", "What", 60, Words), col("did", "What was done", 40, Words),
			col("file", "Drawing", 24, Words), col("ref", "Entity", 12, Words), col("at", "At, m", 20, Words),
		}}
		for _, e := range p.t.Exceptions {
			if e.Severity != k.severity {
				continue
			}
			at := ""
			if e.AtMM != nil {
				at = fmt.Sprintf("%.3f, %.3f", float64(e.AtMM[0])/1000, float64(e.AtMM[1])/1000)
			}
			look := Plain
			if k.severity == "person" {
				look = Alert
			}
			b.Rows = append(b.Rows, []Cell{T(e.Target), T(e.Code).As(look), T(e.Message), T(e.Did), T(e.Source.File), T(e.Source.Ref), T(at)})
		}
		if len(b.Rows) > 0 {
			s.Blocks = append(s.Blocks, b)
		}
	}
	return s
}

func (p *paper) rules() Tab {
	b := Block{Key: "rules", Title: "Rules in force", Columns: []Column{
		col("id", "Rule", 22, Words), col("value", "Value", 14, Words), col("changed", "Changed by the job", 10, Words), col("text", "What it says", 70, Words), col("source", "From", 70, Words),
	}}
	for _, r := range p.t.Job.Rules {
		c, look := "", Plain
		if r.Changed {
			c, look = "changed", Strong
		}
		b.Rows = append(b.Rows, []Cell{T(r.ID), T(r.Value).As(look), T(c), T(r.Text), T(r.Source)})
	}
	return Tab{Name: "Rules", Landscape: true, Blocks: []Block{b}}
}

func (p *paper) questions() Tab {
	b := Block{Key: "questions", Title: "To ask the architect or the general contractor", Columns: []Column{
		col("n", "No.", 6, Whole), col("target", "About", 18, Words), col("question", "Question", 90, Words), col("answer", "Answer", 40, Box),
	}}
	n := 0
	ask := func(target, q string) {
		n++
		b.Rows = append(b.Rows, []Cell{I(n), T(target), T(q), T("")})
	}
	for _, e := range p.t.Exceptions {
		if e.Severity == "person" && n < 60 {
			ask(e.Target, e.Message+". Please confirm.")
		}
	}
	return Tab{Name: "Questions", Landscape: true, Blocks: []Block{b}}
}

// phases is the work by storey in its order, with lines to fill in.
func (p *paper) phases() Block {
	b := Block{Key: "phases", Title: "Phases", Columns: []Column{
		col("storey", "Storey", 10, Words), col("phase", "Phase", 20, Words), col("sheets", "Sheets", 9, Whole), col("length", p.lfName(), 10, Whole), col("area", p.sfName(), 12, Whole), col("high", "of it high", 12, Whole),
		col("weighted", "Weighted "+p.sfName(), 14, Whole), col("hours", "Hours", 10, Decimal), col("from", "From", 12, Words), col("done", "Done", 12, Words),
	}}
	line := "________"
	some := func(v float64) Cell {
		if v == 0 {
			return T("")
		}
		return N(v)
	}
	for _, f := range p.t.Phases {
		b.Rows = append(b.Rows, []Cell{
			T(f.Storey), T(f.Name), some(float64(f.Sheets)), some(p.lf(float64(f.LengthMM))), some(p.sf(float64(f.AreaM2))), some(p.sf(float64(f.HighM2))),
			some(p.sf(float64(f.WeightedM2))), some(f.Hours), T(line), T(line),
		})
	}
	b.Total = totalRow(b, "All", "sheets", "hours")
	return b
}
