package forecast

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

// lives draws the life crops of a pile, kg fresh a log, and the dry wood of one
// log, kg.
func lives(t testing.TB, p *yard.Pile, draws int) (crops, wood []float64) {
	t.Helper()
	set := mustLoad(t)
	r, err := prepare(Input{State: yardOf(set, "oxford", p.Since.From, p), Data: set, Draws: draws, Seed: 11})
	if err != nil {
		t.Fatal(err)
	}
	w, a := newWalker(r), r.account(r.tasks[0])
	w.fit(a.t)
	for n := range draws {
		dry := w.makeCrops(w.crops, a, n, cropDrawn)
		crops, wood = append(crops, w.left()/logsOf(p)), append(wood, dry)
	}
	return crops, wood
}

// at is the value that a share of a list does not exceed.
func at(x []float64, share float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	return x[min(int(share*float64(len(x))), len(x)-1)]
}

// shareOfDraws for which something holds.
func shareOfDraws(n int, holds func(int) bool) float64 {
	sum := 0
	for i := range n {
		if holds(i) {
			sum++
		}
	}
	return float64(sum) / float64(n)
}

// Cornell unit 4: shiitake 0.9 to 1.8 kg a log in 3 to 5 years. Sabota 1996:
// unmanaged logs 0 to 8.8 % of dry wood, 8.8 the best of eight strains on five
// woods. They conflict; the range keeps the first in the middle and the second
// in its lower tail. Median, tenth and nine tenths are bounds of our own about
// Cornell's figures.
func TestAgainstShiitakePerLog(t *testing.T) {
	for _, logs := range []int{1, 40} {
		p := referencePile("oak", yard.NewDate(2026, time.April, 15), "shiitake", "wide-range")
		p.Logs, p.Started = logs, logs
		kg, wood := lives(t, p, 4000)
		low, mid, high := at(kg, 0.1), at(kg, 0.5), at(kg, 0.9)
		cornell := shareOfDraws(len(kg), func(i int) bool { return kg[i] >= 0.9 && kg[i] <= 1.8 })
		sabota := shareOfDraws(len(kg), func(i int) bool { return kg[i] < 0.088*wood[i] })
		t.Logf("%d logs: %.2f, %.2f, %.2f kg a log; %.3f within 0.9 to 1.8 kg, %.3f under 8.8 %% of dry wood", logs, low, mid, high, cornell, sabota)
		if mid < 0.9 || mid > 1.4 || low < 0.4 || high > 2.3 {
			t.Errorf("%d logs: %.2f, %.2f, %.2f kg a log, want at least 0.4, 0.9 to 1.4, at most 2.3", logs, low, mid, high)
		}
		if cornell < 0.40 {
			t.Errorf("%d logs: %.2f of draws give 0.9 to 1.8 kg a log, want at least 0.40", logs, cornell)
		}
		if sabota < 0.05 || sabota > 0.20 {
			t.Errorf("%d logs: %.2f of draws stay under 8.8 %% of dry wood, want 0.05 to 0.20", logs, sabota)
		}
	}
}

// Journal of Forest Science, January 2013: oyster 29.05 % of dry wood on beech
// and 21.69 % on aspen, in one trial: the middle half of draws on each holds
// its own, and aspen's lies under beech's figure. On wood of which nothing is
// published it holds both. With the figures swapped beech fails.
func TestAgainstOysterByWood(t *testing.T) {
	const beech, aspen = 0.2905, 0.2169
	mid := map[string]float64{}
	for _, c := range []struct {
		wood        string
		holds, miss []float64
	}{
		{"beech", []float64{beech}, nil}, {"aspen", []float64{aspen}, []float64{beech}}, {"oak", []float64{beech, aspen}, nil},
	} {
		p := referencePile("totems", yard.NewDate(2026, time.April, 15), "oyster", "")
		p.Wood = c.wood
		if _, ok := mustLoad(t).FindWood(c.wood); !ok {
			t.Fatalf("%s is not embedded", c.wood)
		}
		kg, wood := lives(t, p, 4000)
		eff := make([]float64, len(kg))
		for i := range kg {
			eff[i] = kg[i] / wood[i]
		}
		low, high := at(eff, 0.25), at(eff, 0.75)
		mid[c.wood] = at(eff, 0.5)
		t.Logf("%s: %.3f to %.3f, middle %.3f", c.wood, low, high, mid[c.wood])
		for _, x := range c.holds {
			if x < low || x > high {
				t.Errorf("%s: the middle half of draws is %.3f to %.3f of dry wood, want %.4f in it", c.wood, low, high, x)
			}
		}
		for _, x := range c.miss {
			if x >= low && x <= high {
				t.Errorf("%s: the middle half of draws, %.3f to %.3f of dry wood, holds %.4f too: nothing tells the woods apart", c.wood, low, high, x)
			}
		}
	}
	if !(mid["aspen"] < mid["oak"] && mid["oak"] < mid["beech"]) {
		t.Errorf("middles %v", mid)
	}
}

// An efficiency over green wood is one over dry wood times the green over the
// dry mass; one per fruiting log leaves out the share that never takes.
func TestEfficiencyOverWhatItSays(t *testing.T) {
	set, on := mustLoad(t), yard.NewDate(2026, time.April, 15)
	sp, _ := set.FindSpecies("shiitake")
	st, _ := sp.FindStrain("wide-range")
	was := st.Yield
	defer func() { st.Yield = was }()
	mean := func(wood string) (sum float64) {
		p := referencePile("oak", on, "shiitake", "wide-range")
		p.Wood = wood
		kg, _ := lives(t, p, 2000)
		for _, x := range kg {
			sum += x / float64(len(kg))
		}
		return sum
	}
	for wood, moisture := range map[string]float64{"white oak": 0.6826667, "": set.Practice.GreenLog.Value} { // Miles & Smith 2009
		st.Yield = was
		dry := mean(wood)
		st.Yield.Over = data.OverGreen
		if green := mean(wood); math.Abs(green/dry-(1+moisture)) > 5e-3 { // the cap at the weight of the wood takes some
			t.Errorf("%q: over green wood %.4f times as much, want %.4f", wood, green/dry, 1+moisture)
		}
	}
	st.Yield = was
	all := mean("white oak")
	st.Yield.Per = data.PerFruiting
	fail, _ := momentsOf(set.Practice.TakeFail)
	if bearing := mean("white oak"); math.Abs(bearing/all-(1-fail)) > 0.02 {
		t.Errorf("per fruiting log %.3f times as much, want %.3f", bearing/all, 1-fail)
	}
}

// Where sources conflict the forecast of a pile says so, and names both: Cornell
// unit 4's 0.9 to 1.8 kg against Sabota 1996's 8.8 %. What rests on another way
// of growing says that.
func TestForecastSaysWhereSourcesConflict(t *testing.T) {
	set, on := mustLoad(t), yard.NewDate(2026, time.April, 15)
	for _, c := range []struct {
		species, kind string
		says          []string
	}{
		{"shiitake", "conflict", []string{"0.9 to 1.8 kg", "8.8 %"}},
		{"oyster", "conflict", []string{"29 %", "22 %"}},
		{"reishi", "unpublished yield", []string{"a wide guess", "sterilised in bags", "no yield is published"}},
		{"maitake", "unpublished yield", []string{"No log yield of maitake is published"}},
	} {
		f := mustRun(t, Input{State: yardOf(set, "oxford", on, referencePile("logs", on, c.species, "")), Data: set, Draws: 30, Years: 2}).Piles[0]
		said := ""
		for _, n := range f.Notes {
			if n.Kind == c.kind {
				said += n.Text
			}
		}
		for _, want := range c.says {
			if !strings.Contains(said, want) {
				t.Errorf("%s: no %q in %q", c.species, want, said)
			}
		}
		if y := f.Yield; (y.Wide != "") != (c.kind != "conflict") || y.Efficiency.Basis == "" || y.Per == "" || y.Over == "" || y.PerLog.Typical <= 0 {
			t.Errorf("%s: %+v", c.species, y)
		}
	}
}

// A log measured under its bark holds as much more wood as the bark took of one
// of that size: 16 % of the wood's volume on white oak (Miles & Smith 2009).
func TestBarkUnderTheTape(t *testing.T) {
	p := referencePile("oak", yard.NewDate(2026, time.April, 15), "shiitake", "wide-range")
	_, over := lives(t, p, 50)
	p.UnderBark = true
	_, under := lives(t, p, 50)
	// 0.60 · 1000 · π/4 · 0.12² · 1: of wood alone.
	if want := 600 * math.Pi / 4 * 0.12 * 0.12; math.Abs(under[0]-want) > 1e-9*want || math.Abs(under[0]/over[0]-1.16) > 1e-9 {
		t.Errorf("%.4f kg of dry wood under the bark, want %.4f; over it %.4f", under[0], want, over[0])
	}
}

// A poor wood, a conifer, and wood of which nobody tells say so beside the
// kilograms; wood that suits says nothing.
func TestWoodIsSpokenOf(t *testing.T) {
	set, on := mustLoad(t), yard.NewDate(2026, time.April, 15)
	for _, c := range []struct{ species, wood, says string }{
		{"shiitake", "white oak", ""},
		{"shiitake", "", ""},
		// Sabota 1996: white and red oak far above black cherry, sassafras and sycamore.
		{"shiitake", "American sycamore", "American sycamore counts as poor wood for shiitake: the trial harvested much less on it than on oak (trial of eight shiitake strains"},
		{"shiitake", "black cherry", "harvested much less on it than on oak"},
		{"shiitake", "cherry", "Cornell"},
		{"shiitake", "pine", "Pine is a conifer, and no usual wood for shiitake"},
		{"lion's mane", "eastern hemlock", "counts as poor wood"},
		{"shiitake", "lime", "No source that was read says how shiitake does on lime"},
		{"oyster", "Scots pine", "Scots pine is a conifer"},
		{"oyster", "beech", ""},
	} {
		p := referencePile("logs", on, c.species, "")
		p.Wood = c.wood
		f := mustRun(t, Input{State: yardOf(set, "oxford", on, p), Data: set, Draws: 30, Years: 2}).Piles[0]
		said := ""
		for _, n := range f.Notes {
			if n.Kind == "wood" {
				said += n.Text
			}
		}
		if (said == "") != (c.says == "") || !strings.Contains(said, c.says) {
			t.Errorf("%s on %q: %q, want %q", c.species, c.wood, said, c.says)
		}
	}
}

// However many parts a pile is soaked in, its life crop is the same but for
// the draws of its logs.
func TestPartsAddNothing(t *testing.T) {
	mean := func(parts int) (sum float64) {
		set := mustLoad(t)
		p := referencePile("oak", yard.NewDate(2026, time.April, 15), "shiitake", "wide-range")
		in := Input{State: yardOf(set, "oxford", p.Since.From, p), Data: set, Draws: 3000}
		in.Decision.Soaks = map[string][]Soak{"oak": {{On: p.Since.From + 800, Part: parts - 1, Of: parts}}}
		r, err := prepare(in)
		if err != nil {
			t.Fatal(err)
		}
		w, a := newWalker(r), r.account(r.tasks[0])
		w.fit(a.t)
		for n := range r.draws {
			w.makeCrops(w.crops, a, n, cropDrawn)
			sum += w.left() / float64(r.draws)
		}
		return sum
	}
	whole := mean(1)
	for _, parts := range []int{2, 5} {
		if got := mean(parts); math.Abs(got/whole-1) > 0.01 {
			t.Errorf("%d parts bring %.2f kg in their life, as one %.2f", parts, got, whole)
		}
	}
}
