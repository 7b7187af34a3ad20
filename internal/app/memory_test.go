//go:build linux

package app_test

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"testing"
)

// Too little memory: Go ends the program where it stands, with its own words
// first. The folder holds the takeoff it held, or all of the new one, and the
// next run clears what is left. Oracle: the files of undisturbed runs.
func TestMemory_limitLeavesTheFolderWhole(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no sh to limit memory with")
	}
	_, jobs := twoJobs(t)
	ref := t.TempDir()
	gens := [2]map[string][32]byte{whole(t, jobs[0], filepath.Join(ref, "0")), whole(t, jobs[1], filepath.Join(ref, "1"))}
	out := filepath.Join(t.TempDir(), "out")
	whole(t, jobs[0], out)
	ended, status := 0, map[int]int{}
	// Address space in KiB: from too little to begin with to nearly enough.
	for kib := 200_000; kib <= 1_400_000; kib += 75_000 {
		c := exec.Command(sh, "-c", fmt.Sprintf(`ulimit -v %d && exec boardrun takeoff "$1" -o "$2" --effort quick`, kib), "sh", jobs[1], out)
		said, err := c.CombinedOutput()
		gen, full := generation(t, out, gens)
		if !full {
			t.Fatalf("%d KiB: the folder is not whole (takeoff %d)\n%.300s", kib, gen, said)
		}
		status[c.ProcessState.ExitCode()]++
		if err != nil {
			ended++
			if len(said) == 0 {
				t.Errorf("%d KiB: ended without a word", kib)
			}
			if c.ProcessState.ExitCode() == 0 {
				t.Errorf("%d KiB: %v", kib, err)
			}
		} else if gen != 1 {
			t.Errorf("%d KiB: says done, but the folder holds the earlier takeoff", kib)
		}
		repair(t, out)
		if left, _ := filepath.Glob(filepath.Join(out, ".boardrun-new*")); len(left) > 0 {
			t.Errorf("%d KiB: left %v after the next run", kib, left)
		}
	}
	if ended == 0 {
		t.Error("no limit was too small: the test saw nothing")
	}
	t.Logf("%d runs ended by the limit; statuses %v", ended, status)
}
