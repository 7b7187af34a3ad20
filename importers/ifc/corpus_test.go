package ifc

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

// shared returns a file of the corpus beside the project and skips the test
// where there is none.
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

func readFile(path string) (*plan.Plan, []Quantities, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	return ReadQuantities(filepath.Base(path), bytes.NewReader(b), int64(len(b)), Options{})
}

func mustRead(t testing.TB, name string) (*plan.Plan, map[string]Quantities) {
	t.Helper()
	p, q, err := readFile(shared(t, name))
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]Quantities{}
	for i, w := range p.Walls {
		guid := w.Sources[0].GUID
		by[guid] = together(by[guid], q[i])
	}
	return p, by
}

// together adds up the legs or pieces of one wall.
func together(a, b Quantities) Quantities {
	a.LengthMM += b.LengthMM
	a.ThicknessMM, a.HeightMM = max(a.ThicknessMM, b.ThicknessMM), max(a.HeightMM, b.HeightMM)
	a.GrossAreaM2, a.NetAreaM2, a.VolumeM3 = a.GrossAreaM2+b.GrossAreaM2, a.NetAreaM2+b.NetAreaM2, a.VolumeM3+b.VolumeM3
	a.LeftAreaM2, a.RightAreaM2 = a.LeftAreaM2+b.LeftAreaM2, a.RightAreaM2+b.RightAreaM2
	a.LeftGrossM2, a.RightGrossM2 = a.LeftGrossM2+b.LeftGrossM2, a.RightGrossM2+b.RightGrossM2
	a.LeftCoveredM2, a.RightCoveredM2 = a.LeftCoveredM2+b.LeftCoveredM2, a.RightCoveredM2+b.RightCoveredM2
	return a
}

// golden are the quantities an exporter wrote for one wall, in mm, m² and m³;
// NaN-free: what it did not write is absent.
type golden struct {
	guid, name string
	v          map[string]float64
}

func readGolden(t testing.TB, file string) []golden {
	t.Helper()
	b, err := os.ReadFile(shared(t, "data/golden/"+file+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	head := rows[0]
	var out []golden
	for _, r := range rows[1:] {
		g := golden{guid: r[0], name: r[2], v: map[string]float64{}}
		length, area, volume := goldenUnits(r[8])
		for i, h := range head {
			f, err := strconv.ParseFloat(r[i], 64)
			if err != nil {
				continue
			}
			switch h {
			case "Length", "Width", "Height":
				g.v[h] = f * length
			case "GrossSideArea", "NetSideArea":
				g.v[h] = f * area
			case "GrossVolume", "NetVolume":
				g.v[h] = f * volume
			}
		}
		for _, kv := range strings.Split(r[len(r)-1], "|") {
			k, v, _ := strings.Cut(kv, "=")
			if f, err := strconv.ParseFloat(v, 64); err == nil {
				g.v[k] = f
			}
		}
		out = append(out, g)
	}
	return out
}

func goldenUnits(s string) (length, area, volume float64) {
	length, area, volume = 1, 1, 1
	for _, u := range strings.Split(s, ";") {
		k, v, _ := strings.Cut(u, "=")
		switch k + v {
		case "LENGTHMETRE":
			length = 1000
		case "LENGTHFOOT":
			length = 304.8
		case "AREASQUARE FOOT":
			area = 0.09290304
		case "VOLUMECUBIC FOOT":
			volume = 0.028316846592
		case "VOLUME?":
			volume = 1e-9
		}
	}
	return
}
