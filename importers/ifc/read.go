package ifc

import (
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// Options of Read.
type Options struct {
	// Workers is the number of goroutines; 0 means one for each processor. It
	// does not change the result.
	Workers int
}

// Read reads a model. The error is one line: file, line, #id, what is wrong,
// what to do. Faults of single walls, openings or decks are exceptions of the
// plan, not errors.
func Read(name string, r io.ReaderAt, size int64, opt Options) (*plan.Plan, error) {
	p, _, err := ReadQuantities(name, r, size, opt)
	return p, err
}

// ReadQuantities is Read and the unrounded quantities of each wall, in the
// order of Plan.Walls.
func ReadQuantities(name string, r io.ReaderAt, size int64, opt Options) (*plan.Plan, []Quantities, error) {
	m, err := open(name, r, size, opt)
	if err != nil {
		return nil, nil, err
	}
	rd := m.f.Reader()
	if m.unit, err = readUnits(rd); err != nil {
		return nil, nil, err
	}
	m.rel = readRelations(rd)
	m.tellFile()
	g := newGeo(rd, m.unit)
	m.readStoreys(g)
	m.readLoose(g)
	found := m.readWalls()
	m.hostStrays(found)
	m.readCovered(found)
	p, q := m.assemble(append(found, m.readCurtains(g)...))
	m.readDecks(g, p)
	m.readRooms(g, p)
	m.readObstacles(g, p)
	m.finish(g, p)
	return p, q, nil
}

// model is what is known of a file while it is read.
type model struct {
	f        *part21.File
	schema   string
	unit     units
	rel      *relations
	storeys  []storey
	storeyAt map[part21.ID]int
	workers  int

	mu         sync.Mutex
	exceptions []plan.Exception
	used       map[part21.ID]string // element → "" if used, else why it was ignored
	types      typeCache
	loose      []*filler // doors and windows that fill no opening
	strays     []stray
}

// open scans the file and checks that its schema is one that is read.
func open(name string, r io.ReaderAt, size int64, opt Options) (*model, error) {
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	f, err := part21.Open(name, r, size, part21.Options{Vocabulary: words, Keep: wanted, Workers: workers})
	if err != nil {
		return nil, err
	}
	m := &model{f: f, workers: workers, used: map[part21.ID]string{}}
	m.schema, err = schemaOf(f)
	return m, err
}

// schemaOf returns the schema in capitals, and an error for those that are not
// read.
func schemaOf(f *part21.File) (string, error) {
	const do = "export the model as IFC4 or IFC2X3"
	if len(f.Header.Schemas) == 0 {
		return "", &part21.Error{File: f.Name, Line: 1, Msg: "the header names no schema (FILE_SCHEMA)", Do: do}
	}
	s := strings.ToUpper(f.Header.Schemas[0])
	for _, known := range []string{"IFC2X3", "IFC4", "IFC4X1", "IFC4X2", "IFC4X3"} {
		if s == known || strings.HasPrefix(s, known+"_") {
			return s, nil
		}
	}
	return s, &part21.Error{File: f.Name, Line: 1, Msg: fmt.Sprintf("schema %.40q is not one of IFC2X3, IFC4, IFC4X3", s), Do: do}
}

// settle records what became of an element: "" if it was used, else why not. The
// first word counts, except that being used does in the end. It reports
// whether this was the first.
func (m *model) settle(id part21.ID, reason string) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	_, known := m.used[id]
	if !known || reason == "" {
		m.used[id] = reason
	}
	return !known
}

// each runs f for 0 … n−1 on all workers, each with its own reader.
func (m *model) each(n int, f func(g *geo, i int)) {
	const batch = 32
	var next int
	var wg sync.WaitGroup
	for range min(m.workers, n/batch+1) {
		wg.Go(func() {
			g := newGeo(m.f.Reader(), m.unit)
			for {
				m.mu.Lock()
				lo := next
				next += batch
				m.mu.Unlock()
				if lo >= n {
					return
				}
				for i := lo; i < min(lo+batch, n); i++ {
					f(g, i)
					g.r.Reset()
				}
			}
		})
	}
	wg.Wait()
}
