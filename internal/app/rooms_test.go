package app

import (
	"context"
	"io"
	"path/filepath"
	"testing"
)

// A room tells the ceiling that its sides were measured under, and its sides.
// Oracle: the sample's job file, 9'-0" by default and 10'-0" in the store.
func TestRooms_ceilingsAndSides(t *testing.T) {
	p := &pipeline{effort: "quick", out: io.Discard}
	got, err := p.run(context.Background(), filepath.Join("..", "..", "samples", "vet-clinic", "job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	in := map[string]string{}
	for _, r := range got.Rooms {
		want := 108 * 25.4
		if r.Name == "STORE" {
			want = 120 * 25.4
		}
		if float64(r.CeilingMM) != want {
			t.Errorf("%s: ceiling at %v mm, want %v", r.Name, r.CeilingMM, want)
		}
		for _, f := range r.Faces {
			in[f] = r.Name
		}
	}
	sides := 0
	for i := range got.Faces {
		f := &got.Faces[i]
		if f.Room != in[f.ID] {
			t.Errorf("%s faces %q and is listed in %q", f.ID, f.Room, in[f.ID])
		}
		if f.Room != "" {
			sides++
		}
	}
	if len(got.Rooms) != 12 || sides < 30 {
		t.Errorf("%d rooms, %d sides face one", len(got.Rooms), sides)
	}
}
