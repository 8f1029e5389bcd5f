package forecast

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

// update rewrites the numbers that code solves or prints: go test ./forecast
// -update.
var update = flag.Bool("update", false, "rewrite data/requirement.toml")

const (
	requirementFile = "../data/requirement.toml"
	solveDraws      = 1500
	solveSeed       = 20
	solveYear       = 2027
)

// TestRequirement solves what each strain needs from the trade's window for
// it, through the whole chain at the place to which the window belongs, and
// compares with what is embedded.
func TestRequirement(t *testing.T) {
	set := mustLoad(t)
	var solved []data.NamedRequirement
	for i := range set.Species {
		sp := &set.Species[i]
		if testing.Short() && sp.Name != "shiitake" {
			for j := range sp.Strains { // taken as they are: there is no time to solve them
				solved = append(solved, data.NamedRequirement{Species: sp.Name, Strain: sp.Strains[j].Name, Requirement: sp.Strains[j].Need})
			}
			continue
		}
		for j := range sp.Strains {
			need, err := solve(set, sp, &sp.Strains[j])
			if err != nil {
				t.Fatalf("%s %s: %v", sp.Name, sp.Strains[j].Name, err)
			}
			t.Logf("%s %s: mu %.4f (%.0f growing days) sigma %.4f solved %v year %.1f %s", sp.Name, sp.Strains[j].Name, need.Mu, math.Exp(need.Mu), need.Sigma, need.Solved, need.Year, need.Note)
			solved = append(solved, data.NamedRequirement{Species: sp.Name, Strain: sp.Strains[j].Name, Requirement: need})
		}
	}
	got := data.EncodeRequirements(solved)
	if *update {
		if err := os.WriteFile(requirementFile, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(requirementFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("data/requirement.toml is not what the windows give; if a window, a response or the weather was meant to change, run go test ./forecast -run TestRequirement -update\n%s", got)
	}
}

// solve finds mu and sigma from a window.
func solve(set *data.Set, sp *data.Species, st *data.Strain) (data.Requirement, error) {
	if rel := st.Window.RelativeTo; rel != "" {
		base, ok := sp.FindStrain(rel)
		if !ok {
			return data.Requirement{}, fmt.Errorf("window relative to %q, which is no strain", rel)
		}
		need, err := solve(set, sp, base)
		need.Mu = round4(need.Mu + math.Log(st.Window.Factor))
		for k := range need.OtherMu {
			need.OtherMu[k] = round4(need.OtherMu[k] + math.Log(st.Window.Factor))
		}
		need.Note = fmt.Sprintf("%g times what %s needs", st.Window.Factor, rel)
		return need, err
	}
	low, high, year, err := effective(set, sp, st, 0)
	if err != nil {
		return data.Requirement{}, err
	}
	need := fit(low, high)
	need.Year = math.Round(year*10) / 10
	for k := range need.OtherMu {
		low, high, _, err := effective(set, sp, st, k+1)
		if err != nil {
			return need, err
		}
		other := fit(low, high)
		need.OtherMu[k], need.OtherSigma[k] = other.Mu, other.Sigma
		if !other.Solved {
			need.Solved, need.Note = false, fmt.Sprintf("curve %d: %s", k+1, other.Note)
		}
	}
	return need, nil
}

// effective gives, by draw, ln of the growing days that a log must need no
// more than, to have done what the window says by its low and its high month.
func effective(set *data.Set, sp *data.Species, st *data.Strain, curve int) (low, high []float64, year float64, err error) {
	return effectiveOf(set, sp, st, func(*run) {}, curve)
}

// effectiveOf is effective in a run that is changed before its weather is
// drawn.
func effectiveOf(set *data.Set, sp *data.Species, st *data.Strain, change func(*run), curve int) (low, high []float64, year float64, err error) {
	r, err := reference(set, sp, st, change, curve)
	if err != nil {
		return nil, nil, 0, err
	}
	since := int32(r.tasks[0].pile.Since.From - r.start)
	day := func(months float64) int32 {
		return int32(r.tasks[0].pile.Since.From.AddMonths(int(months)) - r.start)
	}
	s := r.settings[0]
	answers := r.streams("answers", sp.Name)
	for n := range r.draws {
		reached := func(by int32) float64 { return s.at(n, by) - s.at(n, since) }
		if st.Window.Of == "first crop" {
			rnd := answers.Draw(n)
			var starts, picks []int32
			for _, trig := range s.triggers[n] {
				if rnd.Float64() < st.Fruit.Chance.Value*st.Fruit.Share.Typical {
					starts, picks = append(starts, trig.Start), append(picks, trig.Pick)
				}
			}
			sum := reached
			reached = func(by int32) float64 {
				last := since
				for i := range starts {
					if picks[i] <= by && starts[i] > last {
						last = starts[i]
					}
				}
				return sum(last)
			}
		}
		low = append(low, math.Log(math.Max(reached(day(st.Window.Low)), 1e-9)))
		high = append(high, math.Log(math.Max(reached(day(st.Window.High)), 1e-9)))
		year += (s.at(n, since+365) - s.at(n, since)) / float64(r.draws)
	}
	return low, high, year, nil
}

// reference is the weather of a reference log at the window's place: 12 cm,
// sawdust spawn, reference shade, no warming.
func reference(set *data.Set, sp *data.Species, st *data.Strain, change func(*run), curve int) (*run, error) {
	when, err := time.Parse("01-02", st.Window.Inoculated)
	if err != nil {
		return nil, err
	}
	on := yard.NewDate(solveYear, when.Month(), when.Day())
	state := referenceState(set, st.Window.Station, on, sp.Name, st.Name)
	r, err := prepareAs(Input{State: state, Data: set, Draws: solveDraws, Seed: solveSeed, Years: int(st.Window.High)/12 + 2}, st)
	if err != nil {
		return nil, err
	}
	r.only = curve + 1
	change(r)
	return r, r.weather(context.Background())
}

// prepareAs prepares a run although the strain has no requirement yet.
func prepareAs(in Input, st *data.Strain) (*run, error) {
	need := st.Need
	defer func() { st.Need = need }()
	st.Need = data.Requirement{Mu: 5, Sigma: 1}
	return prepare(in)
}

// referenceState is a yard with one pile of forty reference logs.
func referenceState(set *data.Set, station string, on yard.Date, species, strain string) *yard.State {
	p := referencePile("reference", on, species, strain)
	return yardOf(set, station, on, p)
}

func referencePile(name string, on yard.Date, species, strain string) *yard.Pile {
	return &yard.Pile{
		Name: name, Kind: "pile", Species: species, Like: species, Strain: strain,
		Wood: "white oak", Since: yard.When{From: on, To: on}, Origin: "inoculated",
		Started: 40, Logs: 40, LogsKnown: true,
		Diameter: yard.Span{Low: 12, High: 12}, Length: yard.Span{Low: 100, High: 100}, Spawn: "sawdust",
	}
}

func yardOf(set *data.Set, station string, asOf yard.Date, piles ...*yard.Pile) *yard.State {
	return &yard.State{
		AsOf: asOf, Piles: piles,
		Config: yard.Config{
			Site:       yard.Site{Station: station, Shade: set.Practice.ReferenceShade.Value, Elevation: math.NaN()},
			Drier:      yard.Drier{Share: 1},
			Confidence: 0.8,
		},
	}
}

// The bounds of sigma: under the first no window of the trade can be, beyond
// the second it says nothing.
const (
	leastSigma = 0.12
	mostSigma  = 0.5
	tolerance  = 0.01 // of a share
)

// fit solves mean Φ((low−μ)/σ) = 0.1 and mean Φ((high−μ)/σ) = 0.9.
func fit(low, high []float64) data.Requirement {
	at := func(sigma float64) (mu, shareHigh float64) {
		mu = root(2, 9, func(mu float64) float64 { return 0.1 - share(low, mu, sigma) })
		return mu, share(high, mu, sigma)
	}
	sigma := root(leastSigma, mostSigma, func(s float64) float64 {
		_, h := at(s)
		return 0.9 - h
	})
	mu, h := at(sigma)
	l := share(low, mu, sigma)
	need := data.Requirement{Mu: round4(mu), Sigma: round4(sigma), Solved: true}
	if math.Abs(h-0.9) > tolerance || math.Abs(l-0.1) > tolerance {
		need = closest(low, high)
	}
	return need
}

// closest is the widest requirement, at the median nearest to both targets,
// where none meets them.
func closest(low, high []float64) data.Requirement {
	best, least := data.Requirement{}, math.Inf(1)
	for mu := 2.0; mu < 9; mu += 0.01 {
		l, h := share(low, mu, mostSigma), share(high, mu, mostSigma)
		if e := math.Hypot(l-0.1, h-0.9); e < least {
			least = e
			best = data.Requirement{Mu: round4(mu), Sigma: mostSigma,
				Note: fmt.Sprintf("no requirement meets the window; the widest comes to %.0f %% at its low month and %.0f %% at its high one", 100*l, 100*h)}
		}
	}
	return best
}

func share(x []float64, mu, sigma float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += math.Erfc(-(v-mu)/sigma/math.Sqrt2) / 2
	}
	return sum / float64(len(x))
}

// root finds where an increasing f crosses zero, or the nearer bound.
func root(lo, hi float64, f func(float64) float64) float64 {
	for range 36 {
		mid := (lo + hi) / 2
		if f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

func round4(x float64) float64 { return math.Round(x*1e4) / 1e4 }

func mustLoad(t testing.TB) *data.Set {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return set
}
