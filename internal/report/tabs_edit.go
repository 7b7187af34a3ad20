package report

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
)

// EditSheet is the sheet of the workbook whose marked cells come back.
const EditSheet = "Edits"

// Columns of the tables of EditSheet, as their headers stand. The first names
// the row, the last is its key; those between may be changed except the words
// of EditGiven.
var (
	EditWallColumns    = []string{"Wall", "Type", "Left goes", "Right goes", "Left boards", "Right boards", "Left finish", "Right finish", "Skip, and why", "Left done", "Right done", EditKey}
	EditOpeningColumns = []string{"Opening", "Kind", "Mark", "Rough width", "Rough height", "Sill", EditKey}
)

// EditKey heads the column that says what a row was written against.
const EditKey = "Key, leave as it is"

// EditGiven are columns that are told and not read.
var EditGiven = []string{"Kind", "Mark"}

// EditTable is what of a takeoff can be changed in its workbook.
type EditTable struct {
	Walls, Openings []EditRow
}

// EditRow is one wall or opening. Base are the values that job and drawing
// give it, Now those in force, both in the columns between the first and the
// key; Fingerprint is that of the wall before any edit.
type EditRow struct {
	ID          string
	Fingerprint string
	Base, Now   []string
}

// Key says what a row was written against: the wall's fingerprint before any
// edit, and a sum of its values then, which tells an untouched row.
func (r *EditRow) Key() string { return r.Fingerprint + "-" + EditSum(r.Base) }

// EditSum is a short sum of a row's values.
func EditSum(values []string) string {
	h := sha256.Sum256([]byte(strings.Join(values, "\x00")))
	return hex.EncodeToString(h[:2])
}

func (p *paper) edits() Tab {
	s := Tab{Name: EditSheet, Landscape: true}
	if p.t.Edits == nil {
		return s
	}
	s.Lead = []string{
		"Shaded cells may be changed: save the workbook and run boardrun takeoff JOB --edits takeoff.xlsx -o DIR. Nothing else in the workbook is read back.",
		"Goes: to deck, to ceiling, ceiling + 6in, or a length from the floor. Boards: names of the job's boards, base layer first, parted by +, or: not boarded. Finish: level 0 to 5. Done: tacked, screwed or taped. Skip: why the wall is left out. Lengths have a unit or feet and inches. Write values, no formulas.",
	}
	widths := []float64{12, 9, 15, 15, 24, 24, 8, 8, 22, 10, 10, 17}
	walls := Block{Key: "editwalls", Title: "Walls"}
	for i, head := range EditWallColumns {
		walls.Columns = append(walls.Columns, col("w"+strconvI(i), head, widths[i], Words))
	}
	for i := range p.t.Edits.Walls {
		walls.Rows = append(walls.Rows, editCells(&p.t.Edits.Walls[i], EditWallColumns))
	}
	openings := Block{Key: "editopenings", Title: "Openings"}
	for i, head := range EditOpeningColumns {
		openings.Columns = append(openings.Columns, col("o"+strconvI(i), head, 12, Words))
	}
	for i := range p.t.Edits.Openings {
		openings.Rows = append(openings.Rows, editCells(&p.t.Edits.Openings[i], EditOpeningColumns))
	}
	s.Blocks = []Block{walls, openings, p.done()}
	return s
}

// DoneStages are the stages of a side, each holding those before it.
var DoneStages = []string{"tacked", "screwed", "taped"}

// done is the share of the boarded sides that has reached each stage.
func (p *paper) done() Block {
	b := Block{Key: "done", Title: "How far it is, by net area of the sides", Columns: []Column{
		col("stage", "Stage", 12, Words), col("area", p.sfName(), 9, Whole), col("all", "of", 15, Whole), col("share", "Share", 15, Percent),
	}}
	if len(p.t.Done) == 0 {
		return b
	}
	var all float64
	reached := make([]float64, len(DoneStages))
	for i := range p.t.Faces {
		f := &p.t.Faces[i]
		if !f.Boarded {
			continue
		}
		all += float64(f.NetM2)
		for k := 0; k <= slices.Index(DoneStages, p.t.Done[f.Run+" "+f.Side]); k++ {
			reached[k] += float64(f.NetM2)
		}
	}
	for k, stage := range DoneStages {
		a, z := p.sf(reached[k]), p.sf(all)
		b.Rows = append(b.Rows, []Cell{T(stage), N(a), N(z), F("IF({all}=0,0,{area}/{all})", ratio(a, z))})
	}
	return b
}

func editCells(r *EditRow, columns []string) []Cell {
	cells := []Cell{T(r.ID).As(Strong)}
	for i, v := range r.Now {
		c := T(v)
		if given := columns[i+1] == "Kind" || columns[i+1] == "Mark"; !given {
			c = c.As(Input)
		}
		cells = append(cells, c)
	}
	return append(cells, T(r.Key()).As(Muted))
}
