package write

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"slices"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"boardrun/internal/report"
)

// dotsPerMM is the fineness of pictures: writing of 2.2 mm is 11 dots high.
const dotsPerMM = 5.0

// mostDots bounds a picture's sides: no drawing, however odd, asks for more.
const mostDots = 4000

// PNG writes a drawing at its own scale as a picture, and returns its size.
func PNG(w io.Writer, d *report.Picture) (width, height int, err error) {
	k := newRaster(d)
	for i := range d.Marks {
		if m := &d.Marks[i]; m.Text == "" {
			k.mark(m)
		}
	}
	for i := range d.Marks {
		if m := &d.Marks[i]; m.Text != "" {
			k.label(m)
		}
	}
	box := k.img.Bounds()
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	return box.Dx(), box.Dy(), enc.Encode(w, tones(k.img))
}

// inkTones are the sixteen tones between ink and paper that a picture is kept
// in: a quarter of the bytes, and no difference to the eye.
var inkTones = func() color.Palette {
	p := make(color.Palette, 16)
	mix := func(ink uint8, i int) uint8 { return uint8((int(ink)*(15-i) + 255*i) / 15) }
	for i := range p {
		p[i] = color.RGBA{mix(0x1f, i), mix(0x2a, i), mix(0x33, i), 255}
	}
	return p
}()

// tones brings a picture down to ink's tones, by brightness.
func tones(img *image.RGBA) *image.Paletted {
	out := image.NewPaletted(img.Bounds(), inkTones)
	for i := range out.Pix {
		q := img.Pix[4*i : 4*i+3]
		y := (299*int(q[0]) + 587*int(q[1]) + 114*int(q[2])) / 1000
		out.Pix[i] = uint8(max(0, min(15, ((y-40)*15+107)/215))) // ink is as bright as 40
	}
	return out
}

// raster is a picture being drawn. Points are rounded to a sixteenth of a dot
// and tiles are small enough that the rasteriser counts in whole numbers, so
// that every machine gives the same bytes.
type raster struct {
	img   *image.RGBA
	fill  *vector.Rasterizer
	dots  float64 // to one millimetre of the thing drawn
	min   report.UV
	faces [2]*typeface
}

const (
	tile       = 512 // beyond it package vector counts in floating point
	rasterEdge = 2.0 // mm round the drawing
)

type dot [2]float64

func newRaster(d *report.Picture) *raster {
	scale := d.Scale
	if scale <= 0 {
		scale = report.DefaultScale
	}
	k := &raster{fill: vector.NewRasterizer(0, 0), dots: dotsPerMM / scale, min: d.Min}
	size := func(axis int) int {
		n := float64(d.Max[axis]-d.Min[axis])*k.dots + 2*rasterEdge*dotsPerMM
		if !(n >= 1) { // NaN too
			return 1
		}
		return int(math.Ceil(min(n, mostDots)))
	}
	k.img = image.NewRGBA(image.Rect(0, 0, size(0), size(1)))
	draw.Draw(k.img, k.img.Bounds(), image.White, image.Point{}, draw.Src)
	k.faces = [2]*typeface{sansFace(liberationsansregular.TTF), sansFace(liberationsansbold.TTF)}
	return k
}

// at is where a point of the drawing stands in the picture, y down.
func (k *raster) at(p report.UV) dot {
	edge := rasterEdge * dotsPerMM
	return dot{edge + float64(p[0]-k.min[0])*k.dots, float64(k.img.Bounds().Dy()) - edge - float64(p[1]-k.min[1])*k.dots}
}

func hex(s string) color.RGBA {
	v := [3]uint8{}
	for i := range v {
		for _, c := range []byte(s[1+2*i : 3+2*i]) {
			n := c - '0'
			if c >= 'a' {
				n = c - 'a' + 10
			}
			v[i] = v[i]<<4 | n
		}
	}
	return color.RGBA{v[0], v[1], v[2], 255}
}

// area fills closed outlines, whole within their box, tile by tile.
func (k *raster) area(c color.RGBA, rings ...[]dot) {
	lo, hi := dot{math.Inf(1), math.Inf(1)}, dot{math.Inf(-1), math.Inf(-1)}
	for _, r := range rings {
		for i := range r {
			for a := range r[i] {
				r[i][a] = math.Round(r[i][a]*16) / 16
				lo[a], hi[a] = min(lo[a], r[i][a]), max(hi[a], r[i][a])
			}
		}
	}
	b := k.img.Bounds()
	whole := func(v float64, most int) int { return int(max(0, min(v, float64(most)))) }
	x0, x1 := whole(math.Floor(lo[0]), b.Dx()), whole(math.Ceil(hi[0]), b.Dx())
	y0, y1 := whole(math.Floor(lo[1]), b.Dy()), whole(math.Ceil(hi[1]), b.Dy())
	ink := image.NewUniform(c)
	for y := y0; y < y1; y += tile {
		for x := x0; x < x1; x += tile {
			w, h := min(tile, x1-x), min(tile, y1-y)
			k.fill.Reset(w, h)
			k.fill.DrawOp = draw.Over
			for _, r := range rings {
				for i, p := range r {
					if i == 0 {
						k.fill.MoveTo(float32(p[0]-float64(x)), float32(p[1]-float64(y)))
						continue
					}
					k.fill.LineTo(float32(p[0]-float64(x)), float32(p[1]-float64(y)))
				}
				k.fill.ClosePath()
			}
			k.fill.Draw(k.img, image.Rect(x, y, x+w, y+h), ink, image.Point{})
		}
	}
}

// line draws a polyline, dash by dash where it has any; lengths in dots.
func (k *raster) line(c color.RGBA, width float64, dash []float64, pts []dot) {
	left, on, next := math.Inf(1), true, 0
	if len(dash) > 0 {
		left = dash[0]
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		if l == 0 || math.IsNaN(l) || l > 1e5 {
			continue
		}
		t := dot{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		n := dot{-t[1] * width / 2, t[0] * width / 2}
		for from := 0.0; from < l; {
			to := min(l, from+left)
			if on {
				p, q := dot{a[0] + t[0]*from, a[1] + t[1]*from}, dot{a[0] + t[0]*to, a[1] + t[1]*to}
				if len(dash) == 0 && i+1 < len(pts) { // ends of solid lines meet
					q[0], q[1] = q[0]+t[0]*width/2, q[1]+t[1]*width/2
				}
				k.area(c, []dot{{p[0] + n[0], p[1] + n[1]}, {q[0] + n[0], q[1] + n[1]}, {q[0] - n[0], q[1] - n[1]}, {p[0] - n[0], p[1] - n[1]}})
			}
			if left -= to - from; left <= 1e-9 && len(dash) > 0 {
				next, on = (next+1)%len(dash), !on
				left = dash[next]
			}
			from = to
		}
	}
}

func (k *raster) mark(m *report.Mark) {
	p := pens[m.Pen]
	ink := hex(p.colour)
	pts := make([]dot, len(m.Points))
	for i, q := range m.Points {
		pts[i] = k.at(q)
	}
	switch m.Fill {
	case report.FillPale:
		k.area(hex("#eef1f3"), slices.Clone(pts))
	case report.FillSolid:
		k.area(ink, slices.Clone(pts))
	case report.FillHatch:
		k.hatch(pts)
	}
	dash := make([]float64, len(p.dash))
	for i, d := range p.dash {
		dash[i] = d * dotsPerMM
	}
	width := max(p.width*dotsPerMM, 1)
	if m.Closed && len(pts) > 0 {
		pts = append(pts, pts[0], pts[min(1, len(pts)-1)]) // once more along the first side, so that its corner is closed
		pts[len(pts)-1] = pts[0]
	}
	k.line(ink, width, dash, pts)
	if m.Fill == report.FillCross && len(m.Points) > 3 {
		lo, hi := pts[0], pts[0]
		for _, q := range pts {
			for a := range q {
				lo[a], hi[a] = min(lo[a], q[a]), max(hi[a], q[a])
			}
		}
		k.line(ink, 0.7, nil, []dot{lo, hi})
		k.line(ink, 0.7, nil, []dot{{lo[0], hi[1]}, {hi[0], lo[1]}})
	}
}

// hatch draws thin lines aslant across an outline, 3 mm apart.
func (k *raster) hatch(ring []dot) {
	const gap = 3 * dotsPerMM
	r := math.Sqrt2 / 2
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range ring { // across the lines
		v := (p[0] + p[1]) * r
		lo, hi = min(lo, v), max(hi, v)
	}
	if !(hi-lo < mostDots*2) {
		return
	}
	for v := math.Ceil(lo/gap) * gap; v < hi; v += gap {
		var cuts []float64
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			va, vb := (a[0]+a[1])*r, (b[0]+b[1])*r
			if (va > v) == (vb > v) {
				continue
			}
			f := (v - va) / (vb - va)
			x, y := a[0]+(b[0]-a[0])*f, a[1]+(b[1]-a[1])*f
			cuts = append(cuts, (x-y)*r)
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			at := func(u float64) dot { return dot{(v + u) * r, (v - u) * r} }
			k.line(hex("#9aa4ab"), 1, nil, []dot{at(cuts[i]), at(cuts[i+1])})
		}
	}
}

// typeface is a font with the buffer its glyphs are read into.
type typeface struct {
	font *sfnt.Font
	buf  sfnt.Buffer
	set  *letters
}

func sansFace(ttf []byte) *typeface {
	f, err := sfnt.Parse(ttf)
	if err != nil { // embedded, and read by a test
		return &typeface{}
	}
	return &typeface{font: f, set: newLetters(ttf)}
}

// label writes a text on a white ground: lines behind it stop there.
func (k *raster) label(m *report.Mark) {
	face := k.faces[0]
	if m.Bold {
		face = k.faces[1]
	}
	if face.font == nil {
		return
	}
	size := m.Size * dotsPerMM
	ppem := fixed.Int26_6(math.Round(size * 64))
	var glyphs []sfnt.GlyphIndex
	var along []float64
	x := 0.0
	for _, r := range face.set.shown(m.Text) {
		g, err := face.font.GlyphIndex(&face.buf, r)
		if err != nil {
			continue
		}
		adv, err := face.font.GlyphAdvance(&face.buf, g, ppem, 0)
		if err != nil {
			continue
		}
		glyphs, along = append(glyphs, g), append(along, x)
		x += float64(adv) / 64
	}
	at := k.at(m.Points[0])
	sin, cos := math.Sincos(m.Angle * math.Pi / 180)
	x0 := [...]float64{-x / 2, 0, -x}[m.Align]
	// Along the writing to the right, y down from the middle of its capitals.
	place := func(px, py float64) dot {
		px += x0
		return dot{at[0] + px*cos + py*sin, at[1] - px*sin + py*cos}
	}
	h := size * 0.42
	k.area(color.RGBA{255, 255, 255, 255}, []dot{place(-1, -h), place(x+1, -h), place(x+1, h), place(-1, h)})
	foot := size * 0.36
	for i, g := range glyphs {
		segs, err := face.font.LoadGlyph(&face.buf, g, ppem, nil)
		if err != nil {
			continue
		}
		if rings := outlinesOf(segs, along[i], foot, place); len(rings) > 0 {
			k.area(hex("#1f2a33"), rings...)
		}
	}
}

// outlinesOf turns a glyph into closed outlines; curves become short straights.
func outlinesOf(segs sfnt.Segments, x, y float64, place func(x, y float64) dot) [][]dot {
	var out [][]dot
	var pen [2]float64
	get := func(p fixed.Point26_6) [2]float64 { return [2]float64{float64(p.X) / 64, float64(p.Y) / 64} }
	add := func(p [2]float64) { out[len(out)-1] = append(out[len(out)-1], place(x+p[0], y+p[1])) }
	const parts = 4
	for _, s := range segs {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			out = append(out, nil)
			pen = get(s.Args[0])
			add(pen)
		case sfnt.SegmentOpLineTo:
			pen = get(s.Args[0])
			add(pen)
		case sfnt.SegmentOpQuadTo, sfnt.SegmentOpCubeTo:
			b, c := get(s.Args[0]), get(s.Args[1])
			cube := s.Op == sfnt.SegmentOpCubeTo
			for i := 1; i <= parts; i++ {
				t := float64(i) / parts
				u := 1 - t
				var p [2]float64
				for k := range p {
					if cube {
						p[k] = u*u*u*pen[k] + 3*u*u*t*b[k] + 3*u*t*t*c[k] + t*t*t*get(s.Args[2])[k]
					} else {
						p[k] = u*u*pen[k] + 2*u*t*b[k] + t*t*c[k]
					}
				}
				add(p)
			}
			if pen = c; cube {
				pen = get(s.Args[2])
			}
		}
	}
	return out
}
