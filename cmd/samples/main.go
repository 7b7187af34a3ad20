package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"boardrun/internal/dxf"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: samples FOLDER")
		os.Exit(2)
	}
	for name, write := range samples() {
		if err := save(filepath.Join(os.Args[1], filepath.FromSlash(name)), write); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

// samples are the files this command writes, by their names in the folder.
func samples() map[string]func(io.Writer) error {
	plan := func(d *drawing) func(io.Writer) error {
		return func(w io.Writer) error { return emit(w, d) }
	}
	return map[string]func(io.Writer) error{
		"vet-clinic/plan.dxf":      plan(vetPlan()),
		"vet-clinic-ifc/model.ifc": func(w io.Writer) error { return vetModel().write(w, "model.ifc") },
		"library-wing/level-1.dxf": plan(libraryWing(1)),
		"library-wing/level-2.dxf": plan(libraryWing(2)),
	}
}

func save(path string, write func(io.Writer) error) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// emit writes a plan through the project's own DXF writer.
func emit(w io.Writer, d *drawing) error {
	out := &dxf.Drawing{InsUnits: 1, LUnits: 4}
	if d.unit == "mm" {
		out.InsUnits, out.Measurement, out.LUnits = 4, 1, 2
	}
	for _, l := range d.layers {
		q := dxf.Layer{Name: l.name, Colour: l.colour}
		if l.dashed {
			q.Linetype = "Dashed"
		}
		out.Layers = append(out.Layers, q)
	}
	for _, b := range d.blocks {
		out.Blocks = append(out.Blocks, symbol(b, d.tags(b.name), d.unit))
	}
	add := func(e dxf.Entity) { out.Entities = append(out.Entities, e) }
	pen := func(layer string) dxf.Pen { return dxf.Pen{Layer: layer} }
	for _, l := range d.lines {
		add(dxf.Line{Pen: pen(l.layer), A: [2]float64{l.a.x, l.a.y}, B: [2]float64{l.b.x, l.b.y}})
	}
	for _, r := range d.rects {
		add(dxf.Polyline{Pen: pen(r.layer), Closed: true, Vertices: []dxf.Vertex{{X: r.x0, Y: r.y0}, {X: r.x1, Y: r.y0}, {X: r.x1, Y: r.y1}, {X: r.x0, Y: r.y1}}})
	}
	for _, a := range d.arcs {
		add(dxf.Arc{Pen: pen(a.layer), Centre: [2]float64{a.c.x, a.c.y}, Radius: a.r, Start: a.start, End: a.end})
	}
	for _, c := range d.circles {
		add(dxf.Circle{Pen: pen(c.layer), Centre: [2]float64{c.c.x, c.c.y}, Radius: c.r})
	}
	for _, h := range d.hatches {
		add(dxf.Hatch{Pen: pen(h.layer), Rings: [][]dxf.Vertex{{{X: h.x0, Y: h.y0}, {X: h.x1, Y: h.y0}, {X: h.x1, Y: h.y1}, {X: h.x0, Y: h.y1}}}})
	}
	for _, t := range d.texts {
		q := dxf.Text{Pen: pen(t.layer), At: [2]float64{t.at.x, t.at.y}, Height: t.h, Value: t.s}
		if t.centre {
			q.H, q.V = dxf.Centre, dxf.Middle
		}
		add(q)
	}
	for _, i := range d.inserts {
		q := dxf.Insert{Pen: pen(i.layer), Block: i.block, At: [2]float64{i.at.x, i.at.y}, Angle: i.angle}
		if i.mirror {
			q.SX = -1
		}
		for _, a := range i.attribs {
			q.Attribs = append(q.Attribs, dxf.Attrib{Tag: a[0], Value: a[1]})
		}
		add(q)
	}
	return out.Write(w)
}

// tags are the attributes that inserts of a block carry, in order.
func (d *drawing) tags(block string) []string {
	var tags []string
	for _, i := range d.inserts {
		if i.block == block {
			for _, a := range i.attribs[len(tags):] {
				tags = append(tags, a[0])
			}
		}
	}
	return tags
}

// symbol is a block definition with its attributes below it.
func symbol(b block, tags []string, unit string) dxf.Block {
	out := dxf.Block{Name: b.name}
	h := 4.0
	if unit == "mm" {
		h = 100
	}
	for _, l := range b.lines {
		out.Entities = append(out.Entities, dxf.Line{Pen: dxf.Pen{Layer: l.layer}, A: [2]float64{l.a.x, l.a.y}, B: [2]float64{l.b.x, l.b.y}})
	}
	for _, a := range b.arcs {
		out.Entities = append(out.Entities, dxf.Arc{Pen: dxf.Pen{Layer: a.layer}, Centre: [2]float64{a.c.x, a.c.y}, Radius: a.r, Start: a.start, End: a.end})
	}
	for i, t := range tags {
		out.Entities = append(out.Entities, dxf.AttDef{
			Pen: dxf.Pen{Layer: "A-DOOR-IDEN"}, Tag: t, Prompt: t, At: [2]float64{h, -h * 1.5 * float64(i+2)}, Height: h, Invisible: i > 0,
		})
	}
	return out
}
