package write

import (
	"io"
	"os"
	"path/filepath"
	"testing"
)

func put(t *testing.T, f *Folder, name, text string) {
	t.Helper()
	if err := f.Write(name, func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
		t.Fatal(err)
	}
}

func content(dir, name string) string {
	b, _ := os.ReadFile(filepath.Join(dir, name))
	return string(b)
}

func TestFolder_commitReplacesAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	for _, gen := range []string{"old", "new"} {
		f, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		put(t, f, "takeoff.json", gen)
		if gen == "old" {
			put(t, f, "takeoff.xlsx", gen)
		}
		if got := content(dir, "takeoff.json"); gen == "new" && got != "old" {
			t.Errorf("before Commit the folder shows %q, want the old file", got)
		}
		if err := f.Commit(); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	if got := content(dir, "takeoff.json"); got != "new" {
		t.Errorf("takeoff.json is %q", got)
	}
	if got := content(dir, "takeoff.xlsx"); got != "" {
		t.Errorf("a stale takeoff.xlsx stayed: %q", got)
	}
	left, _ := os.ReadDir(dir)
	if len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

// A program killed between any two steps of Commit is imitated by building the
// state on disk; the next Open must give one generation, whole.
func TestFolder_openFinishesAnInterruptedCommit(t *testing.T) {
	cases := []struct {
		name  string
		files map[string]string
		want  map[string]string
	}{
		{"staged only", map[string]string{"takeoff.json": "old", "takeoff.xlsx": "old", stagingName + "/takeoff.json": "new"},
			map[string]string{"takeoff.json": "old", "takeoff.xlsx": "old"}},
		{"renamed", map[string]string{"takeoff.json": "old", "takeoff.xlsx": "old", commitName + "/takeoff.json": "new", commitName + "/takeoff.xlsx": "new"},
			map[string]string{"takeoff.json": "new", "takeoff.xlsx": "new"}},
		{"some old removed", map[string]string{"takeoff.json": "old", commitName + "/takeoff.json": "new", commitName + "/takeoff.xlsx": "new"},
			map[string]string{"takeoff.json": "new", "takeoff.xlsx": "new"}},
		{"some new moved", map[string]string{"takeoff.json": "new", commitName + "/cleared": "", commitName + "/takeoff.xlsx": "new"},
			map[string]string{"takeoff.json": "new", "takeoff.xlsx": "new"}},
		{"all new moved", map[string]string{"takeoff.json": "new", "takeoff.xlsx": "new", commitName + "/cleared": ""},
			map[string]string{"takeoff.json": "new", "takeoff.xlsx": "new"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, text := range c.files {
				p := filepath.Join(dir, name)
				os.MkdirAll(filepath.Dir(p), 0o777)
				os.WriteFile(p, []byte(text), 0o666)
			}
			f, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			f.Close()
			for name, want := range c.want {
				if got := content(dir, name); got != want {
					t.Errorf("%s is %q, want %q", name, got, want)
				}
			}
			left, _ := os.ReadDir(dir)
			if len(left) != len(c.want) {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

func TestFolder_refusesASecondWriter(t *testing.T) {
	dir := t.TempDir()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := Open(dir); err == nil {
		t.Error("two writers in one folder")
	}
}
