package dxf

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
)

// The table of limits for developers says what the constants are.
func TestLimits_table(t *testing.T) {
	data, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]string{}
	within := false
	for _, line := range strings.Split(string(data), "\n") {
		cells := strings.Split(line, "|")
		if len(cells) < 5 {
			continue
		}
		if strings.TrimSpace(cells[1]) != "" {
			within = strings.Contains(cells[1], "importers/dxf")
		}
		if !within {
			continue
		}
		values := regexp.MustCompile(`\d+(,\d{3})*(e\d+)?`).FindAllString(cells[3], -1)
		for i, name := range regexp.MustCompile("`Max\\w+`").FindAllString(cells[2], -1) {
			told[strings.Trim(name, "`")] = strings.ReplaceAll(values[i], ",", "")
		}
	}
	for name, v := range map[string]float64{"MaxPlaced": MaxPlaced, "MaxPerInsert": MaxPerInsert, "MaxDepth": MaxDepth, "MaxVertices": MaxVertices,
		"MaxClipPoints": MaxClipPoints, "MaxCoordinate": MaxCoordinate, "MaxMM": MaxMM, "MaxLayers": MaxLayers, "MaxBlocks": MaxBlocks, "MaxExceptions": MaxExceptions} {
		var x float64
		if _, err := fmt.Sscan(told[name], &x); err != nil || x != v {
			t.Errorf("%s is told as %q, is %v", name, told[name], v)
		}
	}
}

// Oracle: the limits themselves.
func TestBlocks_limits(t *testing.T) {
	deep := block("L0", "0 LINE|8 0|11 1")
	for i := 1; i <= MaxDepth; i++ {
		deep += block(fmt.Sprint("L", i), fmt.Sprint("0 INSERT|8 0|2 L", i-1))
	}
	lines := strings.Repeat("0 LINE|8 0|11 1|", 10)
	for _, c := range []struct {
		name, blocks, entities string
		opt                    Options
		segments               int
		want                   string // of the one exception
	}{
		{"as deep as may be", deep, fmt.Sprint("0 INSERT|8 A|2 L", MaxDepth-1), Options{}, 1, ""},
		{"too deep", deep, fmt.Sprint("0 INSERT|8 A|2 L", MaxDepth, "|0 LINE|8 A|11 1"), Options{}, 1, "[nested-too-deep] INSERT @"},
		{"one insert too large", block("B", lines), "0 INSERT|8 A|2 B|0 INSERT|8 A|2 B|70 2|44 1", Options{MaxPerInsert: 15}, 10, `block "B" holds 20 pieces once expanded, the limit for one insert is 15`},
		{"array without end", block("B", lines), "0 INSERT|8 A|2 B|70 2000000000|71 2000000000|0 LINE|8 A|11 1", Options{}, 1, `[too-many-entities]`},
		{"drawing too large by inserts", block("B", lines), "0 INSERT|8 A|2 B|0 INSERT|8 A|2 B|0 LINE|8 A|11 1", Options{MaxPlaced: 15}, 11, `beyond 15 pieces`},
		{"drawing too large by lines", "", lines, Options{MaxPlaced: 5}, 5, `more than 5 pieces`},
		{"long polylines count by their pieces", block("B", "0 LWPOLYLINE|8 0|70 1|"+strings.Repeat("10 0|20 0|10 1|20 1|", 20)), "0 INSERT|8 A|2 B", Options{MaxPerInsert: 15}, 0, "[too-many-entities]"},
		{"missing block", "", "0 INSERT|8 A|2 B|10 1000|20 2000|0 LINE|8 A|11 1", Options{}, 1, `t.dxf:5: person [block-missing] INSERT @5, layer A, at (1.000, 2.000) m: block "B" is not defined in this file; nothing of it is read; export again with all blocks`},
		{"reference by its path alone", strings.Replace(block("X", ""), "70 0|", "70 0|1 plans/core.dwg|", 1), "0 INSERT|8 A|2 X", Options{}, 0, `[xref-missing]`},
		{"reference whose entities are here", strings.Replace(block("X", "0 LINE|8 0|11 1"), "70 0", "70 4", 1), "0 INSERT|8 A|2 X", Options{}, 1, ""},
		{"block defined twice", block("B", "0 LINE|8 0|11 1") + block("B", "0 LINE|8 0|11 2"), "0 INSERT|8 A|2 B", Options{}, 1, "[block-redefined]"},
		{"insert of itself", block("B", "0 LINE|8 0|11 1|0 INSERT|8 0|2 B"), "0 INSERT|8 A|2 B", Options{}, 1, `block "B" contains itself ("B" in "B")`},
		{"scaled by nothing", block("B", "0 LINE|8 0|11 1"), "0 INSERT|8 A|2 B|41 0", Options{}, 0, `[bad-number] INSERT @`},
		{"placed beyond all bounds", block("B", "0 LINE|8 0|10 5|11 1"), "0 INSERT|8 A|2 B|41 1e11|42 1e11|0 LINE|8 A|11 1", Options{}, 1, "[coordinate-too-large]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.opt.UnitMM = 1
			d, exc := read(t, file("", "", c.blocks, c.entities), c.opt)
			if len(d.Segments) != c.segments {
				t.Errorf("%d segments, want %d", len(d.Segments), c.segments)
			}
			var got []string
			for _, e := range exc {
				got = append(got, e.String())
			}
			all := strings.Join(got, "\n")
			if (c.want == "") != (all == "") || !strings.Contains(all, c.want) || len(got) > 1 {
				t.Errorf("got %q, want %q", all, c.want)
			}
		})
	}
}

// Exceptions of one kind are named up to a limit and then counted.
func TestExceptions_counted(t *testing.T) {
	_, exc := read(t, file("", "", "", strings.Repeat("0 LINE|8 A|10 x|11 1|", 50)), Options{})
	if len(exc) != MaxExceptions || !strings.Contains(exc[MaxExceptions-1].Message, "and 30 more like this") {
		t.Errorf("%d: %v", len(exc), exc[len(exc)-1])
	}
}

// An entity with more vertices than are read is named, not cut short.
func TestEntities_tooLong(t *testing.T) {
	many := strings.Repeat("10\n1\n20\n2\n", MaxVertices+1)
	for name, e := range map[string]string{
		"LWPOLYLINE": "0\nLWPOLYLINE\n" + many,
		"POLYLINE":   "0\nPOLYLINE\n" + strings.Repeat("0\nVERTEX\n10\n1\n", MaxVertices+1),
		"HATCH":      "0\nHATCH\n91\n1\n92\n3\n93\n1\n" + many,
	} {
		d, exc := read(t, "0\nSECTION\n2\nENTITIES\n"+e+"0\nENDSEC\n0\nEOF\n", Options{})
		if len(exc) != 1 || !strings.Contains(exc[0].String(), name+" @5, layer 0: it has more than 1000000 vertices") || len(d.Others) != 1 {
			t.Errorf("%s: %v", name, exc)
		}
	}
}
