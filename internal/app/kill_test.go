//go:build linux

package app_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"boardrun/internal/write"
)

// Faults of the machine: the program killed, the disk full, the folder
// forbidden. Oracle: the files of undisturbed runs.

// twoJobs writes the clinic as two jobs whose takeoffs differ in every file,
// and returns the job files.
func twoJobs(t *testing.T) (dir string, jobs [2]string) {
	t.Helper()
	dir = t.TempDir()
	sample := filepath.Join("..", "..", "samples", "vet-clinic")
	plan, err := os.ReadFile(filepath.Join(sample, "plan.dxf"))
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(sample, "job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "plan.dxf"), plan)
	putPrices(t, sample, dir)
	for i, change := range [][]string{
		{"title: Veterinary clinic", "title: Earlier clinic"},
		{"title: Veterinary clinic", "title: Later clinic", "default: 9'-0\"", "default: 8'-0\"", "name: P", "name: Q"},
	} {
		jobs[i] = filepath.Join(dir, fmt.Sprintf("job-%d.yaml", i))
		put(t, jobs[i], []byte(strings.NewReplacer(change...).Replace(string(text))))
	}
	return dir, jobs
}

// putPrices copies the price list that a sample's job names.
func putPrices(t *testing.T, sample, dir string) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(sample, "prices.csv"))
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "prices.csv"), b)
}

func put(t *testing.T, path string, b []byte) {
	t.Helper()
	if err := os.WriteFile(path, b, 0o666); err != nil {
		t.Fatal(err)
	}
}

// takeoff starts a quick takeoff of a job into a folder.
func takeoff(job, out string) *exec.Cmd {
	return exec.Command("boardrun", "takeoff", job, "-o", out, "--effort", "quick")
}

// whole runs a takeoff to its end and returns the files of the folder.
func whole(t *testing.T, job, out string) map[string][32]byte {
	t.Helper()
	if b, err := takeoff(job, out).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, b)
	}
	return files(t, out)
}

// files are the sums of all files of a folder, hidden ones too.
func files(t *testing.T, dir string) map[string][32]byte {
	t.Helper()
	out := map[string][32]byte{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, dir+"/")] = sha256.Sum256(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// generation tells which of the takeoffs the files that a person sees are of:
// −1 if there are none. full says that none is missing.
func generation(t *testing.T, dir string, gens [2]map[string][32]byte) (gen int, full bool) {
	t.Helper()
	gen = -1
	seen := 0
	for name, sum := range files(t, dir) {
		if strings.HasPrefix(name, ".boardrun-") {
			continue
		}
		seen++
		of := -1
		for g := range gens {
			if gens[g][name] == sum {
				of = g
			}
		}
		switch {
		case of < 0:
			t.Fatalf("%s is of neither takeoff: half written?", name)
		case gen < 0:
			gen = of
		case gen != of:
			t.Fatalf("%s is of takeoff %d, others of %d: a mix", name, of, gen)
		}
	}
	return gen, gen >= 0 && seen == len(gens[gen])
}

// repair does what the next run does first.
func repair(t *testing.T, dir string) {
	t.Helper()
	f, err := write.Open(dir)
	if err != nil {
		t.Fatal("the next run is refused: ", err)
	}
	f.Close()
}

// moments are ways to choose when a running takeoff is killed.
var moments = []func(r *rand.Rand, out string, took time.Duration){
	// Anywhere.
	func(r *rand.Rand, _ string, took time.Duration) {
		time.Sleep(time.Duration(r.Int63n(int64(took) * 11 / 10)))
	},
	// While files are written.
	func(r *rand.Rand, out string, took time.Duration) {
		await(filepath.Join(out, ".boardrun-new"), took)
		time.Sleep(time.Duration(r.Int63n(int64(took) / 2)))
	},
	// While files take each other's places.
	func(r *rand.Rand, out string, took time.Duration) {
		await(filepath.Join(out, ".boardrun-new", "walls.dxf"), took)
		await(filepath.Join(out, ".boardrun-commit"), took)
		time.Sleep(time.Duration(r.Int63n(int64(400 * time.Microsecond))))
	},
}

// await waits until a file is there, for at most 4 times as long as a run takes.
func await(name string, took time.Duration) {
	for end := time.Now().Add(4 * took); time.Now().Before(end); {
		if _, err := os.Lstat(name); err == nil {
			return
		}
		time.Sleep(50 * time.Microsecond)
	}
}

func TestKill_neverAMix(t *testing.T) {
	_, jobs := twoJobs(t)
	ref := t.TempDir()
	gens := [2]map[string][32]byte{whole(t, jobs[0], filepath.Join(ref, "0")), whole(t, jobs[1], filepath.Join(ref, "1"))}
	for name, sum := range gens[0] {
		if gens[1][name] == sum {
			t.Errorf("%s is the same in both takeoffs and can show no mix", name)
		}
	}
	start := time.Now()
	whole(t, jobs[0], filepath.Join(ref, "0"))
	took := time.Since(start)
	n := 40
	switch {
	case os.Getenv("BOARDRUN_LONG") != "":
		n = 200
	case testing.Short():
		n = 8
	}
	for part := range 2 {
		t.Run(fmt.Sprint("folder ", part), func(t *testing.T) {
			t.Parallel()
			killMany(t, jobs, gens, n/2, took)
		})
	}
}

// killMany kills takeoffs into one folder, each of the other job than the one
// that stands there.
func killMany(t *testing.T, jobs [2]string, gens [2]map[string][32]byte, n int, took time.Duration) {
	seed := time.Now().UnixNano()
	r := rand.New(rand.NewSource(seed))
	out := filepath.Join(t.TempDir(), "out")
	whole(t, jobs[0], out)
	var dead, none, part int
	was := 0
	for i := range n {
		c := takeoff(jobs[1-was], out)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		moments[i%len(moments)](r, out, took)
		c.Process.Kill()
		if c.Wait() != nil {
			dead++
		}
		gen, full := generation(t, out, gens)
		switch {
		case gen < 0:
			none++
		case !full:
			part++
		}
		repair(t, out)
		gen, full = generation(t, out, gens)
		if !full {
			t.Fatalf("seed %d, kill %d: after the repair the takeoff is not whole", seed, i)
		}
		if len(files(t, out)) != len(gens[gen]) {
			t.Fatalf("seed %d, kill %d: left behind: %v", seed, i, files(t, out))
		}
		was = gen
	}
	t.Logf("%d runs, %d killed before their end; %d left no file, %d a part, before the repair", n, dead, none, part)
	whole(t, jobs[0], out)
	if gen, full := generation(t, out, gens); gen != 0 || !full {
		t.Error("the next run does not repair")
	}
}

// exit is a command's exit status and what it wrote to stderr.
func exit(t *testing.T, c *exec.Cmd) (status int, stderr string) {
	t.Helper()
	var b bytes.Buffer
	c.Stderr = &b
	err := c.Run()
	var e *exec.ExitError
	if err != nil && !errors.As(err, &e) {
		t.Fatal(err)
	}
	return c.ProcessState.ExitCode(), b.String()
}

func oneLine(t *testing.T, stderr string, want ...string) {
	t.Helper()
	if strings.Count(stderr, "\n") != 1 || strings.Contains(stderr, "goroutine") {
		t.Errorf("want one line, got %q", stderr)
	}
	for _, w := range want {
		if !strings.Contains(stderr, w) {
			t.Errorf("%q does not say %q", stderr, w)
		}
	}
}

func TestInterrupt_leavesTheOldTakeoff(t *testing.T) {
	_, jobs := twoJobs(t)
	out := filepath.Join(t.TempDir(), "out")
	want := whole(t, jobs[0], out)
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		for when, interrupt := range map[string]func(*testing.T, string, string, os.Signal) (*exec.Cmd, string){
			"reading": interruptReading, "writing": interruptWriting,
		} {
			t.Run(fmt.Sprint(when, " ", sig), func(t *testing.T) {
				c, stderr := interrupt(t, jobs[1], out, sig)
				if c.ProcessState.ExitCode() != 1 {
					t.Errorf("status %v", c.ProcessState)
				}
				oneLine(t, stderr, "stopped")
				if got := files(t, out); fmt.Sprint(got) != fmt.Sprint(want) {
					t.Errorf("the folder changed: %v", got)
				}
			})
		}
	}
}

// interruptReading sends the signal while the takeoff reads its job from a
// pipe: it has opened the pipe, so it listens to signals by then.
func interruptReading(t *testing.T, job, out string, sig os.Signal) (*exec.Cmd, string) {
	text, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(filepath.Dir(job), "pipe.yaml")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	defer os.Remove(pipe)
	c := takeoff(pipe, out)
	var stderr bytes.Buffer
	c.Stderr = &stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	w, err := os.OpenFile(pipe, os.O_WRONLY, 0) // returns when the other end is open
	if err != nil {
		t.Fatal(err)
	}
	c.Process.Signal(sig)
	_, err = w.Write(text)
	if err := errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	if c.Wait() == nil {
		t.Fatal("it went on to its end")
	}
	return c, stderr.String()
}

// interruptWriting sends the signal when the first files of the new takeoff
// stand. On a busy machine the takeoff may be done by the time the signal goes
// out; then the folder is put back and the next one is tried.
func interruptWriting(t *testing.T, job, out string, sig os.Signal) (*exec.Cmd, string) {
	for range 10 {
		c := takeoff(job, out)
		var stderr bytes.Buffer
		c.Stderr = &stderr
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		await(filepath.Join(out, ".boardrun-new"), 15*time.Second)
		c.Process.Signal(sig)
		if c.Wait() != nil {
			return c, stderr.String()
		}
		whole(t, filepath.Join(filepath.Dir(job), "job-0.yaml"), out)
	}
	t.Fatal("ten times it went on to its end")
	return nil, ""
}

// Of several jobs at once each clears up after itself.
func TestInterrupt_severalJobs(t *testing.T) {
	dir, jobs := twoJobs(t)
	text, err := os.ReadFile(jobs[0])
	if err != nil {
		t.Fatal(err)
	}
	many := filepath.Join(dir, "many")
	if err := os.Mkdir(many, 0o777); err != nil {
		t.Fatal(err)
	}
	for i := range 8 {
		job := bytes.Replace(text, []byte("job: vet-clinic"), fmt.Appendf(nil, "job: clinic-%d", i), 1)
		job = bytes.ReplaceAll(job, []byte("plan.dxf"), []byte("../plan.dxf"))
		put(t, filepath.Join(many, fmt.Sprintf("job-%d.yaml", i)), bytes.Replace(job, []byte("prices.csv"), []byte("../prices.csv"), 1))
	}
	out := filepath.Join(t.TempDir(), "out")
	c := takeoff(many, out)
	var stderr bytes.Buffer
	c.Stderr = &stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	await(filepath.Join(out, "clinic-1", ".boardrun-new"), 15*time.Second)
	c.Process.Signal(os.Interrupt)
	if c.Wait() == nil {
		t.Fatal("eight jobs came to their end")
	}
	if c.ProcessState.ExitCode() != 1 || !strings.Contains(stderr.String(), "stopped") {
		t.Errorf("%v, %q", c.ProcessState, stderr.String())
	}
	for name := range files(t, out) {
		if strings.Contains(name, ".boardrun-new") || strings.Contains(name, ".boardrun-commit") {
			t.Errorf("left behind: %s", name)
		}
	}
}

func TestFolder_heldByAnother(t *testing.T) {
	_, jobs := twoJobs(t)
	out := filepath.Join(t.TempDir(), "out")
	want := whole(t, jobs[0], out)
	f, err := write.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	status, stderr := exit(t, takeoff(jobs[1], out))
	if status != 1 {
		t.Errorf("status %d", status)
	}
	oneLine(t, stderr, out, "another boardrun is writing here")
	f.Close()
	if got := files(t, out); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the folder changed: %v", got)
	}
}

func TestFolder_staleLockIsTakenOver(t *testing.T) {
	_, jobs := twoJobs(t)
	out := t.TempDir()
	for _, left := range []string{"", "999999\n", "what?"} {
		put(t, filepath.Join(out, ".boardrun-lock"), []byte(left))
		if status, stderr := exit(t, takeoff(jobs[0], out)); status != 0 {
			t.Errorf("a dead lock of %q: status %d, %s", left, status, stderr)
		}
	}
}

// Several at once: each is done or is refused by one line, and the folder holds
// one takeoff.
func TestFolder_manyAtOnce(t *testing.T) {
	_, jobs := twoJobs(t)
	ref := t.TempDir()
	gens := [2]map[string][32]byte{whole(t, jobs[0], filepath.Join(ref, "0")), whole(t, jobs[1], filepath.Join(ref, "1"))}
	out := filepath.Join(ref, "out")
	var wg sync.WaitGroup
	var said [6]string
	var status [6]int
	for i := range said {
		wg.Go(func() { status[i], said[i] = exit(t, takeoff(jobs[i%2], out)) })
	}
	wg.Wait()
	done := 0
	for i := range said {
		if status[i] == 0 {
			done++
			continue
		}
		oneLine(t, said[i], "another boardrun is writing here")
	}
	if _, full := generation(t, out, gens); !full || done == 0 {
		t.Errorf("%d done, and no whole takeoff there", done)
	}
}

// nobody makes a command run without the rights of the superuser, whom no
// folder refuses anything.
func nobody(t *testing.T, c *exec.Cmd) *exec.Cmd {
	t.Helper()
	if os.Getuid() != 0 {
		return c
	}
	dir, err := os.MkdirTemp("", "boardrun")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	os.Chmod(dir, 0o755)
	from, err := os.Open(c.Path)
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	bin := filepath.Join(dir, "boardrun")
	to, err := os.OpenFile(bin, os.O_CREATE|os.O_WRONLY, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(to, from); err != nil {
		t.Fatal(err)
	}
	to.Close()
	c.Path = bin
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	return c
}

func TestFolder_forbidden(t *testing.T) {
	dir, jobs := twoJobs(t)
	out := filepath.Join(dir, "out")
	want := whole(t, jobs[0], out)
	for _, d := range []string{dir, filepath.Dir(dir)} { // others may read the job
		os.Chmod(d, 0o755)
	}
	os.Chmod(out, 0o555)
	t.Cleanup(func() { os.Chmod(out, 0o777) })
	status, stderr := exit(t, nobody(t, takeoff(jobs[1], out)))
	if status != 1 {
		t.Errorf("status %d", status)
	}
	oneLine(t, stderr, out, "permission denied")
	if got := files(t, out); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the folder changed: %v", got)
	}
	status, stderr = exit(t, nobody(t, takeoff(jobs[1], filepath.Join(out, "new"))))
	if status != 1 {
		t.Errorf("status %d", status)
	}
	oneLine(t, stderr, out, "permission denied")
}

func TestFolder_isAFile(t *testing.T) {
	dir, jobs := twoJobs(t)
	out := filepath.Join(dir, "out")
	put(t, out, []byte("mine"))
	for _, at := range []string{out, filepath.Join(out, "below")} {
		status, stderr := exit(t, takeoff(jobs[0], at))
		if status != 1 {
			t.Errorf("status %d", status)
		}
		oneLine(t, stderr, at)
	}
	if b, _ := os.ReadFile(out); string(b) != "mine" {
		t.Errorf("the file is now %q", b)
	}
}

// A disk of 2.5 MB holds one takeoff of about 2 MB and not a second.
func TestFolder_diskFull(t *testing.T) {
	_, jobs := twoJobs(t)
	disk := t.TempDir()
	if err := syscall.Mount("none", disk, "tmpfs", 0, "size=2500k"); err != nil {
		t.Skip("no small disk can be mounted here: ", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(disk, 0); err != nil {
			t.Error(err)
		}
	})
	out := filepath.Join(disk, "out")
	want := whole(t, jobs[0], out)
	status, stderr := exit(t, takeoff(jobs[1], out))
	if status != 1 {
		t.Errorf("status %d: is the disk large enough for two?", status)
	}
	oneLine(t, stderr, out, "no space left on device")
	if got := files(t, out); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the folder changed: %v", got)
	}
}

// A drawing cut short at any byte: a takeoff of what is there with the cut told,
// or one line; no panic.
func TestInput_cutShort(t *testing.T) {
	n := 24
	switch {
	case os.Getenv("BOARDRUN_LONG") != "":
		n = 400
	case testing.Short():
		n = 6
	}
	for sample, file := range map[string]string{"vet-clinic": "plan.dxf", "vet-clinic-ifc": "model.ifc"} {
		src := filepath.Join("..", "..", "samples", sample)
		text, err := os.ReadFile(filepath.Join(src, "job.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		drawing, err := os.ReadFile(filepath.Join(src, file))
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		text = bytes.Replace(text, []byte("  list: "), []byte("  # list: "), 1) // the drawing alone is cut
		r := rand.New(rand.NewSource(11))
		for range n {
			cut := r.Intn(len(drawing))
			put(t, filepath.Join(dir, "job.yaml"), text)
			put(t, filepath.Join(dir, file), drawing[:cut])
			status, stderr := exit(t, takeoff(filepath.Join(dir, "job.yaml"), filepath.Join(dir, "out")))
			switch {
			case strings.Contains(stderr, "goroutine "):
				t.Errorf("%s cut at %d: %s", file, cut, stderr)
			case status == 1:
				if strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, file) && !strings.Contains(stderr, "job.yaml") {
					t.Errorf("%s cut at %d: want one line, got %q", file, cut, stderr)
				}
			case status != 3:
				t.Errorf("%s cut at %d of %d: status %d; the cut is not told: %s", file, cut, len(drawing), status, stderr)
			}
		}
		for range n / 3 { // the job file cut short
			cut := r.Intn(len(text))
			put(t, filepath.Join(dir, "job.yaml"), text[:cut])
			put(t, filepath.Join(dir, file), drawing)
			if status, stderr := exit(t, takeoff(filepath.Join(dir, "job.yaml"), filepath.Join(dir, "out"))); strings.Contains(stderr, "goroutine ") || status == 2 {
				t.Errorf("job.yaml cut at %d: status %d, %s", cut, status, stderr)
			}
		}
	}
}
