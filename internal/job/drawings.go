package job

import (
	"fmt"
	"path"
	"strings"

	"boardrun/internal/geom"
)

var (
	layerRoles = []string{"wall", "door", "window", "opening", "room", "tag", "opening tag", "deck", "column", "wall fill", "ignore"}
	blockRoles = []string{"door", "window", "framed", "wrapped", "ignore"}
	statuses   = []string{"new", "existing", "demolish"}
	unitWords  = []string{"mm", "cm", "m", "inch", "foot", "in", "ft"}
	drawnWords = []string{"finish", "stud", "centre"}
)

// drawings reads the list of drawings; at least one is needed.
func (r *reader) drawings(f *fields, find func(string) (string, error)) {
	list := f.list("drawings")
	if len(list) == 0 {
		r.fail(f.node, "no drawing; write drawings: with - file: plan.dxf under it")
	}
	seen := map[string]bool{}
	for _, n := range list {
		d := r.drawing(n, find)
		key := fmt.Sprint(d.Path, "|", d.Storey, "|", d.Region)
		if d.File != "" && seen[key] {
			r.fail(n, "%s stands here a second time with the same storey and region", d.File)
		}
		seen[key] = true
		r.job.Drawings = append(r.job.Drawings, d)
	}
}

func (r *reader) drawing(n *node, find func(string) (string, error)) Drawing {
	f := r.fields(n, "a drawing", "file", "storey", "elevation", "unit", "scale", "region", "drawn", "layers", "blocks", "show-hidden")
	d := Drawing{Scale: 1, ShowHidden: f.yes("show-hidden"), Storey: f.text("storey")}
	if file := f.must("file", "plan.dxf"); file != nil {
		d.File = r.text(file)
		d.Path = r.find(file, d.File, find)
		r.at["drawing "+d.File] = n
	}
	if !d.Model() && d.Storey == "" {
		d.Storey = "1"
		r.assume("drawings."+d.File+".storey", "1", "nobody said which storey it shows", false)
	}
	if e := f.get("elevation"); e != nil {
		d.Elevation, _ = r.signed(e)
	}
	if u := f.get("unit"); u != nil {
		d.Unit = unitWords[r.choice(u, unitWords...)]
	}
	if s := f.get("scale"); s != nil {
		d.Scale = r.number(s)
	}
	if p := f.get("region"); p != nil {
		d.Region = r.outline(p)
	}
	switch w := f.get("drawn"); {
	case w != nil:
		d.Drawn = Drawn(r.choice(w, drawnWords...))
	case !d.Model():
		r.assume("drawings."+d.File+".drawn", "finish", "nobody said what wall lines are: faces of the finished wall", false)
	}
	keys, vals := f.pairs("layers")
	for i, k := range keys {
		d.Layers = append(d.Layers, r.layer(k, vals[i]))
	}
	keys, vals = f.pairs("blocks")
	for i, k := range keys {
		d.Blocks = append(d.Blocks, r.block(k, vals[i]))
	}
	return d
}

// Model reports whether the drawing is a building model, which tells heights
// and make-ups that a plan does not.
func (d *Drawing) Model() bool {
	switch strings.ToLower(path.Ext(d.File)) {
	case ".ifc", ".ifczip":
		return true
	}
	return false
}

func (r *reader) find(n *node, file string, find func(string) (string, error)) string {
	if find == nil || file == "" {
		return file
	}
	full, err := find(file)
	if err != nil {
		r.fail(n, "no drawing %q beside the job file; looked for %s", file, full)
	}
	return full
}

// layer reads "A-WALL: wall" or "A-WALL: {is: wall, status: existing}".
func (r *reader) layer(key, val *node) LayerRole {
	role := LayerRole{Pattern: key.text}
	if val.kind == scalar {
		role.Role = layerRoles[r.choice(val, layerRoles...)]
		return role
	}
	f := r.fields(val, "a layer", "is", "status", "type", "thickness", "drawn")
	if n := f.must("is", "wall"); n != nil {
		role.Role = layerRoles[r.choice(n, layerRoles...)]
	}
	if n := f.get("status"); n != nil {
		role.Status = statuses[r.choice(n, statuses...)]
	}
	if n := f.get("type"); n != nil {
		role.Type = r.text(n)
		r.use("type", role.Type, n)
	}
	if n := f.get("thickness"); n != nil {
		role.Thickness = r.thickness(n, "thickness")
	}
	if n := f.get("drawn"); n != nil {
		d := Drawn(r.choice(n, drawnWords...))
		role.Drawn = &d
	}
	return role
}

// block reads "DOOR-*: door" or "DOOR-*: {is: door, frame: HM}".
func (r *reader) block(key, val *node) BlockRole {
	role := BlockRole{Pattern: key.text}
	if val.kind == scalar {
		role.Role = blockRoles[r.choice(val, blockRoles...)]
		return role
	}
	f := r.fields(val, "a block", "is", "frame")
	if n := f.must("is", "door"); n != nil {
		role.Role = blockRoles[r.choice(n, blockRoles...)]
	}
	if n := f.get("frame"); n != nil {
		role.Type = r.text(n)
		r.use("frame", role.Type, n)
	}
	return role
}

// outline reads a polygon in the drawing's coordinates: two opposite corners
// or three and more points. It comes back counter-clockwise.
func (r *reader) outline(n *node) geom.Poly {
	if n.kind != list || len(n.items) < 2 {
		r.fail(n, "a region is two opposite corners, or three and more points: [[0in, 0in], [40ft, 30ft]]")
		return nil
	}
	var p geom.Poly
	for _, item := range n.items {
		if xyz := r.numbers(item, 2); xyz != nil {
			p = append(p, geom.Pt{X: xyz[0], Y: xyz[1]})
		}
	}
	if len(p) != len(n.items) {
		return nil
	}
	if len(p) == 2 {
		p = geom.Rect{
			Min: geom.Pt{X: min(p[0].X, p[1].X), Y: min(p[0].Y, p[1].Y)},
			Max: geom.Pt{X: max(p[0].X, p[1].X), Y: max(p[0].Y, p[1].Y)},
		}.Poly()
	}
	turn := turning(p)
	if turn == 0 {
		r.fail(n, "the region has no area")
		return nil
	}
	if turn < 0 {
		for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
			p[i], p[j] = p[j], p[i]
		}
	}
	return p
}

// turning returns the sign of the area of p. Map coordinates overflow an int64
// product, so it is taken from the first point in float64: only the sign, and
// whether there is an area at all, matters.
func turning(p geom.Poly) int {
	var twice float64
	for i := range p {
		a, b := p[i].Sub(p[0]), p[(i+1)%len(p)].Sub(p[0])
		twice += float64(a.X)*float64(b.Y) - float64(b.X)*float64(a.Y)
	}
	switch {
	case twice > 0:
		return 1
	case twice < 0:
		return -1
	}
	return 0
}

// numbers reads a list of exactly count lengths of either sign.
func (r *reader) numbers(n *node, count int) []Length {
	if n.kind != list || len(n.items) != count {
		shape := "[x, y], each a length: [12ft, 0in]"
		if count == 3 {
			shape = "[x, y, height], each a length: [12ft, 0in, 9'-6\"]"
		}
		r.fail(n, "a point is %s", shape)
		return nil
	}
	out := make([]Length, count)
	for i, item := range n.items {
		l, ok := r.signed(item)
		if !ok {
			return nil
		}
		out[i] = l
	}
	return out
}
