package importers

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardrun/internal/job"
	"boardrun/internal/measure"
)

// A plan bound as a block and clipped: walls beyond the clip are no walls, those
// through it end there, and the ledger says what became of the rest.
// Oracle: hand sum. Two walls of 100 mm, 6 m long, 4 m apart; the clip shows
// 3.5 m of the first.
func TestRead_clippedPlan(t *testing.T) {
	const text = `0 SECTION|2 HEADER|9 $INSUNITS|70 4|0 ENDSEC|0 SECTION|2 BLOCKS|0 BLOCK|8 0|2 PLAN|70 0|10 0|20 0|
0 LINE|8 A-WALL|10 0|20 0|11 6000|21 0|0 LINE|8 A-WALL|10 0|20 100|11 6000|21 100|0 LINE|8 A-WALL|10 0|20 0|11 0|21 100|
0 LINE|8 A-WALL|10 0|20 4000|11 6000|21 4000|0 LINE|8 A-WALL|10 0|20 4100|11 6000|21 4100|
0 ENDBLK|0 ENDSEC|0 SECTION|2 ENTITIES|0 INSERT|5 1F|8 0|2 PLAN|0 ENDSEC|
0 SECTION|2 OBJECTS|0 DICTIONARY|5 29|330 1F|0 DICTIONARY|5 2A|330 29|0 SPATIAL_FILTER|5 2B|330 2A|100 AcDbSpatialFilter|70 2|10 -100|20 -100|10 3500|20 1000|71 1|
40 1|40 0|40 0|40 0|40 0|40 1|40 0|40 0|40 0|40 0|40 1|40 0|40 1|40 0|40 0|40 0|40 0|40 1|40 0|40 0|40 0|40 0|40 1|40 0|0 ENDSEC|0 EOF`
	var b strings.Builder
	for _, g := range strings.Split(strings.ReplaceAll(text, "\n", ""), "|") {
		code, value, _ := strings.Cut(g, " ")
		b.WriteString(code + "\n" + value + "\n")
	}
	path := filepath.Join(t.TempDir(), "plan.dxf")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	p, err := Read(job.Drawing{Path: path, File: "plan.dxf", Unit: "mm", ShowHidden: true, Layers: []job.LayerRole{{Pattern: "A-WALL", Role: "wall"}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Walls) != 1 || p.Walls[0].Axis[1].X-p.Walls[0].Axis[0].X != 3500*measure.Millimetre {
		t.Errorf("%d walls: %+v", len(p.Walls), p.Walls)
	}
	l := p.Ledger[0]
	if l.Read != 5 || l.Used != 3 || len(l.Ignored) != 1 || l.Ignored[0].Reason != "outside the clip of its block" || l.Ignored[0].Count != 2 {
		t.Errorf("ledger %+v", l)
	}
}
