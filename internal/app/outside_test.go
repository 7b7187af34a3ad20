//go:build linux

package app_test

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What a takeoff depends on and what it touches. Oracle: the same command under
// other surroundings; the system calls it makes.

// The same bytes of every file, whatever the machine, the place and the run.
func TestTakeoff_sameBytesEverywhere(t *testing.T) {
	quick := []string{
		"GOMAXPROCS=2", "GOMAXPROCS=1", "GOMAXPROCS=8 TZ=Asia/Tokyo LANG=C LC_ALL=C", "GOMAXPROCS=1", // the last: again
		"TZ=Pacific/Auckland LANG=tr_TR.UTF-8 LC_ALL=tr_TR.UTF-8", "GOGC=5",
	}
	same(t, "vet-clinic", "quick", quick[1:4])
	if testing.Short() {
		return
	}
	same(t, "vet-clinic", "best", quick[1:3])
	same(t, "library-wing", "quick", quick[1:3])
	if os.Getenv("BOARDRUN_LONG") != "" {
		for _, sample := range []string{"vet-clinic", "library-wing", "vet-clinic-ifc"} {
			same(t, sample, "quick", quick)
			same(t, sample, "best", quick)
		}
	}
}

func same(t *testing.T, sample, effort string, surroundings []string) {
	t.Helper()
	job, err := filepath.Abs(filepath.Join("..", "..", "samples", sample, "job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var want map[string][32]byte
	for _, env := range surroundings {
		out := filepath.Join(t.TempDir(), "out")
		c := exec.Command("boardrun", "takeoff", job, "-o", out, "--effort", effort)
		c.Env = append(os.Environ(), strings.Fields(env)...)
		if status, stderr := exit(t, c); status != 0 {
			t.Fatalf("%s %s: status %d: %s", sample, env, status, stderr)
		}
		got := files(t, out)
		if want == nil {
			want = got
		}
		for name, sum := range want {
			if got[name] != sum {
				t.Errorf("%s, %s: %s differs under %s", sample, effort, name, env)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s, %s: %d files under %s, want %d", sample, effort, len(got), env, len(want))
		}
	}
}

// The folder a command is run in, the home and the temporary folder stay as they
// were.
func TestTakeoff_touchesNothingElse(t *testing.T) {
	dir, jobs := twoJobs(t)
	before := fmt.Sprint(files(t, dir))
	home, cwd, tmp := t.TempDir(), t.TempDir(), t.TempDir()
	out := t.TempDir()
	list := filepath.Join(t.TempDir(), "tops.csv")
	put(t, list, []byte("mark,board,width,left height,right height,count\nA,b,48in,20in,30in,4\n"))
	for _, args := range [][]string{
		{"takeoff", jobs[0], jobs[1], "-o", filepath.Join(out, "two")},
		{"takeoff", jobs[0], "-o", filepath.Join(out, "one"), "--effort", "quick", "--verify"},
		{"survey", filepath.Join(dir, "plan.dxf")},
		{"start", filepath.Join(dir, "plan.dxf"), "-o", filepath.Join(out, "start.yaml")},
		{"cut", list, "--stock", "48in:96in", "-o", filepath.Join(out, "cut")},
		{"rules"}, {"schema"}, {"--version"}, {"--help"},
	} {
		c := exec.Command("boardrun", args...)
		c.Dir = cwd
		c.Env = append(os.Environ(), "HOME="+home, "TMPDIR="+tmp, "XDG_CACHE_HOME="+home, "XDG_CONFIG_HOME="+home)
		if status, stderr := exit(t, c); status == 2 {
			t.Errorf("%v: %s", args, stderr)
		}
	}
	for name, at := range map[string]string{"home": home, "current": cwd, "temporary": tmp} {
		if list, _ := os.ReadDir(at); len(list) > 0 {
			t.Errorf("the %s folder has %v", name, list)
		}
	}
	if after := fmt.Sprint(files(t, dir)); after != before {
		t.Error("the folder of the job changed")
	}
}

var (
	writes  = regexp.MustCompile(`^\d+ +(?:openat|open|creat|mkdir|mkdirat|rename|renameat|renameat2|unlink|unlinkat|link|linkat|symlink|symlinkat|chmod|fchmodat|truncate|mknod|mknodat)\(`)
	reading = regexp.MustCompile(`^\d+ +open(?:at)?\(.*O_RDONLY`)
	named   = regexp.MustCompile(`<([^>]*)>, "([^"]*)"|"([^"]*)"`) // a name, with the folder it starts from
	network = regexp.MustCompile(`^\d+ +(?:socket|connect|bind|listen|sendto|sendmsg)\(`)
)

func TestTakeoff_systemCalls(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("strace is not here; system calls are not looked at")
	}
	_, jobs := twoJobs(t)
	out := filepath.Join(t.TempDir(), "out")
	log := filepath.Join(t.TempDir(), "calls")
	c := takeoff(jobs[0], out)
	bin, err := filepath.Abs(c.Path)
	if err != nil {
		t.Fatal(err)
	}
	c = exec.Command(strace, append([]string{"-f", "-qq", "-y", "-s", "4096", "-o", log, "-e", "trace=%network,%file,process", bin}, c.Args[1:]...)...)
	if b, err := c.CombinedOutput(); err != nil {
		if bytes.Contains(b, []byte("ptrace")) {
			t.Skip("strace is not allowed here: ", string(b))
		}
		t.Fatalf("%v: %s", err, b)
	}
	b, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	opened, execs := 0, 0
	for s := bufio.NewScanner(bytes.NewReader(b)); s.Scan(); {
		line := s.Text()
		switch {
		case network.MatchString(line):
			t.Errorf("network: %s", line)
		case strings.Contains(line, " execve("):
			if execs++; execs > 1 {
				t.Errorf("another program: %s", line)
			}
		case reading.MatchString(line):
		case writes.MatchString(line):
			opened++
			for _, q := range named.FindAllStringSubmatch(line, -1) {
				name := q[3]
				if q[2] != "" {
					if name = q[2]; !filepath.IsAbs(name) {
						name = filepath.Join(q[1], name)
					}
				}
				if name != out && !strings.HasPrefix(name, out+"/") && !strings.HasPrefix(out, name+"/") {
					t.Errorf("outside %s: %s", out, line)
				}
			}
		}
	}
	if opened < 10 {
		t.Errorf("only %d writing calls were seen: is the pattern right?", opened)
	}
}
