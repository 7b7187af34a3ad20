package dxf

import (
	"bytes"
	"fmt"
	"sync"
	"testing"

	group "boardrun/internal/dxf"
)

// planFile is an invented plan of about 10 MB in inches: wall lines, doors as
// inserts with three attributes, room texts, dimensions with their pictures.
var planFile = sync.OnceValue(func() []byte {
	const doors, walls = 3500, 8
	var b, blocks bytes.Buffer
	fmt.Fprint(&b, groups("0 SECTION|2 HEADER|9 $ACADVER|1 AC1015|9 $INSUNITS|70 1|0 ENDSEC"))
	blocks.WriteString(groups("0 SECTION|2 BLOCKS"))
	blocks.WriteString(groups(block("DOOR", "0 LINE|8 0|11 0|21 1|0 ARC|8 0|40 1|50 0|51 90")))
	var e bytes.Buffer
	e.WriteString(groups("0 SECTION|2 ENTITIES"))
	h := 0x1000
	line := func(w *bytes.Buffer, layer string, x0, y0, x1, y1 float64) {
		h++
		fmt.Fprintf(w, "  0\nLINE\n  5\n%X\n330\n1F\n100\nAcDbEntity\n  8\n%s\n100\nAcDbLine\n 10\n%v\n 20\n%v\n 30\n0.0\n 11\n%v\n 21\n%v\n 31\n0.0\n", h, layer, x0, y0, x1, y1)
	}
	for i := range doors {
		x, y := float64(i%60)*200+0.125, float64(i/60)*200+4.4375
		for j := range walls {
			line(&e, "A-WALL", x, y+float64(j), x+144.0625, y+float64(j))
		}
		h += 5
		fmt.Fprintf(&e, "  0\nINSERT\n  5\n%X\n  8\nA-DOOR\n 66\n1\n  2\nDOOR\n 10\n%v\n 20\n%v\n 41\n36.0\n 42\n36.0\n 50\n90.0\n", h, x, y)
		for k, tag := range []string{"MARK", "WIDTH", "HEIGHT"} {
			fmt.Fprintf(&e, "  0\nATTRIB\n  5\n%X\n  8\nA-ANNO\n 10\n%v\n 20\n%v\n 40\n4.0\n  1\n%d\n  2\n%s\n 70\n0\n", h-k, x, y, 100+i, tag)
		}
		fmt.Fprint(&e, "  0\nSEQEND\n  8\nA-DOOR\n")
		fmt.Fprintf(&e, "  0\nMTEXT\n  5\n%X\n  8\nA-ANNO\n 10\n%v\n 20\n%v\n 40\n6.0\n  1\nROOM\\P%d\n", h-4, x, y, i)
		fmt.Fprintf(&e, "  0\nDIMENSION\n  8\nA-DIMS\n  2\n*D%d\n 11\n%v\n 21\n%v\n 70\n32\n 42\n144.0625\n 13\n%v\n 14\n%v\n", i, x, y, x, x+144.0625)
		fmt.Fprintf(&blocks, "  0\nBLOCK\n  2\n*D%d\n 70\n1\n", i)
		for range 3 {
			line(&blocks, "A-DIMS", x, y, x+1, y)
		}
		fmt.Fprint(&blocks, "  0\nMTEXT\n  8\n0\n 40\n6.0\n  1\n12'-0 1/16\"\n  0\nENDBLK\n")
	}
	blocks.WriteString(groups("0 ENDSEC"))
	b.Write(blocks.Bytes())
	b.Write(e.Bytes())
	b.WriteString(groups("0 ENDSEC|0 EOF"))
	return b.Bytes()
})

// BenchmarkPairs is the floor: the same file, pair by pair, nothing kept.
func BenchmarkPairs(b *testing.B) {
	data := planFile()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		s, err := group.NewScanner("b.dxf", bytes.NewReader(data))
		if err != nil {
			b.Fatal(err)
		}
		for s.Next() {
		}
	}
}

// BenchmarkWalk reads, expands blocks and hands every piece to a sink.
func BenchmarkWalk(b *testing.B) {
	data := planFile()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		m, err := Open("b.dxf", bytes.NewReader(data), Options{})
		if err != nil {
			b.Fatal(err)
		}
		m.Walk(25.4, &linesOnly{})
	}
}

// BenchmarkRead collects the whole drawing.
func BenchmarkRead(b *testing.B) {
	data := planFile()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Read("b.dxf", bytes.NewReader(data), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkJudge judges the unit of a drawing already read.
func BenchmarkJudge(b *testing.B) {
	d, _, err := Read("b.dxf", bytes.NewReader(planFile()), Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		JudgeUnit(d)
	}
}
