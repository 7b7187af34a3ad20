package dxf

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// check refuses what could not be written soundly: a name no program takes, a
// layer, linetype or block that is not there, a number that is none.
func (d *Drawing) check() error {
	c := checker{layers: map[string]bool{"0": true}, blocks: map[string]*Block{}}
	for _, l := range d.Layers {
		c.layer(l)
	}
	for i := range d.Blocks {
		c.block(&d.Blocks[i])
	}
	for i := range d.Blocks {
		c.where = fmt.Sprintf("block %q", d.Blocks[i].Name)
		c.entities(d.Blocks[i].Entities, true)
		c.cycle(&d.Blocks[i], nil)
	}
	c.where = "modelspace"
	c.entities(d.Entities, false)
	if d.InsUnits < 0 || d.InsUnits > 24 {
		c.fail("InsUnits is %d, not 0 to 24", d.InsUnits)
	}
	if d.Measurement != 0 && d.Measurement != 1 || d.LUnits < 0 || d.LUnits > 5 {
		c.fail("Measurement %d or LUnits %d is out of range", d.Measurement, d.LUnits)
	}
	return c.err
}

type checker struct {
	where  string
	layers map[string]bool
	blocks map[string]*Block
	err    error
}

// fail keeps the first fault.
func (c *checker) fail(format string, args ...any) {
	if c.err == nil {
		msg := fmt.Sprintf(format, args...)
		if c.where != "" {
			msg = c.where + ": " + msg
		}
		c.err = errors.New("dxf: " + msg)
	}
}

// name refuses what no symbol table takes.
// Source: DXF Reference, "Symbol Table Group Codes"; 255 letters at most.
func (c *checker) name(kind, s string) {
	if s == "" || utf8.RuneCountInString(s) > 255 || !utf8.ValidString(s) || strings.ContainsAny(s, "<>/\\\":;?*|=,`\x00\n\r") || strings.TrimSpace(s) != s {
		c.fail("%q is no name for a %s", s, kind)
	}
}

func (c *checker) layer(l Layer) {
	c.name("layer", l.Name)
	key := strings.ToUpper(l.Name)
	if c.layers[key] && key != "0" {
		c.fail("layer %q is defined twice", l.Name)
	}
	c.layers[key] = true
	if l.Colour < 1 || l.Colour > 255 {
		c.fail("layer %q has colour %d, not 1 to 255", l.Name, l.Colour)
	}
	c.linetype(l.Linetype)
}

func (c *checker) linetype(s string) {
	if s != "" && !slices.Contains(Linetypes, s) {
		c.fail("linetype %q is not one of %s", s, strings.Join(Linetypes, ", "))
	}
}

func (c *checker) block(b *Block) {
	c.name("block", b.Name)
	key := strings.ToUpper(b.Name)
	if c.blocks[key] != nil {
		c.fail("block %q is defined twice", b.Name)
	}
	c.blocks[key] = b
	c.numbers("base", b.Base[:]...)
}

// cycle refuses a block that contains itself.
func (c *checker) cycle(b *Block, path []*Block) {
	if slices.Contains(path, b) {
		c.fail("block %q contains itself", b.Name)
		return
	}
	for _, e := range b.Entities {
		if in, ok := e.(Insert); ok && c.err == nil {
			if inner := c.blocks[strings.ToUpper(in.Block)]; inner != nil {
				c.cycle(inner, append(path, b))
			}
		}
	}
}

func (c *checker) entities(list []Entity, inBlock bool) {
	for i, e := range list {
		if c.err != nil {
			return
		}
		outer := c.where
		c.where = fmt.Sprintf("%s, entity %d (%T)", outer, i, e)
		p := e.pen()
		if p.Layer != "" && !c.layers[strings.ToUpper(p.Layer)] {
			c.fail("layer %q is not defined", p.Layer)
		}
		if p.Colour < 0 || p.Colour > 255 {
			c.fail("colour %d is not 0 to 255", p.Colour)
		}
		c.linetype(p.Linetype)
		c.entity(e, inBlock)
		c.where = outer
	}
}

func (c *checker) entity(e Entity, inBlock bool) {
	switch e := e.(type) {
	case Line:
		c.numbers("point", e.A[0], e.A[1], e.B[0], e.B[1])
	case Polyline:
		c.vertices(e.Vertices)
		c.numbers("width or elevation", e.Width, e.Elevation)
	case Arc:
		c.numbers("centre or angle", e.Centre[0], e.Centre[1], e.Start, e.End)
		c.positive("radius", e.Radius)
	case Circle:
		c.numbers("centre", e.Centre[:]...)
		c.positive("radius", e.Radius)
	case Text:
		c.numbers("place or angle", e.At[0], e.At[1], e.Angle)
		c.positive("height", e.Height)
		c.text(e.Value)
		c.alignment(e.H, e.V)
	case Hatch:
		if len(e.Rings) == 0 {
			c.fail("it has no ring")
		}
		for _, r := range e.Rings {
			c.vertices(r)
		}
	case Insert:
		c.insert(e)
	case AttDef:
		if !inBlock {
			c.fail("an attribute is defined in a block only")
		}
		c.numbers("place or angle", e.At[0], e.At[1], e.Angle)
		c.positive("height", e.Height)
		c.tag(e.Tag)
		c.text(e.Prompt)
		c.text(e.Default)
		c.alignment(e.H, e.V)
	default:
		c.fail("entities of this type are not written")
	}
}

func (c *checker) insert(e Insert) {
	c.numbers("place, scale or angle", e.At[0], e.At[1], e.SX, e.SY, e.Angle)
	b := c.blocks[strings.ToUpper(e.Block)]
	if b == nil {
		c.fail("block %q is not defined", e.Block)
		return
	}
	for _, a := range e.Attribs {
		c.tag(a.Tag)
		c.text(a.Value)
		if _, ok := b.attDef(a.Tag); !ok {
			c.fail("block %q defines no attribute %q", e.Block, a.Tag)
		}
	}
}

func (b *Block) attDef(tag string) (AttDef, bool) {
	for _, e := range b.Entities {
		if d, ok := e.(AttDef); ok && d.Tag == tag {
			return d, true
		}
	}
	return AttDef{}, false
}

func (c *checker) vertices(v []Vertex) {
	if len(v) < 2 {
		c.fail("it has %d vertices, at least 2 are needed", len(v))
	}
	for _, p := range v {
		c.numbers("vertex", p.X, p.Y, p.Bulge)
	}
}

func (c *checker) numbers(what string, x ...float64) {
	for _, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e12 {
			c.fail("%s is %g", what, v)
		}
	}
}

func (c *checker) positive(what string, x float64) {
	c.numbers(what, x)
	if !(x > 0) {
		c.fail("%s is %g, not above 0", what, x)
	}
}

func (c *checker) tag(s string) {
	if s == "" || strings.IndexFunc(s, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }) >= 0 {
		c.fail("%q is no tag for an attribute", s)
	}
}

// text refuses what a line of text cannot hold. Group values longer than 2049
// bytes are refused by some readers.
func (c *checker) text(s string) {
	if !utf8.ValidString(s) || len(s) > 2000 || strings.IndexFunc(s, unicode.IsControl) >= 0 {
		c.fail("%.40q is no single line of text of at most 2000 bytes", s)
	}
}

func (c *checker) alignment(h HAlign, v VAlign) {
	if h < Left || h > Right || v < Baseline || v > Top {
		c.fail("alignment %d, %d is not known", h, v)
	}
}
