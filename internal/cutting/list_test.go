package cutting

import (
	"errors"
	"strings"
	"testing"

	"boardrun/internal/measure"
)

func TestReadList(t *testing.T) {
	text := "\ufeffmark,board,width,left height,right height,count\r\n" +
		"T1,5/8 X,48in,9'-6 1/2\",9'-7 1/2\",2\r\n" +
		"T2,\"5/8 X\",1200mm,\"2'-0\"\"\",,\n\n" +
		"T3, 5/8 X ,48in,0,12in,1\n"
	got, err := ReadList("tops.csv", strings.NewReader(text), measure.InchPound)
	if err != nil {
		t.Fatal(err)
	}
	want := []Piece{ // Oracle: hand
		{ID: "T1", Board: "5/8 X", Outline: slope(48*in, 114*in+in/2, 115*in+in/2), Count: 2},
		{ID: "T2", Board: "5/8 X", Outline: rect(1200*measure.Millimetre, 24*in), Count: 1},
		{ID: "T3", Board: "5/8 X", Outline: trapezoid(48*in, 0, 12*in), Count: 1},
	}
	for i, w := range want {
		g := got[i]
		if g.ID != w.ID || g.Board != w.Board || g.Count != w.Count || len(g.Outline) != len(w.Outline) {
			t.Fatalf("%d: got %+v, want %+v", i, g, w)
		}
		for k := range w.Outline {
			if g.Outline[k] != w.Outline[k] {
				t.Errorf("%s: vertex %d is %v, want %v", w.ID, k, g.Outline[k], w.Outline[k])
			}
		}
	}
}

func TestReadList_faults(t *testing.T) {
	head := "mark,board,width,left height,right height,count\n"
	cases := []struct{ name, text, want string }{
		{"empty", "", "l.csv:1:1: no header"},
		{"header only", head, "l.csv:1:1: no pieces"},
		{"unknown column", "mark,width,left height,hight\n", "l.csv:1:24: unknown column \"hight\""},
		{"missing column", "mark,width\n", "l.csv:1:1: no column \"left height\""},
		{"column twice", "mark,mark,width,left height\n", "l.csv:1:6: column \"mark\" is there twice"},
		{"too few fields", head + "a,b,48in\n", "l.csv:2:5: 3 fields where the header has 6"},
		{"no unit", head + "a,b,48,96in,,\n", "l.csv:2:7: length \"48\""},
		{"zero width", head + "a,b,0,96in,,\n", "l.csv:2:5: length \"0\" must be above 0"},
		{"count", head + "a,b,48in,96in,,x\n", "l.csv:2:16: count \"x\""},
		{"mark twice", head + "a,b,48in,96in,,\na,b,48in,96in,,\n", "l.csv:3:1: mark \"a\" is on line 2"},
		{"open quote", head + "\"a,b,48in,96in,,\n", "l.csv:2:1: a quoted field"},
		{"flat", head + "a,b,48in,0,0,1\n", "l.csv:2:10: both heights are 0"},
		{"far too long", head + "a,b,48in,96m,,1\n", "l.csv:2:10: length \"96m\" is above 50 m"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadList("l.csv", strings.NewReader(c.text), measure.InchPound)
			if err == nil || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got %v, want %s…", err, c.want)
			}
			var le *ListError
			if !errors.As(err, &le) {
				t.Errorf("%v is not a *ListError", err)
			}
		})
	}
}

func TestParseStock(t *testing.T) {
	got, err := ParseStock("48in:96in,120in;54in:12'", measure.InchPound)
	want := []Stock{{Width: 48 * in, Length: 96 * in}, {Width: 48 * in, Length: 120 * in}, {Width: 54 * in, Length: 144 * in}}
	if err != nil || len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("got %v, %v", got, err)
	}
	for text, want := range map[string]string{
		"96in":           `stock "96in": character 1:`,
		"48in:96in,x":    `stock "48in:96in,x": character 11:`,
		"48in:96in,40in": `stock "48in:96in,40in": character 11:`,
		"48in:0":         `stock "48in:0": character 6:`,
	} {
		if _, err := ParseStock(text, measure.InchPound); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v, want %s…", text, err, want)
		}
	}
}

func FuzzReadList(f *testing.F) {
	f.Add("mark,board,width,left height,right height,count\nT1,b,48in,9'-6 1/2\",115in,2\n")
	f.Add("mark,width,left height\na,\"1200mm\",2.9m\n")
	f.Add("\ufeffmark,mark\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		pieces, err := ReadList("f.csv", strings.NewReader(text), measure.Metric)
		if (err == nil) != (len(pieces) > 0) {
			t.Fatalf("%d pieces and error %v", len(pieces), err)
		}
		total := 0
		for _, p := range pieces {
			total += p.Count
			if p.ID == "" || twiceArea(p.Outline) <= 0 {
				t.Fatalf("unusable piece %+v", p)
			}
		}
		if err == nil && total < 30 {
			s, _ := ParseStock("1200mm:2400mm,3600mm", measure.Metric)
			p := ListProblem(pieces, s)
			if bad := judge(p, Solve(p, Quick)); len(bad) > 0 {
				t.Fatal(bad)
			}
		}
	})
}

func FuzzParseStock(f *testing.F) {
	f.Add("48in:96in,120in,144in")
	f.Add("1200mm:2.4m;48in:12'")
	f.Fuzz(func(t *testing.T, text string) {
		if s, err := ParseStock(text, measure.InchPound); err == nil {
			for _, k := range s {
				if k.Width <= 0 || k.Length < k.Width {
					t.Fatalf("%q gives %+v", text, k)
				}
			}
		}
	})
}
