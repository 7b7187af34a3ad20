package part21

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"sync"
)

// File is one exchange structure, scanned. It is safe for concurrent use; each
// goroutine that decodes takes its own Reader.
type File struct {
	Name       string
	Header     Header
	Instances  int
	Duplicates []Duplicate // at most MaxDuplicates
	Strays     []Stray     // statements of the data sections that are no instances, at most MaxStrays
	StrayCount int

	src   io.ReaderAt
	size  int64
	voc   *Vocabulary
	keep  []bool
	index index
	lists [][]ID

	lineOnce sync.Once
	lines    []int // newlines before each block of the file
}

// Stray is a statement among the data that is no instance.
type Stray struct {
	Offset int64
	Text   string // its start
}

// Options of Open.
type Options struct {
	Vocabulary *Vocabulary
	Keep       []Keyword // keywords whose instances Of lists
	Workers    int       // goroutines that scan; 0 = one for each processor
}

// Open scans a file, or the one model in a ZIP archive. Faults that make the
// file unusable are an *Error.
func Open(name string, src io.ReaderAt, size int64, opt Options) (*File, error) {
	src, size, err := unpack(name, src, size)
	if err != nil {
		return nil, err
	}
	f := &File{Name: name, src: src, size: size, voc: opt.Vocabulary, keep: make([]bool, opt.Vocabulary.Len()+1)}
	for _, k := range opt.Keep {
		f.keep[k] = true
	}
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	if err := f.scanAll(min(workers, int(size/(1<<20))+1)); err != nil {
		return nil, err
	}
	if err := f.sections(); err != nil {
		return nil, err
	}
	f.finish()
	return f, nil
}

// scanAll scans the file in parts at once. A part starts at a place that looks
// like the start of an instance; it counts only if the part before it ends
// exactly there, else it is scanned again from where that one ended. So the
// result does not depend on the number of parts.
func (f *File) scanAll(parts int) error {
	segs := make([]*segment, parts)
	var wg sync.WaitGroup
	for i := range segs {
		wg.Go(func() {
			lo, hi := f.size*int64(i)/int64(parts), f.size*int64(i+1)/int64(parts)
			if i > 0 {
				lo = f.guess(lo)
			}
			if i == parts-1 {
				hi = f.size
			}
			if lo >= 0 {
				segs[i] = f.scan(lo, hi)
			}
		})
	}
	wg.Wait()
	for i, g := range segs {
		if i > 0 && (g == nil || g.start != segs[i-1].stop) {
			g = f.again(segs[i-1], f.size*int64(i+1)/int64(parts))
			segs[i] = g
		}
		if g.err != nil {
			g.err.File, g.err.Line = f.Name, f.Line(g.errOff)
			return g.err
		}
	}
	f.index.segs = segs
	return nil
}

// again scans the part behind prev; it is empty if prev's last statement
// reached beyond it.
func (f *File) again(prev *segment, limit int64) *segment {
	if prev.last >= limit {
		return &segment{start: prev.stop, stop: prev.stop, last: prev.last, lists: make([][]ID, f.voc.Len()+1)}
	}
	return f.scan(prev.stop, limit)
}

// guess returns the first place behind a semicolon at or behind off that looks
// like the start of an instance, −1 if none is near.
func (f *File) guess(off int64) int64 {
	buf := make([]byte, min(64<<10, f.size-off))
	n, _ := f.src.ReadAt(buf, off)
	buf = buf[:n]
	for i := 0; ; {
		j := bytes.IndexByte(buf[i:], ';')
		if j < 0 {
			return -1
		}
		i += j + 1
		t := skipBlank(buf[i:])
		at := len(buf) - len(t)
		if len(t) > 1 && t[0] == '#' {
			if _, n, ok := parseID(t[1:]); ok {
				if t = skipBlank(t[1+n:]); len(t) > 0 && t[0] == '=' {
					return off + int64(at)
				}
			}
		}
	}
}

// finish builds index and lists from the segments.
func (f *File) finish() {
	dups := f.index.build()
	f.Duplicates = dups[:min(len(dups), MaxDuplicates)]
	for _, a := range f.index.runs {
		f.Instances += int(a.n)
	}
	f.lists = make([][]ID, f.voc.Len()+1)
	for k := range f.lists {
		for _, g := range f.index.segs {
			f.lists[k] = append(f.lists[k], g.lists[k]...)
		}
		if !slices.IsSorted(f.lists[k]) {
			slices.Sort(f.lists[k])
		}
	}
	for _, g := range f.index.segs {
		g.lists = nil
	}
	if len(dups) > 0 {
		f.dropDuplicates(dups)
	}
}

// dropDuplicates takes repeated ids out of the lists of keywords they do not
// have at the place that counts.
func (f *File) dropDuplicates(dups []Duplicate) {
	r := f.Reader()
	twice := map[ID]*Record{}
	for _, d := range dups {
		if _, ok := twice[d.ID]; !ok {
			twice[d.ID], _ = r.Get(d.ID)
		}
	}
	for k, ids := range f.lists {
		f.lists[k] = slices.DeleteFunc(slices.Compact(ids), func(id ID) bool {
			rec, dup := twice[id]
			return dup && (rec == nil || rec.Part(Keyword(k)) == nil)
		})
	}
}

// Of returns the ids of the instances with keyword k, ascending, which must be
// one of Options.Keep. The caller must not change the slice.
func (f *File) Of(k Keyword) []ID { return f.lists[k] }

// Has reports whether the file holds an instance of that name.
func (f *File) Has(id ID) bool { return f.index.find(id, -1) >= 0 }

const lineBlock = 64 << 10

// Line returns the line, from 1, of an offset. The first call reads the file.
func (f *File) Line(off int64) int {
	f.lineOnce.Do(func() {
		buf := make([]byte, lineBlock)
		n := 0
		for at := int64(0); at < f.size; at += lineBlock {
			f.lines = append(f.lines, n)
			m, _ := f.src.ReadAt(buf[:min(lineBlock, f.size-at)], at)
			n += countLines(buf[:m])
		}
	})
	b := int(off / lineBlock)
	if b >= len(f.lines) {
		return 0
	}
	buf := make([]byte, off%lineBlock)
	m, _ := f.src.ReadAt(buf, off-off%lineBlock)
	return f.lines[b] + countLines(buf[:m]) + 1
}

// countLines counts line ends; files with CR alone count as one line.
func countLines(b []byte) int { return bytes.Count(b, []byte{'\n'}) }

// LineOf returns the line an instance stands on, 0 if there is none.
func (f *File) LineOf(id ID) int {
	i := f.index.find(id, -1)
	if i < 0 {
		return 0
	}
	return f.Line(f.index.offset(f.index.runs[i], id))
}

// Fail returns an error about instance id.
func (f *File) Fail(id ID, format string, args ...any) *Error {
	return &Error{File: f.Name, Line: f.LineOf(id), ID: id, Msg: fmt.Sprintf(format, args...)}
}

// SchemaIs reports whether FILE_SCHEMA names a schema that starts with prefix.
func (f *File) SchemaIs(prefix string) bool {
	return slices.ContainsFunc(f.Header.Schemas, func(s string) bool { return strings.HasPrefix(strings.ToUpper(s), prefix) })
}
