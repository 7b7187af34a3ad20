package app

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
)

// all is a drawing group by group.
func (d *drawn) all() []pair {
	out := slices.Clone(d.head)
	for _, e := range d.entities {
		out = append(out, e...)
	}
	out = append(out, d.tail...)
	if out[len(out)-1] != (pair{0, "EOF"}) {
		out = append(out, pair{0, "EOF"})
	}
	return out
}

// binaryDXF writes a drawing as a binary file, group codes two bytes wide, or
// one as up to R12.
// Source: DXF Reference, "Binary DXF Files" and "Group Codes by Number".
func binaryDXF(wide bool) func(*drawn) []byte {
	return func(d *drawn) []byte {
		b := []byte("AutoCAD Binary DXF\r\n\x1a\x00")
		le := binary.LittleEndian
		for _, p := range d.all() {
			switch {
			case wide:
				b = le.AppendUint16(b, uint16(p.code))
			case p.code >= 255:
				b = le.AppendUint16(append(b, 255), uint16(p.code))
			default:
				b = append(b, byte(p.code))
			}
			v := strings.TrimSpace(p.value)
			within := func(lo, hi int) bool { return p.code >= lo && p.code <= hi }
			switch {
			case within(10, 59), within(110, 149), within(210, 239), within(460, 469), within(1010, 1059):
				b = le.AppendUint64(b, math.Float64bits(num(v)))
			case within(60, 79), within(170, 179), within(270, 289), within(370, 389), within(400, 409), within(1060, 1070):
				b = le.AppendUint16(b, uint16(int16(num(v))))
			case within(90, 99), within(420, 429), within(440, 459), p.code == 1071:
				b = le.AppendUint32(b, uint32(int32(num(v))))
			case within(290, 299):
				b = append(b, byte(num(v)))
			default:
				b = append(append(b, p.value...), 0)
			}
		}
		return b
	}
}

// asR9 writes a drawing as a release that had no handles, classes, objects,
// units or light polylines would.
func asR9(d *drawn) *drawn {
	var out []pair
	section, table := "", ""
	list := d.all()
	for i, p := range list {
		opens := func(what string) bool { return i > 0 && p.code == 2 && list[i-1] == pair{0, what} }
		switch {
		case opens("SECTION"):
			section = p.value
		case opens("TABLE"):
			table = p.value
		case p == pair{0, "ENDTAB"}:
			table = ""
		}
		if i > 0 && list[i-1] == (pair{0, "ENDSEC"}) {
			section = ""
		}
		frame := opens("SECTION") || p == pair{0, "SECTION"} || p == pair{0, "ENDSEC"}
		switch {
		case frame:
		case section == "HEADER", section == "CLASSES", section == "OBJECTS", table == "BLOCK_RECORD",
			slices.Contains([]int{5, 100, 102, 105, 330, 340, 350, 360, 370, 390, 420, 1001, 1000, 1005, 1070}, p.code):
			continue
		}
		out = append(out, p)
		if opens("SECTION") && section == "HEADER" {
			out = append(out, pair{9, "$ACADVER"}, pair{1, "AC1004"}, pair{9, "$LUNITS"}, pair{70, d.variable("$LUNITS")})
		}
	}
	return &drawn{head: oldPolylines(out)}
}

// variable is the value of a variable of the header.
func (d *drawn) variable(name string) string {
	for i, p := range d.head {
		if p == (pair{9, name}) {
			return d.head[i+1].value
		}
	}
	return "2"
}

// oldPolylines turns every LWPOLYLINE into a POLYLINE with its VERTEX entities.
func oldPolylines(list []pair) []pair {
	var out []pair
	for i := 0; i < len(list); i++ {
		if list[i] != (pair{0, "LWPOLYLINE"}) {
			out = append(out, list[i])
			continue
		}
		head, vertices := []pair{{0, "POLYLINE"}, {66, "1"}}, []pair{}
		layer := pair{8, "0"}
		for i++; list[i].code != 0; i++ {
			switch p := list[i]; p.code {
			case 8:
				layer = p
				head = append(head, p)
			case 10:
				vertices = append(vertices, pair{0, "VERTEX"}, layer, p)
			case 20, 42:
				vertices = append(vertices, p)
			case 70, 6, 62:
				head = append(head, p)
			}
		}
		i--
		out = append(append(append(out, head...), vertices...), pair{0, "SEQEND"})
	}
	return out
}

// The same drawing in another encoding is the same takeoff, byte for byte but
// for places in the file.
func TestMetamorphic_otherEncodings(t *testing.T) {
	lineEnds := func(end string) func(*drawn) []byte {
		return func(d *drawn) []byte { return bytes.ReplaceAll(d.bytes(), []byte("\n"), []byte(end)) }
	}
	for _, name := range someSamples() {
		want := plain(t, name)
		for _, c := range []struct {
			name string
			save func(*drawn) []byte
		}{
			{"binary, codes of two bytes", binaryDXF(true)},
			{"CR LF", lineEnds("\r\n")},
			{"CR", lineEnds("\r")},
			{"UTF-8 with a mark", func(d *drawn) []byte { return append([]byte("\xef\xbb\xbf"), d.bytes()...) }},
			{"UTF-16", func(d *drawn) []byte {
				b := []byte{0xff, 0xfe}
				for _, u := range utf16.Encode([]rune(string(d.bytes()))) {
					b = binary.LittleEndian.AppendUint16(b, u)
				}
				return b
			}},
		} {
			t.Run(name+" "+c.name, func(t *testing.T) {
				if d := differs(bare(t, want), bare(t, variant{sample: name, save: c.save}.must(t))); d != "" {
					t.Error(d)
				}
			})
		}
		// Without handles or a unit in the header what is measured is the same.
		for _, c := range []struct {
			name string
			save func(*drawn) []byte
		}{
			{"R9", func(d *drawn) []byte {
				var b bytes.Buffer
				for _, p := range asR9(d).all() {
					fmt.Fprintf(&b, "%d\n%s\n", p.code, p.value)
				}
				return b.Bytes()
			}},
			{"R9, binary", func(d *drawn) []byte { return binaryDXF(false)(asR9(d)) }},
		} {
			t.Run(name+" "+c.name, func(t *testing.T) {
				got := variant{sample: name, save: c.save}.must(t)
				if d := differs(measured(t, want), measured(t, got)); d != "" {
					t.Error(d)
				}
			})
		}
	}
}
