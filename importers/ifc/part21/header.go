package part21

import (
	"bytes"
	"strings"
)

// Header is what a file says of itself.
type Header struct {
	Description []string // FILE_DESCRIPTION
	Name        string   // FILE_NAME
	Stamp       string   // its time stamp, as written
	System      string   // originating system
	Schemas     []string // FILE_SCHEMA
}

// sections checks the order of the section words and reads the header.
func (f *File) sections() error {
	const (
		before = iota
		header
		between
		data
		other // sections of the edition of 2016 that hold no instances
		done
	)
	state, closed := before, false
	for _, g := range f.index.segs {
		f.StrayCount += g.strays
		for _, st := range g.others {
			t := skipBlank(bytes.TrimPrefix([]byte(st.text), []byte("\xef\xbb\xbf")))
			switch w := strings.ToUpper(string(word(t))); {
			case w == "ISO-10303-21" && state == before:
				state = between
			case w == "HEADER":
				state = header
			case w == "DATA":
				state, closed = data, false
			case w == "ENDSEC":
				closed = state == data
				state = between
			case w == "END-ISO-10303-21":
				state = done
			case state == header:
				f.headerEntry(w, t)
			case state == before:
				return &Error{File: f.Name, Line: f.Line(st.off), Msg: "does not start with ISO-10303-21", Do: "it is not an IFC STEP file; export one"}
			case w == "ANCHOR" || w == "REFERENCE" || w == "SIGNATURE":
				state = other
			case state == other || state == done:
			default:
				if len(f.Strays) < MaxStrays {
					f.Strays = append(f.Strays, Stray{st.off, string(t[:min(len(t), 40)])})
				}
				continue
			}
			f.StrayCount--
		}
		g.others = nil
	}
	switch {
	case state == before:
		return &Error{File: f.Name, Line: 1, Msg: "is not an ISO 10303-21 file", Do: "export an IFC STEP file (.ifc)"}
	case state != done && !closed:
		return &Error{File: f.Name, Line: f.Line(f.size), Msg: "the file is incomplete: its data section is never closed", Do: "copy or export it again"}
	}
	return nil
}

// headerEntry reads one entry of the header section. A broken one is skipped:
// nothing but the schema matters, and its absence is noticed.
func (f *File) headerEntry(w string, t []byte) {
	d := decoder{voc: f.voc, data: t[len(w):], last: true}
	args, err := d.parameters()
	if err != nil {
		return
	}
	r := Record{Args: args}
	switch w {
	case "FILE_DESCRIPTION":
		f.Header.Description = texts(r.Arg(0))
	case "FILE_NAME":
		f.Header.Name, f.Header.Stamp, f.Header.System = r.Arg(0).Text(), r.Arg(1).Text(), r.Arg(5).Text()
	case "FILE_SCHEMA":
		f.Header.Schemas = texts(r.Arg(0))
	}
}

func texts(v *Value) []string {
	var out []string
	for i := range v.List() {
		out = append(out, v.List()[i].Text())
	}
	return out
}
