package part21

import (
	"errors"
	"io"
)

// Reader decodes instances of one File. It keeps a few blocks of the file; it
// is not safe for concurrent use.
type Reader struct {
	f      *File
	blocks [readerBlocks]block
	clock  uint64
	last   int // block used last
	hint   int // run used last
	arena  arena
	stack  []Value
	long   []byte
}

type block struct {
	no   int64
	used uint64
	data []byte
}

const (
	blockSize    = 64 << 10
	readerBlocks = 8
)

// Reader returns a new decoder of f.
func (f *File) Reader() *Reader {
	r := &Reader{f: f, hint: -1}
	for i := range r.blocks {
		r.blocks[i].no = -1
	}
	return r
}

// File returns the file r reads.
func (r *Reader) File() *File { return r.f }

// Reset lets the memory of all records decoded so far be used again.
func (r *Reader) Reset() {
	r.arena.records, r.arena.values, r.arena.bytes = r.arena.records[:0], r.arena.values[:0], r.arena.bytes[:0]
}

// Get decodes one instance. It is nil and an *Error if there is none of that
// name or it is broken. The record is good until Reset.
func (r *Reader) Get(id ID) (*Record, error) {
	i := r.f.index.find(id, r.hint)
	if i < 0 {
		return nil, &Error{File: r.f.Name, ID: id, Msg: "is referred to but not in the file"}
	}
	r.hint = i
	off := r.f.index.offset(r.f.index.runs[i], id)
	rec, err := r.at(id, off)
	if err != nil {
		return nil, &Error{File: r.f.Name, Line: r.f.Line(off), ID: id, Msg: err.Error()}
	}
	return r.arena.record(rec), nil
}

// at decodes the instance at an offset: from the block that holds it, or from
// ever longer copies if it goes on behind the block.
func (r *Reader) at(id ID, off int64) (Record, error) {
	b, err := r.block(off / blockSize)
	if err != nil {
		return Record{}, err
	}
	o := int(off % blockSize)
	if o > len(b) {
		return Record{}, io.ErrUnexpectedEOF
	}
	rec, err := r.decode(id, b[o:], off+int64(len(b)-o) >= r.f.size)
	for n := int64(blockSize); errors.Is(err, errShort); n *= 4 {
		n = min(n, r.f.size-off)
		if int64(cap(r.long)) < n {
			r.long = make([]byte, n)
		}
		if m, e := r.f.src.ReadAt(r.long[:n], off); int64(m) < n {
			return Record{}, e
		}
		rec, err = r.decode(id, r.long[:n], off+n >= r.f.size)
	}
	if cap(r.long) > 1<<20 {
		r.long = nil
	}
	return rec, err
}

func (r *Reader) decode(id ID, data []byte, last bool) (Record, error) {
	d := decoder{voc: r.f.voc, data: data, last: last, arena: &r.arena, stack: r.stack[:0]}
	rec, err := d.instance(id)
	r.stack = d.stack[:0]
	return rec, err
}

// block returns block no of the file, from memory or the source; the one not
// used longest makes room.
func (r *Reader) block(no int64) ([]byte, error) {
	r.clock++
	if b := &r.blocks[r.last]; b.no == no {
		b.used = r.clock
		return b.data, nil
	}
	old := 0
	for i := range r.blocks {
		b := &r.blocks[i]
		if b.no == no {
			b.used, r.last = r.clock, i
			return b.data, nil
		}
		if b.used < r.blocks[old].used {
			old = i
		}
	}
	b := &r.blocks[old]
	if b.data == nil {
		b.data = make([]byte, blockSize)
	}
	b.no = -1
	n := min(blockSize, r.f.size-no*blockSize)
	if m, err := r.f.src.ReadAt(b.data[:n], no*blockSize); int64(m) < n {
		return nil, err
	}
	b.no, b.used, b.data, r.last = no, r.clock, b.data[:n], old
	return b.data, nil
}
