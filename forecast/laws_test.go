package forecast

import (
	"context"
	"errors"
	"math"
	"reflect"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

var lawsAsOf = yard.NewDate(2026, time.May, 1)

// someYard has piles of several species, ages and origins.
func someYard(set *data.Set) *yard.State {
	oak := referencePile("oak-north", yard.NewDate(2025, 4, 12), "shiitake", "wide-range")
	old := referencePile("old-oak", yard.NewDate(2023, 3, 1), "shiitake", "cold-weather")
	old.Since = yard.When{From: yard.NewDate(2023, 1, 1), To: yard.NewDate(2023, 12, 31), Text: "2023"}
	old.Diameter, old.Wood, old.Spawn = yard.Span{}, "", ""
	beech := referencePile("beech", yard.NewDate(2024, 4, 20), "lion's mane", "")
	bed := reishiBed(yard.NewDate(2025, 11, 10), "european")
	gone := referencePile("gone", yard.NewDate(2020, 4, 20), "oyster", "")
	gone.Logs, gone.Closed = 0, yard.NewDate(2024, 1, 1)
	return yardOf(set, "oxford", lawsAsOf, oak, old, beech, bed, gone)
}

func mustRun(t testing.TB, in Input) *Result {
	t.Helper()
	res, err := Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

func TestSameForAnyWorkers(t *testing.T) {
	set := mustLoad(t)
	var first *Result
	for _, workers := range []int{1, 2, 7} {
		res := mustRun(t, Input{State: someYard(set), Data: set, Draws: 300, Workers: workers, Years: 3})
		if first == nil {
			first = res
			continue
		}
		if !reflect.DeepEqual(first, res) {
			t.Errorf("%d workers give another result than one", workers)
		}
	}
}

// Adding a pile changes no other, even one so old that the weather has to
// begin years earlier.
func TestAddingAPileChangesNoOther(t *testing.T) {
	set := mustLoad(t)
	few := mustRun(t, Input{State: someYard(set), Data: set, Draws: 300, Years: 3})
	more := someYard(set)
	older := referencePile("very-old", yard.NewDate(2017, 3, 9), "shiitake", "wide-range")
	bed := reishiBed(yard.NewDate(2019, 5, 5), "european")
	bed.Name = "older bed"
	more.Piles = append([]*yard.Pile{older, bed}, more.Piles...)
	many := mustRun(t, Input{State: more, Data: set, Draws: 300, Years: 3})
	for i, p := range few.Piles {
		if q := many.Piles[i+2]; !reflect.DeepEqual(p, q) {
			t.Errorf("%s changed:\n%+v\n%+v", p.Name, p.First, q.First)
		}
	}
}

// Chances move within three standard errors when draws grow.
func TestMoreDraws(t *testing.T) {
	set := mustLoad(t)
	few, many := size(500), size(4000)
	a := mustRun(t, Input{State: someYard(set), Data: set, Draws: few, Years: 3})
	b := mustRun(t, Input{State: someYard(set), Data: set, Draws: many, Years: 3})
	outside, count := 0, 0
	compare := func(x, y float64) {
		p := math.Min(math.Max(y, 0.5/float64(many)), 1-0.5/float64(many))
		count++
		if math.Abs(x-y) > 3*math.Sqrt(p*(1-p)*(1/float64(few)-1/float64(many))) {
			outside++
		}
	}
	for i := range a.Piles {
		for m := range a.Piles[i].Months {
			x, y := a.Piles[i].Months[m], b.Piles[i].Months[m]
			compare(x.HarvestChance, y.HarvestChance)
			compare(x.ColonisedChance, y.ColonisedChance)
		}
	}
	// Three standard errors are left by 0.3 % of independent chances; months
	// of one pile go together, so a few at once may stray.
	if outside*100 > count*2 {
		t.Errorf("%d of %d chances moved by more than three standard errors", outside, count)
	}
}

// Over an unlimited time a log's crop is efficiency × dry wood.
func TestLifeCropIsEfficiencyTimesWood(t *testing.T) {
	set := mustLoad(t)
	on := yard.NewDate(2026, 4, 15)
	state := yardOf(set, "oxford", on, referencePile("oak", on, "shiitake", "wide-range"))
	res := mustRun(t, Input{State: state, Data: set, Draws: size(1500), Years: 30})
	sum := 0.0
	for _, y := range res.Piles[0].YearsAhead {
		sum += y.Fresh.Mean
	}
	wood, _ := set.FindWood("white oak")
	sp, _ := set.FindSpecies("shiitake")
	eff := sp.Strains[0].Yield.Efficiency
	mean := 0.0 // of the efficiency, over its quantiles
	const n = 20001
	for i := range n {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/n-1)
		mean += skewed(eff, z) / n
	}
	want := 40 * mean * 1000 * wood.Gravity * math.Pi * 0.06 * 0.06 / (1 + wood.Bark/100)
	if math.Abs(sum/want-1) > loose(0.06) {
		t.Errorf("40 logs bring %.1f kg in thirty years, efficiency × dry wood is %.1f", sum, want)
	}
}

func skewed(r data.Range, z float64) float64 {
	if z < 0 {
		return r.Typical * math.Exp(z/1.2815515655*math.Log(r.Typical/r.Low))
	}
	return r.Typical * math.Exp(z/1.2815515655*math.Log(r.High/r.Typical))
}

// Fresh mass never exceeds the dry wood, even for an absurd efficiency.
func TestFreshIsAtMostTheWood(t *testing.T) {
	set := mustLoad(t)
	on := yard.NewDate(2026, 4, 15)
	sp, _ := set.FindSpecies("shiitake")
	was := sp.Strains[0].Yield.Efficiency
	sp.Strains[0].Yield.Efficiency = data.Range{Low: 3, Typical: 4, High: 5}
	defer func() { sp.Strains[0].Yield.Efficiency = was }()
	state := yardOf(set, "oxford", on, referencePile("oak", on, "shiitake", "wide-range"))
	res := mustRun(t, Input{State: state, Data: set, Draws: 200, Years: 20})
	last := res.Species[0].Years[len(res.Species[0].Years)-1].Sum
	if most := 40 * res.Piles[0].Yield.DryWoodKG.P90; last.P90 > most*1.03 {
		t.Errorf("%.1f kg fresh from %.1f kg of dry wood", last.P90, most)
	}
}

// A log lost stops yielding: half the logs bring half, none bring none.
func TestLostLogsStopYielding(t *testing.T) {
	set := mustLoad(t)
	crop := func(logs int) float64 {
		p := referencePile("oak", yard.NewDate(2024, 4, 15), "shiitake", "wide-range")
		p.Logs = logs
		res := mustRun(t, Input{State: yardOf(set, "oxford", lawsAsOf, p), Data: set, Draws: size(800), Years: 4})
		sum := 0.0
		for _, q := range res.Piles {
			for _, y := range q.YearsAhead {
				sum += y.Fresh.Mean
			}
		}
		return sum
	}
	all, half, none := crop(40), crop(20), crop(0)
	if math.Abs(half/all-0.5) > loose(0.04) || none != 0 {
		t.Errorf("40 logs bring %.1f kg, 20 bring %.1f, none %.1f", all, half, none)
	}
}

// A pile that has fruited is through somewhere; what was picked is gone.
func TestPickedPile(t *testing.T) {
	set := mustLoad(t)
	bare := referencePile("oak", yard.NewDate(2025, 4, 15), "shiitake", "wide-range")
	picked := referencePile("oak", yard.NewDate(2025, 4, 15), "shiitake", "wide-range")
	day := yard.NewDate(2026, 4, 10)
	k := &yard.Pick{On: yard.When{From: day, To: day}, Piles: []string{"oak"}, Species: "shiitake", Fresh: yard.Span{Low: 0.5, High: 0.5}, Weighed: true}
	picked.Picks = []*yard.Pick{k}
	picked.Seen = []yard.Seen{{On: k.On, Kind: "harvested"}}
	a := mustRun(t, Input{State: yardOf(set, "oxford", lawsAsOf, bare), Data: set, Draws: size(800)}).Piles[0]
	b := mustRun(t, Input{State: yardOf(set, "oxford", lawsAsOf, picked), Data: set, Draws: size(800)}).Piles[0]
	if b.Colonised.ShareNow < a.Colonised.ShareNow+0.05 {
		t.Errorf("share through %.2f after a picking, %.2f without", b.Colonised.ShareNow, a.Colonised.ShareNow)
	}
	sum := func(p *Pile) (kg float64) {
		for _, y := range p.YearsAhead {
			kg += y.Fresh.Mean
		}
		return kg
	}
	// So much that no other crop is likely to be had from these logs: half a kg, so
	// early, says more of how much they bear than it takes.
	k.Fresh = yard.Span{Low: 30, High: 30}
	c := mustRun(t, Input{State: yardOf(set, "oxford", lawsAsOf, picked), Data: set, Draws: size(800)}).Piles[0]
	if sum(c) >= sum(a) {
		t.Errorf("%.1f kg to come after 30 kg picked, %.1f without", sum(c), sum(a))
	}
}

// Months: chances are cumulative where they say so, and bounded.
func TestMonthsAreCoherent(t *testing.T) {
	set := mustLoad(t)
	res := mustRun(t, Input{State: someYard(set), Data: set, Draws: 300})
	for _, p := range res.Piles {
		last := Month{}
		for _, m := range p.Months {
			if m.ColonisedChance < last.ColonisedChance || m.ShareThrough < last.ShareThrough-1e-9 {
				t.Errorf("%s: %s falls behind the month before", p.Name, m.Month.MonthString())
			}
			for _, c := range []float64{m.ColonisedChance, m.ShareThrough, m.HarvestChance} {
				if c < 0 || c > 1 {
					t.Errorf("%s: chance %g in %s", p.Name, c, m.Month.MonthString())
				}
			}
			if m.Fresh.P10 > m.Fresh.P50 || m.Fresh.P50 > m.Fresh.P90 || m.Fresh.P10 < 0 {
				t.Errorf("%s: %+v out of order", p.Name, m.Fresh)
			}
			if (m.HarvestChance == 0) != (m.Fresh.Mean == 0) {
				t.Errorf("%s: chance %g and mean %g kg in %s", p.Name, m.HarvestChance, m.Fresh.Mean, m.Month.MonthString())
			}
			last = m
		}
		if n := len(p.Months); n != 73 {
			t.Errorf("%s: %d months ahead of six years", p.Name, n)
		}
	}
}

// The crop of a species is the sum of its piles.
func TestSpeciesSumTheirPiles(t *testing.T) {
	set := mustLoad(t)
	res := mustRun(t, Input{State: someYard(set), Data: set, Draws: 300})
	for _, sp := range res.Species {
		for m, month := range sp.Months {
			want := 0.0
			for _, p := range res.Piles {
				if p.Species == sp.Species {
					want += p.Months[m].Fresh.Mean
				}
			}
			if math.Abs(month.Fresh.Mean-want) > 1e-4*(1+want) {
				t.Fatalf("%s %s: %.4f kg, its piles %.4f", sp.Species, month.Month.MonthString(), month.Fresh.Mean, want)
			}
		}
	}
}

// What cannot be forecast is left out and named; the rest goes on.
func TestLeftOut(t *testing.T) {
	set := mustLoad(t)
	state := someYard(set)
	odd := referencePile("mystery", yard.NewDate(2025, 4, 1), "velvet foot", "")
	odd.Like = ""
	state.Piles = append(state.Piles, odd)
	res := mustRun(t, Input{State: state, Data: set, Draws: 50, Years: 1})
	if len(res.LeftOut) != 1 || res.LeftOut[0].Pile != "mystery" || len(res.Piles) != 4 {
		t.Errorf("left out %v, forecast %d piles", res.LeftOut, len(res.Piles))
	}
}

// A grower's own species keeps its own name on the books, and behaves as the
// one it is like.
func TestOwnSpecies(t *testing.T) {
	set := mustLoad(t)
	own := referencePile("pink", yard.NewDate(2025, 4, 1), "pink oyster", "")
	own.Like = "oyster"
	res := mustRun(t, Input{State: yardOf(set, "oxford", lawsAsOf, own), Data: set, Draws: 200, Years: 2})
	if len(res.Species) != 1 || res.Species[0].Species != "pink oyster" {
		t.Fatalf("species %+v", res.Species)
	}
	if names := res.Stock.Species(); len(names) != 1 || names[0] != "pink oyster" {
		t.Errorf("stock of %v", names)
	}
}

// An unknown country costs the holidays, not the calendar.
func TestUnknownCountry(t *testing.T) {
	set := mustLoad(t)
	state := yardOf(set, "oxford", lawsAsOf)
	state.Config.Working.Country = "zz"
	res := mustRun(t, Input{State: state, Data: set, Draws: 20, Years: 1})
	if len(res.Plan.Notes) == 0 {
		t.Error("nothing says that no holidays are kept free")
	}
}

func TestRunStops(t *testing.T) {
	set := mustLoad(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Run(ctx, Input{State: someYard(set), Data: set, Draws: 50}, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run ends with %v", err)
	}
	stop := errors.New("enough")
	if _, err := Run(context.Background(), Input{State: someYard(set), Data: set, Draws: 50, Years: 1}, func(*Pile) error { return stop }); !errors.Is(err, stop) {
		t.Errorf("an error of each ends with %v", err)
	}
	empty := yardOf(set, "oxford", lawsAsOf)
	if res := mustRun(t, Input{State: empty, Data: set, Draws: 50}); len(res.Piles) != 0 {
		t.Error("piles in an empty yard")
	}
	empty.Config.Site.Station = "atlantis"
	if _, err := Run(context.Background(), Input{State: empty, Data: set}, nil); err == nil {
		t.Error("an unknown station is accepted")
	}
}

// A planned soak brings pickings sooner to logs that can be forced.
func TestPlannedSoak(t *testing.T) {
	set := mustLoad(t)
	p := referencePile("oak", yard.NewDate(2023, 4, 15), "shiitake", "wide-range")
	state := yardOf(set, "oxford", lawsAsOf, p)
	without := mustRun(t, Input{State: state, Data: set, Draws: 500, Years: 1}).Piles[0]
	with := mustRun(t, Input{State: state, Data: set, Draws: 500, Years: 1,
		Decision: Decision{Soaks: map[string][]Soak{"oak": {{On: lawsAsOf + 40, Part: Whole}}}}}).Piles[0]
	june := 1
	if with.Months[june].HarvestChance < without.Months[june].HarvestChance+0.05 {
		t.Errorf("chance in June %.2f with a soak, %.2f without", with.Months[june].HarvestChance, without.Months[june].HarvestChance)
	}
}

func BenchmarkRun(b *testing.B) {
	set := mustLoad(b)
	for b.Loop() {
		mustRun(b, Input{State: someYard(set), Data: set})
	}
}
