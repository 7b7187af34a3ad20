package app

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"fmt"
	"hash"
	"os"
	"path/filepath"
	"reflect"
	"sort"
	"sync"

	"boardrun/internal/cutting"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// store keeps layouts and cut lists between runs, by the content of everything
// they depend on: runs, rules, boards, the prices that choose a layout, the
// effort, and the program itself. A file that is missing, cut short or of
// another program is not there; deleting any of them costs time only.
type store struct{ dir string }

// kept is one file of the store. Faces are told by their place in their run,
// since a layout points into its runs.
type kept struct {
	Layouts []keptLayout
	Cut     cutting.Solution
}

type keptLayout struct {
	There                 bool
	Layout                layout.Layout
	Faces, Pieces, Joints []int
}

// key names what the layouts of a set under a job depend on.
func (s *store) key(j *job.Job, set *run.Set, effort string) string {
	h := sha256.New()
	fmt.Fprintln(h, program(), effort, j.System, j.Offcuts, j.Framing)
	d := digest{h: h, seen: map[uintptr]int{}}
	d.value(reflect.ValueOf(j.Rules))
	d.value(reflect.ValueOf(j.Boards))
	if p := j.Prices; p != nil { // screws and hours do not choose a layout
		d.value(reflect.ValueOf(job.Prices{Currency: p.Currency, PerSheet: p.PerSheet, PerM2: p.PerM2, Joint: p.Joint, Cut: p.Cut, Stud: p.Stud}))
	}
	d.value(reflect.ValueOf(set.Runs))
	return hex.EncodeToString(h.Sum(nil))
}

// program tells this program from any other build of it.
var program = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return version()
	}
	info, err := os.Stat(path)
	if err != nil {
		return version()
	}
	return fmt.Sprint(version(), info.Size(), info.ModTime().UnixNano())
})

// digest writes a value to a hash: exported fields in their order, maps by
// their keys, what a pointer points to once.
type digest struct {
	h    hash.Hash
	seen map[uintptr]int
}

func (d *digest) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			fmt.Fprint(d.h, "nil;")
			return
		}
		if n, ok := d.seen[v.Pointer()]; ok {
			fmt.Fprint(d.h, "@", n, ";")
			return
		}
		d.seen[v.Pointer()] = len(d.seen)
		d.value(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				fmt.Fprint(d.h, f.Name, ":")
				d.value(v.Field(i))
			}
		}
	case reflect.Slice, reflect.Array:
		fmt.Fprint(d.h, v.Len(), "[")
		for i := range v.Len() {
			d.value(v.Index(i))
		}
	case reflect.Map:
		keys := v.MapKeys()
		sort.Slice(keys, func(a, b int) bool { return fmt.Sprint(keys[a]) < fmt.Sprint(keys[b]) })
		fmt.Fprint(d.h, len(keys), "{")
		for _, k := range keys {
			d.value(k)
			d.value(v.MapIndex(k))
		}
	case reflect.Func, reflect.Chan, reflect.Interface:
	case reflect.String:
		fmt.Fprint(d.h, v.Len(), "s", v.String(), ";")
	default:
		fmt.Fprint(d.h, v.Interface(), ";")
	}
}

// load returns what is kept under a key, false if nothing sound is.
func (s *store) load(key string, set *run.Set) ([]*layout.Layout, *cutting.Solution, bool) {
	b, err := os.ReadFile(filepath.Join(s.dir, key))
	if err != nil || len(b) < sha256.Size {
		return nil, nil, false
	}
	sum, b := b[:sha256.Size], b[sha256.Size:]
	if is := sha256.Sum256(b); !bytes.Equal(sum, is[:]) {
		return nil, nil, false
	}
	var k kept
	if err := gob.NewDecoder(bytes.NewReader(b)).Decode(&k); err != nil || len(k.Layouts) != len(set.Runs) {
		return nil, nil, false
	}
	out := make([]*layout.Layout, len(set.Runs))
	for i := range k.Layouts {
		q := &k.Layouts[i]
		if !q.There {
			continue
		}
		l, r := &q.Layout, set.Runs[i]
		l.Run = r
		for n := range l.Faces {
			l.Faces[n].Face = r.Faces[q.Faces[n]]
		}
		for n := range l.Pieces {
			l.Pieces[n].Face = r.Faces[q.Pieces[n]]
		}
		for n := range l.Joints {
			l.Joints[n].Face = r.Faces[q.Joints[n]]
		}
		out[i] = l
	}
	return out, &k.Cut, true
}

// save keeps layouts and cut list under a key. It writes a file of its own and
// renames it, so that two programs at once do no harm; failing costs time only.
func (s *store) save(key string, layouts []*layout.Layout, cut *cutting.Solution) {
	k := kept{Layouts: make([]keptLayout, len(layouts)), Cut: *cut}
	for i, l := range layouts {
		if l == nil {
			continue
		}
		at := map[*run.Face]int{}
		for n, f := range l.Run.Faces {
			at[f] = n
		}
		q := keptLayout{There: true, Layout: *l}
		q.Layout.Run = nil
		q.Layout.Faces = append([]layout.FaceLayout(nil), l.Faces...)
		for n := range q.Layout.Faces {
			q.Faces = append(q.Faces, at[l.Faces[n].Face])
			q.Layout.Faces[n].Face = nil
		}
		q.Layout.Pieces = append([]layout.Piece(nil), l.Pieces...)
		for n := range q.Layout.Pieces {
			q.Pieces = append(q.Pieces, at[l.Pieces[n].Face])
			q.Layout.Pieces[n].Face = nil
		}
		q.Layout.Joints = append([]layout.Joint(nil), l.Joints...)
		for n := range q.Layout.Joints {
			q.Joints = append(q.Joints, at[l.Joints[n].Face])
			q.Layout.Joints[n].Face = nil
		}
		k.Layouts[i] = q
	}
	var b bytes.Buffer
	if gob.NewEncoder(&b).Encode(k) != nil || os.MkdirAll(s.dir, 0o777) != nil {
		return
	}
	f, err := os.CreateTemp(s.dir, "new-*")
	if err != nil {
		return
	}
	sum := sha256.Sum256(b.Bytes())
	_, err1 := f.Write(sum[:])
	_, err2 := f.Write(b.Bytes())
	if err3 := f.Close(); err1 != nil || err2 != nil || err3 != nil || os.Rename(f.Name(), filepath.Join(s.dir, key)) != nil {
		os.Remove(f.Name())
	}
}

// solve finds layouts and cut list, or takes them from the store.
func (p *pipeline) solve(ctx context.Context, j *job.Job, set *run.Set) ([]*layout.Layout, *cutting.Solution, error) {
	if p.store == nil {
		return p.find(ctx, j, set)
	}
	key := p.store.key(j, set, p.effort)
	if layouts, cut, ok := p.store.load(key, set); ok {
		return layouts, cut, nil
	}
	layouts, cut, err := p.find(ctx, j, set)
	if err == nil {
		p.store.save(key, layouts, cut)
	}
	return layouts, cut, err
}
