package part21

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const (
	head = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('v'),'2;1');\nFILE_NAME('n','t',(''),(''),'','sys','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
	tail = "ENDSEC;\nEND-ISO-10303-21;\n"
)

var voc = NewVocabulary("IFCWALL", "IFCSLAB", "IFCLABEL", "IFCCARTESIANPOINT")

const (
	wall Keyword = iota + 1
	slab
	label
	point
)

func open(t testing.TB, text string, workers int) (*File, error) {
	t.Helper()
	return Open("t.ifc", strings.NewReader(text), int64(len(text)), Options{Vocabulary: voc, Keep: []Keyword{wall, slab}, Workers: workers})
}

func mustOpen(t testing.TB, data string) *File {
	t.Helper()
	f, err := open(t, head+data+tail, 1)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Oracle: the examples of ISO 10303-21:2016 6.4.3 and hand decoding.
func TestText(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", `Wall 1`, "Wall 1"},
		{"apostrophe", `5'' 2`, "5' 2"},
		{"backslash", `a\\b`, `a\b`},
		{"s default page", `\S\D\S\Vf`, "ÄÖf"},
		{"s other page", `\PE\\S\Q\S\P`, "ба"},
		{"x", `Stra\X\DFe`, "Straße"},
		{"x2", `\X2\04210442\X0\!`, "Ст!"},
		{"x2 surrogates", `\X2\D83DDE00\X0\`, "😀"},
		{"x4", `\X4\0001F600\X0\`, "😀"},
		{"raw utf-8", "Höhe ½", "Höhe ½"},
		{"raw latin-1", "H\xf6he", "Höhe"},
		{"broken x2 stays", `\X2\04\X0\`, `\X2\04\X0\`},
		{"broken x stays", `\X\G1`, `\X\G1`},
		{"lone backslash", `a\`, `a\`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := decodeText([]byte(c.in)); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func dump(v *Value) string {
	switch v.Kind {
	case Null:
		return "$"
	case Derived:
		return "*"
	case Ref:
		return v.Ref().String()
	case Int, Real:
		return fmt.Sprint(v.Float())
	case String:
		return fmt.Sprintf("%q", v.Text())
	case Enum:
		return "." + v.Enum() + "."
	case Binary:
		return `"` + string(v.text) + `"`
	}
	var parts []string
	for i := range v.List() {
		parts = append(parts, dump(&v.List()[i]))
	}
	s := "(" + strings.Join(parts, ",") + ")"
	if v.Kind == Typed {
		return voc.Name(v.Key) + s
	}
	return s
}

func TestDecode(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"every kind", `#1=IFCWALL($,*,#22,-3,1.5E2,'a',.T.,"0F",(1,(2.,#3)),IFCLABEL('x'));`, `IFCWALL($,*,#22,-3,150,"a",.T.,"0F",(1,(2,#3)),IFCLABEL("x"))`},
		{"odd spacing", " # 1 = IfcWall\t( 'a;b' ,\n\r\n .F. , ( ) ) ;", ``},
		{"spacing", "  #1  =\n IFCWALL (\t'a;b'\n,.F. , ( ) ) ;", `IFCWALL("a;b",.F.,())`},
		{"comments", `/* #2=IFCWALL(); */#1/*a*/=/*b;*/IFCWALL/*c*/(/*'*/1/*,*/,2);`, `IFCWALL(1,2)`},
		{"lower case keyword", `#1=IfcWall(.t.);`, `IFCWALL(.t.)`},
		{"complex", `#1=(IFCSLAB(1)IFCWALL(2));`, `IFCSLAB(1)+IFCWALL(2)`},
		{"unknown keyword", `#1=IFCTHING(1);`, `IFCTHING(1)`},
		{"large id", `#1=IFCWALL(#9223372036854775800);`, `IFCWALL(#9223372036854775800)`},
		{"string with slash and star", `#1=IFCWALL('/* not a comment','*/');`, `IFCWALL("/* not a comment","*/")`},
		{"doubled apostrophe before semicolon", `#1=IFCWALL('a'';');`, `IFCWALL("a';")`},
		{"long decimals", `#1=IFCWALL(0.1234567890123456789,1.E-30,123456789012345678.,-0.3048);`, `IFCWALL(0.12345678901234568,1e-30,1.2345678901234568e+17,-0.3048)`},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := mustOpen(t, c.in)
			rec, err := f.Reader().Get(1)
			if c.want == "" {
				if err == nil || f.StrayCount != 1 {
					t.Fatal("a statement that is no instance was not told")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, p := range append([]Record{*rec}, rec.More...) {
				v := Value{Kind: List, list: p.Args}
				got = append(got, p.Name+dump(&v))
			}
			if s := strings.Join(got, "+"); s != c.want {
				t.Errorf("got  %s\nwant %s", s, c.want)
			}
		})
	}
}

func TestDecode_broken(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"missing", `#2=IFCWALL();`, "t.ifc: #1: is referred to but not in the file"},
		{"no keyword", `#1=12;`, `t.ifc:8: #1: ( expected`},
		{"missing bracket", `#1=IFCWALL((1,2);`, `t.ifc:8: #1: , or ) expected after parameter 1`},
		{"deep", `#1=IFCWALL(` + strings.Repeat("(", 40) + strings.Repeat(")", 40) + `);`, `t.ifc:8: #1: lists are nested more than 32 deep`},
		{"huge number", `#1=IFCWALL(1.E999);`, `t.ifc:8: #1: number "1.E999" is out of range`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := mustOpen(t, c.in).Reader().Get(1)
			if err == nil || err.Error() != c.want {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

func TestOpen_refused(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"empty", "", "t.ifc: is empty; export the model"},
		{"xml", "\xef\xbb\xbf<?xml version=\"1.0\"?>", "t.ifc: is XML (ifcXML), which is not read; export the model as IFC in the STEP format"},
		{"dwg", "AC1027\x00\x00", "t.ifc: is a DWG drawing"},
		{"pdf", "%PDF-1.4", "t.ifc: is a PDF"},
		{"utf-16", "\xff\xfeI\x00S\x00", "t.ifc: is encoded as UTF-16"},
		{"text", "a plain letter to nobody", "t.ifc: is not an ISO 10303-21 file: it starts with \"a plain lett\""},
		{"cut in a statement", head + "#1=IFCWALL(1);\n#2=IFCWA", "t.ifc:9: #2: the file is incomplete: it ends within this statement"},
		{"cut in a string", head + "#1=IFCWALL('ab", "t.ifc:8: #1: text opened here is never closed"},
		{"cut between statements", head + "#1=IFCWALL(1);\n", "t.ifc:9: the file is incomplete: its data section is never closed"},
		{"comment", head + "#1=IFCWALL(1);\n/* open\n" + tail, "t.ifc:9: comment opened here is never closed"},
		{"comment in a statement", head + "#1=IFCWALL(/* open\n1);\n" + tail, "t.ifc:8: #1: comment opened here is never closed"},
		{"broken zip", "PK\x03\x04 nothing", "t.ifc: looks like a ZIP archive but cannot be opened"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := open(t, c.in, 1)
			if err == nil || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

func TestHeader(t *testing.T) {
	f := mustOpen(t, "#1=IFCWALL();")
	want := Header{Description: []string{"v"}, Name: "n", Stamp: "t", System: "sys", Schemas: []string{"IFC4"}}
	if d := cmp.Diff(want, f.Header); d != "" {
		t.Error(d)
	}
}

// Oracle: files that other readers take: a byte order mark, comments and odd
// spacing before and in the header, two data sections, CR LF, a section of
// ISO 10303-21:2016, no end word.
func TestOpen_forgiven(t *testing.T) {
	data := "#1=IFCWALL('a');\n"
	for _, c := range []struct{ name, in string }{
		{"byte order mark", "\xef\xbb\xbf" + head + data + tail},
		{"comment first", "/* by hand */ " + head + data + tail},
		{"header in one line", strings.ReplaceAll(head, "\n", " ") + data + tail},
		{"CR LF", strings.ReplaceAll(head+data+tail, "\n", "\r\n")},
		{"CR alone", strings.ReplaceAll(head+data+tail, "\n", "\r")},
		{"lower case", strings.ToLower(head) + data + strings.ToLower(tail)},
		{"two data sections", head + data + "ENDSEC;\nDATA('more',('IFC4'));\n#2=IFCSLAB(1);\n" + tail},
		{"anchor section", strings.Replace(head, "DATA;", "ANCHOR;\n<a>=#1;\nENDSEC;\nDATA;", 1) + data + tail},
		{"no end word", head + data + "ENDSEC;\n"},
		{"blanks behind the end", head + data + tail + "\n\x00\x00 \n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := open(t, c.in, 1)
			if err != nil {
				t.Fatal(err)
			}
			if len(f.Of(wall)) != 1 || len(f.Header.Schemas) != 1 || f.StrayCount != 0 {
				t.Errorf("%d walls, %+v, strays %+v", len(f.Of(wall)), f.Header, f.Strays)
			}
		})
	}
}

func TestDuplicates_first_counts(t *testing.T) {
	f := mustOpen(t, "#1=IFCWALL(1);\n#2=IFCWALL(2);\n#3=IFCSLAB(3);\n#2=IFCSLAB(9);\n#3=IFCSLAB(4);\n")
	if len(f.Duplicates) != 2 || f.Duplicates[0].ID != 2 || f.Line(f.Duplicates[0].And) != 11 {
		t.Errorf("duplicates %+v", f.Duplicates)
	}
	rec, err := f.Reader().Get(2)
	if err != nil || rec.Key != wall {
		t.Errorf("#2 is %v, %v", rec, err)
	}
	if d := cmp.Diff([]ID{3}, f.Of(slab)); d != "" {
		t.Error(d)
	}
	if f.Instances != 3 {
		t.Errorf("%d instances", f.Instances)
	}
}

// generated returns a file of a few MB with everything that could mislead a
// scan that starts in the middle: instances inside strings and comments, long
// strings, ids out of order.
func generated() string {
	var b strings.Builder
	b.WriteString(head)
	for i := 0; b.Len() < 4<<20; i++ {
		id := i ^ 5
		switch i % 7 {
		case 0:
			fmt.Fprintf(&b, "#%d=IFCWALL('a;\n#%d=IFCSLAB(1);',$);\n", id+1, id+7000000)
		case 1:
			fmt.Fprintf(&b, "/* ;\n#%d=IFCSLAB(1);\n*/#%d=IFCWALL(#%d);", id+9000000, id+1, id)
		case 2:
			fmt.Fprintf(&b, "#%d=IFCSLAB('%s');\n", id+1, strings.Repeat("x;\n#5=IFCWALL(1);\n", i%300))
		default:
			fmt.Fprintf(&b, "#%d=IFCCARTESIANPOINT((%d.,0.5));\n", id+1, i)
		}
	}
	b.WriteString(tail)
	return b.String()
}

// Oracle: the scan by one goroutine from the start, which guesses nothing.
func TestScan_anyWorkers(t *testing.T) {
	text := generated()
	one, err := open(t, text, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{2, 3, 4, 5} {
		many, err := open(t, text, n)
		if err != nil {
			t.Fatal(err)
		}
		if one.Instances != many.Instances || len(many.Duplicates) != len(one.Duplicates) || one.StrayCount != many.StrayCount {
			t.Errorf("%d workers: %d instances, %d strays, want %d, %d", n, many.Instances, many.StrayCount, one.Instances, one.StrayCount)
		}
		for _, k := range []Keyword{wall, slab} {
			if d := cmp.Diff(one.Of(k), many.Of(k)); d != "" {
				t.Errorf("%d workers: %s", n, d)
			}
		}
	}
	r := one.Reader()
	for _, id := range one.Of(slab) {
		if _, err := r.Get(id); err != nil {
			t.Fatal(err)
		}
	}
}

func TestScan_longRecord(t *testing.T) {
	long := "#1=IFCWALL('" + strings.Repeat("abc;", 700_000) + "',(" + strings.Repeat("1.5,", 100_000) + "2));\n#2=IFCWALL(3);\n"
	for n := 1; n < 4; n++ {
		f, err := open(t, head+long+tail, n)
		if err != nil {
			t.Fatal(err)
		}
		r := f.Reader()
		rec, err := r.Get(1)
		if err != nil || len(rec.Arg(1).List()) != 100_001 || len(rec.Arg(0).Text()) != 2_800_000 {
			t.Fatalf("%d workers: %v", n, err)
		}
		if d := cmp.Diff([]ID{1, 2}, f.Of(wall)); d != "" {
			t.Error(d)
		}
	}
}

// shared returns a file of the corpus beside the project.
func shared(t testing.TB, name string) string {
	t.Helper()
	dir, _ := os.Getwd()
	for ; dir != "/"; dir = filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
	}
	p := filepath.Join(dir, "..", "shared", name)
	if _, err := os.Stat(p); err != nil {
		t.Skip("the corpus ../shared is not beside the project")
	}
	return p
}

func TestOpen_archives(t *testing.T) {
	for _, c := range []struct{ file, want string }{
		{"data/bad/zip-bomb.ifczip", "model.ifc in the archive grows more than 100-fold: no model packs like that; unpack and check it"},
		{"data/bad/zip-renamed.ifc", "is a ZIP archive without an .ifc file in it; pack the model itself"},
		{"data/ifc/hello-wall-xml-in-zip.ifczip", "holds ifcXML (Hellowall.ifcxml), which is not read; export the model as IFC in the STEP format (.ifc)"},
		{"data/ifc/four-walls-one-floor.ifczip", ""},
	} {
		t.Run(filepath.Base(c.file), func(t *testing.T) {
			b, err := os.ReadFile(shared(t, c.file))
			if err != nil {
				t.Fatal(err)
			}
			_, err = Open("a.zip", bytes.NewReader(b), int64(len(b)), Options{Vocabulary: voc})
			if (err == nil) != (c.want == "") || err != nil && err.Error() != "a.zip: "+c.want {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

func FuzzOpen(f *testing.F) {
	f.Add([]byte(head + "#1=IFCWALL('a',#2,(1.,2));\n#2=(IFCSLAB(1)IFCWALL(.T.));" + tail))
	f.Add([]byte(head + "/* c */ #1 = IFCWALL('\\X2\\0041\\X0\\');" + tail))
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, b []byte) {
		x, err := Open("f", bytes.NewReader(b), int64(len(b)), Options{Vocabulary: voc, Keep: []Keyword{wall, slab}})
		if err != nil {
			return
		}
		r := x.Reader()
		for _, a := range x.index.runs {
			for i := ID(0); i < ID(a.n); i++ {
				rec, err := r.Get(a.first + i)
				if err != nil {
					continue
				}
				for j := range rec.Args {
					rec.Arg(j).Text()
				}
			}
		}
	})
}

func FuzzText(f *testing.F) {
	f.Add([]byte(`\X2\0041\X0\\S\a\PB\''`))
	f.Fuzz(func(t *testing.T, b []byte) { decodeText(b) })
}
