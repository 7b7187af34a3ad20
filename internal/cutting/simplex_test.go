package cutting

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// writeLP writes p in CPLEX-LP text.
func writeLP(p *linear) string {
	var b strings.Builder
	b.WriteString("Minimize\n obj:")
	rows := make([]strings.Builder, p.m)
	for j, c := range p.cols {
		fmt.Fprintf(&b, " + %.12g x%d\n", c.cost, j)
		for k, r := range c.row {
			fmt.Fprintf(&rows[r], " + %.12g x%d\n", c.coef[k], j)
		}
	}
	b.WriteString("Subject To\n")
	for i := range rows {
		fmt.Fprintf(&b, " r%d:%s >= %.12g\n", i, rows[i].String(), p.need[i])
	}
	b.WriteString("End\n")
	return b.String()
}

// randomBars is a cutting-stock programme of n lengths and three bars.
func randomBars(r *rand.Rand, n int) *bars {
	var need []float64
	var items []barItem
	for i := 0; i < n; i++ {
		need = append(need, float64(1+r.Intn(30)))
		items = append(items, barItem{row: i, size: 80 + r.Intn(700), coef: 1, max: 1 + r.Intn(20)})
	}
	return newBars(need, items, []barStock{{768, 8}, {960, 10}, {1152, 12}})
}

// Oracle: GLPK (glpsol --lp) on the same columns.
func TestBars_againstGLPK(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		if os.Getenv("BOARDRUN_OUTSIDE") == "required" {
			t.Fatal("glpsol is not installed")
		}
		t.Skip("glpsol is not installed")
	}
	dir := t.TempDir()
	value := regexp.MustCompile(`Objective:\s+obj = ([-0-9.e+]+)`)
	for seed := int64(0); seed < 20; seed++ {
		b := randomBars(rand.New(rand.NewSource(seed)), 5+int(seed)*4)
		got := b.bound(5000, never)
		_, z := b.lp.solution()
		in, out := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.txt")
		if err := os.WriteFile(in, []byte(writeLP(b.lp)), 0o644); err != nil {
			t.Fatal(err)
		}
		if msg, err := exec.Command(glpsol, "--lp", in, "-o", out).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, msg)
		}
		text, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		m := value.FindSubmatch(text)
		if m == nil {
			t.Fatalf("no objective in %s", text[:200])
		}
		want, _ := strconv.ParseFloat(string(m[1]), 64)
		if math.Abs(got-want) > 1e-6*want || math.Abs(z-want) > 1e-6*want {
			t.Errorf("seed %d: bound %.9f, value %.9f, glpsol %.9f", seed, got, z, want)
		}
	}
}

// Degenerate programmes, set covering with equal costs, finish.
func TestLinear_degenerate(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for k := 0; k < 50; k++ {
		n := 3 + r.Intn(20)
		need := make([]float64, n)
		first := make([]column, n)
		for i := range need {
			need[i] = 1 // many ties
			first[i] = column{1, []int32{int32(i)}, []float64{1}}
		}
		p := newLinear(need, first)
		for j := 0; j < 5*n; j++ {
			c := column{cost: 1}
			for i := 0; i < n; i++ {
				if r.Intn(3) == 0 {
					c.row, c.coef = append(c.row, int32(i)), append(c.coef, 1)
				}
			}
			if c.row != nil {
				p.cols = append(p.cols, c)
			}
		}
		if !p.optimise(10000) {
			t.Fatalf("case %d: not finished", k)
		}
		// Oracle: strong duality. The duals are feasible and prove the value.
		_, z := p.solution()
		for _, c := range p.cols {
			if p.reduced(c) < -1e-7 {
				t.Errorf("case %d: a column is priced below its cost", k)
			}
		}
		if math.Abs(z-p.dualValue()) > 1e-6*z {
			t.Errorf("case %d: value %.9f, duals prove %.9f", k, z, p.dualValue())
		}
	}
}

func BenchmarkBars(b *testing.B) {
	for _, n := range []int{60, 300} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for i := 0; i < b.N; i++ {
				randomBars(rand.New(rand.NewSource(int64(i))), n).bound(5000, never)
			}
		})
	}
}
