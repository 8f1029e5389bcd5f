//go:build slow

package linear

import (
	"bufio"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// writeSum writes Σ coef·x for the format that CPLEX reads.
func writeSum(w *bufio.Writer, name string, coef func(j int) float64, n int) {
	for j := range n {
		if c := coef(j); c != 0 {
			fmt.Fprintf(w, " %+.17g %s%d", c, name, j)
			if j%8 == 7 {
				fmt.Fprintln(w)
			}
		}
	}
}

// mixed writes, with a variable that is none so that no row is empty, a programme with a binary for each target and draw in which it
// is to be met: the weights of those come to the chance. Without chances, the
// units are fractions and all rows must hold in every draw.
func (p *Programme) mixed(w *bufio.Writer, chances bool) {
	n := len(p.Cost)
	fmt.Fprint(w, "Minimize\n cost:")
	writeSum(w, "x", func(j int) float64 { return p.Cost[j] }, n)
	fmt.Fprint(w, "\nSubject To\n")
	for k, l := range p.Limits {
		fmt.Fprintf(w, " limit%d: 0 none", k)
		writeSum(w, "x", func(j int) float64 { return l.Use[j] }, n)
		fmt.Fprintf(w, " <= %.17g\n", l.Room)
	}
	var binaries []string
	for i, t := range p.Targets {
		for r, row := range t.Rows {
			for d := range p.Weight {
				lack := row.Need - row.Have[d]
				if lack <= 0 {
					continue
				}
				fmt.Fprintf(w, " row%d_%d_%d: 0 none", i, r, d)
				writeSum(w, "x", func(j int) float64 {
					if row.Gives[j] == nil {
						return 0
					}
					return float64(row.Gives[j][d])
				}, n)
				if chances {
					fmt.Fprintf(w, " %+.17g z%d_%d >= 0\n", -lack, i, d)
				} else {
					fmt.Fprintf(w, " >= %.17g\n", lack)
				}
			}
		}
		if chances {
			total := 0.0
			fmt.Fprintf(w, " chance%d:", i)
			for d, v := range p.Weight {
				fmt.Fprintf(w, " %+.17g z%d_%d\n", v, i, d)
				binaries = append(binaries, fmt.Sprintf("z%d_%d", i, d))
				total += v
			}
			fmt.Fprintf(w, " >= %.17g\n", total*t.Chance-1e-9)
		}
	}
	fmt.Fprint(w, "Bounds\n none = 0\n")
	for j, m := range p.Most {
		if !math.IsInf(m, 1) {
			fmt.Fprintf(w, " x%d <= %.17g\n", j, m)
		}
	}
	if chances {
		fmt.Fprint(w, "General\n")
		for j := range n {
			fmt.Fprintf(w, " x%d\n", j)
		}
		fmt.Fprintf(w, "Binary\n %s\n", strings.Join(binaries, "\n "))
	}
	fmt.Fprint(w, "End\n")
	w.Flush()
}

var errTooLong = errors.New("not proved in the time given")

// glpk is the least cost that GLPK proves; ErrInfeasible where it proves that
// there is none; errTooLong beside the least it found in the time.
func (p *Programme) glpk(t *testing.T, chances bool, seconds int) (float64, error) {
	t.Helper()
	dir := t.TempDir()
	file, err := os.Create(filepath.Join(dir, "in.lp"))
	if err != nil {
		t.Fatal(err)
	}
	p.mixed(bufio.NewWriter(file), chances)
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out.txt")
	said, err := exec.Command("glpsol", "--lp", file.Name(), "--cuts", "--mipgap", "0", "--tmlim", strconv.Itoa(seconds), "-w", out).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(b), "\n") {
		f := strings.Fields(line) // s mip ROWS COLUMNS STATUS COST, s bas ROWS COLUMNS STATUS STATUS COST
		if len(f) < 6 || f[0] != "s" {
			continue
		}
		v, err := strconv.ParseFloat(f[len(f)-1], 64)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case f[1] == "mip" && f[4] == "o", f[1] == "bas" && f[4] == "f" && f[5] == "f":
			return v, nil
		case f[1] == "mip" && f[4] == "f":
			return v, errTooLong
		case strings.Contains(string(said), "NO PRIMAL FEASIBLE") || strings.Contains(string(said), "NO INTEGER FEASIBLE") || f[1] == "mip" && f[4] == "n":
			return 0, ErrInfeasible
		}
		return math.Inf(1), errTooLong
	}
	t.Fatalf("no solution in\n%s", b)
	return 0, nil
}

func needGLPK(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("glpsol is not installed: on Debian, apt-get install glpk-utils")
	}
}

// The deterministic programme of 100 random seasons, one draw, units as
// fractions, costs what GLPK (Debian's glpk-utils) says to a millionth; where
// GLPK finds no plan, neither do we.
func TestFractionsAgainstGLPK(t *testing.T) {
	needGLPK(t)
	rng := rand.New(rand.NewPCG(1, 2026))
	worst, infeasible := 0.0, 0
	for n := range 100 {
		p := limited(rng, seasonOf(rng, 4+rng.IntN(37), 2+rng.IntN(7), 1+rng.IntN(6), 1))
		want, wantErr := p.glpk(t, false, 60)
		l := &LP{Cost: p.Cost, Upper: p.Most}
		for _, lim := range p.Limits {
			l.Rules = append(l.Rules, Rule{lim.Use, AtMost, lim.Room})
		}
		for _, t := range p.Targets {
			for _, r := range t.Rows {
				c := Rule{make([]float64, len(p.Cost)), AtLeast, r.Need - r.Have[0]}
				for j, g := range r.Gives {
					if g != nil {
						c.Coef[j] = float64(g[0])
					}
				}
				l.Rules = append(l.Rules, c)
			}
		}
		for _, e := range []engines{gonumFirst, tableFirst} {
			got, err := l.solve(e)
			if !errors.Is(err, wantErr) {
				t.Errorf("season %d: %v, GLPK %v", n, err, wantErr)
				continue
			}
			if err != nil {
				infeasible++
				continue
			}
			gap := math.Abs(got.Value/want - 1)
			worst = math.Max(worst, gap)
			if gap > 1e-6 {
				t.Errorf("season %d: %.9g, GLPK %.9g", n, got.Value, want)
			}
		}
	}
	t.Logf("100 seasons, %d without a plan: at most %.1g apart", infeasible/2, worst)
}

// With 50 draws or fewer, the programme in whole numbers with a binary for each
// draw of each target costs at most 2 % more by our search than GLPK's proved
// optimum, and our bound is never above it.
func TestWholeNumbersAgainstGLPK(t *testing.T) {
	needGLPK(t)
	rng := rand.New(rand.NewPCG(2, 2026))
	type group struct{ kinds, years, rows, draws int }
	var proved, tooLong, noDearer, infeasible, exact int
	worst, total, gaps := 0.0, 0.0, 0.0
	for n := 0; proved < 45 && n < 120; n++ {
		g := group{3 + rng.IntN(10), 1 + rng.IntN(5), 1 + rng.IntN(3), 10 + rng.IntN(41)}
		p := seasonOf(rng, g.kinds, g.years, g.rows, g.draws)
		if n%2 == 1 {
			limited(rng, p)
		}
		want, err := p.glpk(t, true, 20)
		plan, errOurs := p.Solve(Options{Seed: 1})
		if errOurs != nil {
			t.Fatal(errOurs)
		}
		if errors.Is(err, errTooLong) {
			tooLong++
			if plan.Met && plan.Cost <= want*(1+1e-9) {
				noDearer++
			}
			continue
		}
		if errors.Is(err, ErrInfeasible) {
			infeasible++
			if plan.Met {
				t.Errorf("instance %d %+v: a plan where GLPK proves there is none: %+v", n, g, plan)
			}
			continue
		}
		proved++
		excess := plan.Cost/want - 1
		t.Logf("%3d: %2d kinds, %d targets of %d rows, %2d draws, %d limits: ours %8.2f, GLPK %8.2f, %.2f %% above, bound %.1f %% below",
			n, g.kinds, g.years, g.rows, g.draws, len(p.Limits), plan.Cost, want, 100*excess, 100*(1-plan.Bound/want))
		worst, total, gaps = math.Max(worst, excess), total+excess, gaps+1-plan.Bound/want
		if excess < 1e-6 {
			exact++
		}
		switch {
		case !plan.Met:
			t.Errorf("instance %d %+v: no plan, GLPK %g", n, g, want)
		case excess > Within, excess < -1e-6:
			t.Errorf("instance %d %+v: %.2f, GLPK %.2f, %.2f %% off", n, g, plan.Cost, want, 100*excess)
		case plan.Bound > want*(1+1e-7):
			t.Errorf("instance %d %+v: a bound of %.6f, GLPK %.6f", n, g, plan.Bound, want)
		}
	}
	t.Logf("%d instances proved by GLPK (%d not in time, ours no dearer than its best in %d of them; %d without a plan): at the optimum %d, on average %.3f %% above it, at most %.2f %%; bounds on average %.1f %% below it",
		proved, tooLong, noDearer, infeasible, exact, 100*total/float64(proved), 100*worst, 100*gaps/float64(proved))
	if proved < 40 {
		t.Errorf("only %d instances proved", proved)
	}
}
