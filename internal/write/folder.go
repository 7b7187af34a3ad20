package write

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"sort"
)

// Folder is an output folder being renewed. Files are written beside the old
// ones and take their place all at once in Commit.
//
// The steps of Commit are chosen so that a program killed at any moment leaves
// old files, or new files, or part of either, but never both:
//
//  1. new files are written to .boardrun-new and flushed to disk;
//  2. .boardrun-new is renamed to .boardrun-commit: from here on the new
//     takeoff is the one that counts;
//  3. the old files of the same names are removed;
//  4. the new files are moved up, and the empty folder removed.
//
// Open finishes what an earlier program left at step 3 or 4 and throws away
// what it left at step 1.
type Folder struct {
	dir  string
	lock *os.File
}

// errHeld says that another program holds the lock.
var errHeld = errors.New("held by another program")

const (
	stagingName = ".boardrun-new"
	commitName  = ".boardrun-commit"
	lockName    = ".boardrun-lock"
)

// The files that each kind of command writes. Those of a kind that a run does
// not write are removed by Commit: a stale workbook beside a new JSON would be
// a mix. Files of the other kinds stay.
var (
	TakeoffNames = []string{"takeoff.xlsx", "takeoff.json", "review.html", "walls.pdf", "scope.pdf", "tops.html", "walls.dxf", "plan.dxf", "sides.zip", "remeasure.xlsx"}
	CutNames     = []string{"cuts.csv", "cuts.json"}
	CompareNames = []string{"compare.xlsx", "compare.json"}
	OrderNames   = []string{"orders.xlsx"}
	SiteNames    = []string{"site.xlsx"}
)

var kinds = [][]string{TakeoffNames, CutNames, CompareNames, OrderNames, SiteNames}

// Open makes dir if need be, finishes or clears what a killed program left, and
// takes the folder's lock. The error says which folder and what to do.
func Open(dir string) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("%s: can't make the output folder: %w", dir, err)
	}
	lock, err := takeLock(filepath.Join(dir, lockName))
	switch {
	case errors.Is(err, errHeld):
		return nil, fmt.Errorf("%s: another boardrun is writing here; wait for it, or delete %s if none is running", dir, filepath.Join(dir, lockName))
	case err != nil:
		return nil, fmt.Errorf("%s: can't write into the output folder: %w", dir, err)
	}
	f := &Folder{dir: dir, lock: lock}
	if err := f.recover(); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: can't clear what an interrupted takeoff left: %w", dir, err)
	}
	return f, nil
}

// recover finishes a commit that was under way and removes an unfinished
// staging folder.
func (f *Folder) recover() error {
	if _, err := os.Stat(f.path(commitName)); err == nil {
		if err := f.move(); err != nil {
			return err
		}
	}
	return os.RemoveAll(f.path(stagingName))
}

func (f *Folder) path(names ...string) string {
	return filepath.Join(append([]string{f.dir}, names...)...)
}

// Write stages one file: fill writes its content.
func (f *Folder) Write(name string, fill func(io.Writer) error) error {
	if err := os.MkdirAll(f.path(stagingName), 0o777); err != nil {
		return err
	}
	file, err := os.Create(f.path(stagingName, name))
	if err != nil {
		return err
	}
	w := bufio.NewWriterSize(file, 1<<16)
	err = fill(w)
	if err == nil {
		err = w.Flush()
	}
	if err == nil {
		err = file.Sync()
	}
	if e := file.Close(); err == nil {
		err = e
	}
	if err != nil {
		return fmt.Errorf("%s: %w", f.path(name), err)
	}
	return nil
}

// Commit puts all staged files in place.
func (f *Folder) Commit() error {
	if err := os.Rename(f.path(stagingName), f.path(commitName)); err != nil {
		return fmt.Errorf("%s: %w", f.dir, err)
	}
	if err := f.move(); err != nil {
		return fmt.Errorf("%s: can't replace the old files (is one open in another program?): %w; close it and run again, the new ones wait in %s", f.dir, err, commitName)
	}
	return nil
}

// staged returns all files of the kinds that the commit folder has any of.
func (f *Folder) staged() ([]string, error) {
	list, err := os.ReadDir(f.path(commitName))
	if err != nil {
		return nil, err
	}
	var out []string
	for _, kind := range kinds {
		if slices.ContainsFunc(list, func(e os.DirEntry) bool { return slices.Contains(kind, e.Name()) }) {
			out = append(out, kind...)
		}
	}
	return out, nil
}

func (f *Folder) move() error {
	names, err := f.staged()
	if err != nil {
		return err
	}
	for _, name := range names {
		if _, err := os.Stat(f.path(commitName, name)); err == nil || !f.moved(name) {
			if err := os.Remove(f.path(name)); err != nil && !os.IsNotExist(err) {
				return err
			}
		}
	}
	if err := mark(f.path(commitName)); err != nil {
		return err
	}
	list, err := os.ReadDir(f.path(commitName))
	if err != nil {
		return err
	}
	sort.Slice(list, func(a, b int) bool { return list[a].Name() < list[b].Name() })
	for _, e := range list {
		if e.Name() == clearedName {
			continue
		}
		if err := os.Rename(f.path(commitName, e.Name()), f.path(e.Name())); err != nil {
			return err
		}
	}
	return os.RemoveAll(f.path(commitName))
}

// clearedName marks, inside the commit folder, that the old files are gone: a
// file of ours beside it is then a new one and must not be removed again.
const clearedName = "cleared"

func mark(dir string) error { return os.WriteFile(filepath.Join(dir, clearedName), nil, 0o666) }

func (f *Folder) moved(string) bool {
	_, err := os.Stat(f.path(commitName, clearedName))
	return err == nil
}

// Close throws away what was staged and not committed, and frees the folder.
func (f *Folder) Close() {
	os.RemoveAll(f.path(stagingName))
	freeLock(f.lock)
}
