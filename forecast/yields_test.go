package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"hodaba/forecast/fruit"
	"hodaba/yard"
)

var pickedAsOf = yard.NewDate(2026, time.January, 10)

// bearing is a yard at Oxford with two piles of shiitake and one of lion's
// mane that have borne for some years.
func bearing(t testing.TB, record ...func(*yard.State)) *yard.State {
	a := referencePile("oak-north", yard.NewDate(2022, 4, 12), "shiitake", "wide-range")
	b := referencePile("oak-south", yard.NewDate(2022, 4, 20), "shiitake", "wide-range")
	c := referencePile("beech", yard.NewDate(2022, 4, 20), "lion's mane", "")
	s := yardOf(mustLoad(t), "oxford", pickedAsOf, a, b, c)
	for _, r := range record {
		r(s)
	}
	return s
}

// picks puts a picking from some piles on record; without kg nobody weighed.
func picks(on yard.Date, kg float64, piles ...string) func(*yard.State) {
	return seasonPick(yard.When{From: on, To: on}, kg, piles...)
}

func seasonPick(on yard.When, kg float64, piles ...string) func(*yard.State) {
	return func(s *yard.State) {
		k := &yard.Pick{On: on, Piles: piles, Fresh: yard.Span{Low: kg, High: kg}, Weighed: kg > 0, Season: on.To-on.From >= 31}
		for _, name := range piles {
			p := s.Pile(name)
			k.Species = p.Species
			p.Picks = append(p.Picks, k)
		}
		s.Picks = append(s.Picks, k)
	}
}

// rounds are weekly ones of a season past a pile on which nothing was up.
func walks(year, weeks int, pile string) func(*yard.State) {
	return func(s *yard.State) {
		p := s.Pile(pile)
		for i := range weeks {
			p.Seen = append(p.Seen, walked(yard.NewDate(year, 4, 15)+yard.Date(7*i)))
		}
	}
}

func picking(pile string) func(*yard.State) {
	return func(s *yard.State) {
		p := s.Pile(pile)
		p.Seen = append(p.Seen, yard.Seen{On: yard.On(yard.NewDate(2023, 6, 1)), Kind: "harvested", With: -1})
	}
}

// staged is a run up to and with what crops on record tell.
func staged(t testing.TB, s *yard.State, draws int) *run {
	t.Helper()
	r, err := prepare(Input{State: s, Data: mustLoad(t), Draws: draws, Years: 3})
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []func(context.Context) error{r.weather, r.learn, r.learnYields} {
		if err := step(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// usual is what the forecast thinks of a year of each pile, kg, factors at
// their middle and something picked.
func usual(t testing.TB, year int) map[string]float64 {
	on := yard.NewDate(year, 9, 1)
	r := staged(t, bearing(t, picks(on, 1, "oak-north"), picks(on, 1, "oak-south"), picks(on, 1, "beech")), size(1000))
	out := map[string]float64{}
	for tk, l := range r.yields.ledgers {
		mean, _ := l.periods[0].expect.moments()
		out[tk.pile.Name] = math.Exp(mean)
	}
	return out
}

// ahead is the mean kg of each pile over the years ahead.
func ahead(t testing.TB, record ...func(*yard.State)) map[string]float64 {
	t.Helper()
	res := mustRun(t, Input{State: bearing(t, record...), Data: mustLoad(t), Draws: size(1000), Years: 3})
	out := map[string]float64{}
	for _, p := range res.Piles {
		for _, y := range p.YearsAhead {
			out[p.Name] += y.Fresh.Mean
		}
	}
	return out
}

// With nothing on record nothing is learned: every draw stays as it was.
func TestNothingOnRecord(t *testing.T) {
	r := staged(t, bearing(t), 50)
	if r.yields != nil || len(r.dryings) != 0 || r.takeFail != r.data.Practice.TakeFail {
		t.Error("something is learned from nothing")
	}
	p := r.open(r.tasks[0])
	if b := r.yieldBasis(p); b.Recorded != nil || b.Level != (Amount{}) || b.Stopped != 0 {
		t.Errorf("%+v", b)
	}
}

// Twice as much as thought, twice over, raises what a pile is thought to
// bring, its neighbour of the strain less, another species hardly.
func TestPickingMoreRaisesWhatIsToCome(t *testing.T) {
	var same, twice []func(*yard.State)
	for year := 2024; year <= 2025; year++ {
		kg, on := usual(t, year)["oak-north"], yard.NewDate(year, 9, 1)
		same, twice = append(same, picks(on, kg, "oak-north")), append(twice, picks(on, 2*kg, "oak-north"))
	}
	none, a, b := ahead(t), ahead(t, same...), ahead(t, twice...)
	t.Logf("nothing on record %.3v, as thought %.3v, twice as much %.3v", none, a, b)
	pile, neighbour, other := b["oak-north"]/a["oak-north"], b["oak-south"]/a["oak-south"], b["beech"]/a["beech"]
	// The other species' years count as better too, and so as more of its crop gone.
	if !(pile > 1.1 && pile > neighbour+0.02 && neighbour > 1.03 && other <= 1 && other > 0.95) {
		t.Errorf("twice as much: the pile brings %.3f times as much, its neighbour %.3f, another species %.3f", pile, neighbour, other)
	}
	if other := a["oak-south"] / none["oak-south"]; math.Abs(other-1) > 0.15 {
		t.Errorf("as much as thought: the neighbour brings %.3f times as much", other)
	}
}

// Nothing in a year of rounds in which a crop was all but sure lowers what is
// to come; too few rounds, and a picking that nobody weighed, change nothing.
func TestZeroAndUnrecorded(t *testing.T) {
	sure := func(s *yard.State) { s.Config.Site.Station = "richmond_va" } // two crops a year, where Oxford has hardly more than one
	none := ahead(t, sure, picking("oak-north"))
	all := []func(*yard.State){sure, picking("oak-north"), walks(2025, 30, "oak-north")}
	zero := staged(t, bearing(t, all...), size(1000))
	l := zero.yields.ledgers[zero.tasks[0]]
	if len(l.periods) != 1 || !l.periods[0].zero {
		t.Fatalf("%d periods", len(l.periods))
	}
	own, _ := zero.yields.known.Of(zero.yields.efficiency(zero.tasks[0], 0.5)...)
	strain, _ := zero.yields.known.Of(zero.yields.efficiency(zero.tasks[0], 1)...)
	less := ahead(t, all...)
	t.Logf("nothing would be on record in %.3f of draws; stopped %.3f; efficiency moves by %.4f, strain by %.4f; ahead %.2v, before %.2v",
		l.periods[0].expect.nothingAtAll(), l.stopped, own, strain, less, none)
	if !(own < 0 && strain < 0 && own < strain) {
		t.Errorf("after a zero the pile's efficiency lies %.4f deviations off, its strain's %.4f", own, strain)
	}
	if less["oak-north"] > 0.9*none["oak-north"] || math.Abs(less["oak-south"]/none["oak-south"]-1) > 0.03 {
		t.Errorf("after a zero the pile is to bring %.2f kg and its neighbour %.2f, before %.2f and %.2f", less["oak-north"], less["oak-south"], none["oak-north"], none["oak-south"])
	}
	set := mustLoad(t)
	run := func(record ...func(*yard.State)) *Result {
		return mustRun(t, Input{State: bearing(t, append(record, picking("oak-north"))...), Data: set, Draws: 200, Years: 3})
	}
	bare := run()
	for name, record := range map[string]func(*yard.State){
		"five rounds after it first bore": walks(2025, 5, "oak-north"),
		"a picking nobody weighed":        picks(yard.NewDate(2025, 9, 1), 0, "oak-north"),
	} {
		got := run(record)
		for i := range bare.Piles {
			got.Piles[i].Picked = bare.Piles[i].Picked
		}
		if !reflect.DeepEqual(bare.Piles, got.Piles) {
			t.Errorf("%s changes what is to come", name)
		}
	}
}

// One good year of all piles is mostly the year's doing: the strain is thought
// better for three of them.
func TestOneGoodYearIsTheYears(t *testing.T) {
	strain := func(years ...int) float64 {
		var record []func(*yard.State)
		for _, year := range years {
			for pile, kg := range usual(t, year) {
				record = append(record, picks(yard.NewDate(year, 9, 1), 1.8*kg, pile))
			}
		}
		r := staged(t, bearing(t, record...), size(1000))
		return mean(r, func(n int) float64 { return r.yields.given(r.tasks[0], n, deviation{}).shared })
	}
	one, three := strain(2024), strain(2023, 2024, 2025)
	t.Logf("the strain's share moves by %.3f deviations for one good year and %.3f for three", one, three)
	if !(one > 0.05 && three > 1.25*one) {
		t.Errorf("the strain's share moves by %.3f deviations for one good year and %.3f for three", one, three)
	}
	r := staged(t, bearing(t, picks(yard.NewDate(2024, 9, 1), 1.8*usual(t, 2024)["oak-north"], "oak-north")), size(1000))
	before := staged(t, bearing(t), size(1000))
	year := 2024 - r.start.Year()
	raised := mean(r, func(n int) float64 { return float64(r.factors[n][year] / before.factors[n][year]) })
	same := mean(r, func(n int) float64 { return float64(r.factors[n][year+1] / before.factors[n][year+1]) })
	if raised < 1.02 || math.Abs(same-1) > 1e-9 {
		t.Errorf("the good year's factor is raised by %.3f, that of the year after by %.3f", raised, same)
	}
}

func mean(r *run, of func(n int) float64) (sum float64) {
	for n := range r.draws {
		sum += of(n) * r.weight[n] / float64(r.draws)
	}
	return sum
}

// The order of entries of a day, and of baskets, changes nothing.
func TestOrderOfPickings(t *testing.T) {
	set := mustLoad(t)
	day := yard.NewDate(2025, 9, 1)
	record := []func(*yard.State){
		picks(day, 1.1, "oak-north"), picks(day, 0.37, "oak-north"), picks(day, 2.9, "oak-north", "oak-south"),
		picks(day, 0.7, "oak-south"), picks(day, 0.13, "oak-south", "oak-north"), picks(day, 1.3, "beech"),
	}
	var first *Result
	for seed := range uint64(3) {
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(record), func(i, j int) { record[i], record[j] = record[j], record[i] })
		res := mustRun(t, Input{State: bearing(t, record...), Data: set, Draws: 200, Years: 2, Workers: int(seed) + 1})
		if first == nil {
			first = res
		} else if !reflect.DeepEqual(first, res) {
			t.Error("another order of pickings gives another forecast")
		}
	}
}

// In every draw a crop is what was taken and what is left: what is on record
// where something is, else the flushes of the forecast.
func TestPastIsWhatIsOnRecord(t *testing.T) {
	kg := usual(t, 2024)["oak-north"]
	s := bearing(t, picks(yard.NewDate(2024, 9, 1), 1.5*kg, "oak-north"), picks(yard.NewDate(2025, 9, 1), 0.2*kg, "oak-north"))
	r := staged(t, s, 300)
	w := newWalker(r)
	w.fit(r.tasks[0])
	a := r.open(r.tasks[0])
	clipped := 0
	for n := range r.draws {
		w.drawPile(a, n) // leaves the crops after all flushes
		life := 0.0
		w.makeCrops(w.crops, a, n, cropLearned)
		for i := range w.crops {
			life += w.crops[i].Left()
		}
		unrecorded := w.unrecorded(a, n)
		w.makeCrops(w.crops, a, n, cropLearned)
		w.takePast(a, n)
		left := 0.0
		for i := range w.crops {
			left += w.crops[i].Left()
		}
		taken := 0.0
		for i, p := range a.ledger.periods {
			got := 0.0
			for _, x := range w.net[i] {
				got += x
			}
			if math.Abs(got-p.kg) > 1e-9 {
				clipped++
			}
			taken += got
		}
		if left < 0 || left > life*(1+1e-12) || taken+left > life*(1+1e-9) {
			t.Fatalf("draw %d: life %g, on record %g, left %g", n, life, taken, left)
		}
		if rest := life - left - taken; rest < -1e-9*life || unrecorded == 0 && rest > 1e-9*life {
			t.Fatalf("draw %d: life %g, on record %g, left %g: %g of it are nowhere", n, life, taken, left, rest)
		}
	}
	if clipped > r.draws/5 {
		t.Errorf("of %d periods of %d draws the crop could not give what is on record", clipped, r.draws)
	}
}

// unrecorded counts the flushes of a draw before today in years not on record.
func (w *walker) unrecorded(a *account, n int) (count int) {
	for _, f := range w.flushes {
		if f.Day <= w.r.today && a.ledger.at(f.Day) < 0 {
			count++
		}
	}
	return count
}

// A basket's parts come to one: as forecast, by logs where the forecast
// expects nothing, in equal parts where nobody counted.
func TestSharesOfABasket(t *testing.T) {
	early, autumn := yard.NewDate(2022, 6, 1), yard.NewDate(2025, 9, 20)
	s := bearing(t, picks(autumn, 3, "oak-north", "oak-south"), picks(early, 3, "oak-north", "oak-south"))
	small := s.Pile("oak-south")
	small.Logs, small.Started = 10, 10
	r := staged(t, s, size(500))
	for i, k := range s.Picks {
		a, b := r.shareOf(s.Piles[0], k), r.shareOf(s.Piles[1], k)
		if math.Abs(a+b-1) > 1e-12 || math.Abs(a-0.8) > 0.05 {
			t.Errorf("basket %d of 40 and 10 logs is shared out %.4f and %.4f", i, a, b)
		}
		if i == 1 && math.Abs(a-0.8) > 1e-12 {
			t.Errorf("where nothing is expected 40 of 50 logs have %.4f", a)
		}
		if c := r.shareOf(s.Piles[2], k); c != 0 {
			t.Errorf("a pile that was not picked has %.4f", c)
		}
	}
	s = bearing(t, picks(autumn, 3, "oak-north", "oak-south"))
	s.Picks[0].Piles = append(s.Picks[0].Piles, "nobody knows")
	s.Pile("oak-south").LogsKnown = false
	r = staged(t, s, 100)
	if a, b := r.shareOf(s.Piles[0], s.Picks[0]), r.shareOf(s.Piles[1], s.Picks[0]); a != 0.5 || b != 0.5 {
		t.Errorf("uncounted piles have %.3f and %.3f", a, b)
	}
}

// Half of the logs gone since: half of what was picked then counts, and as
// much as thought of the other half teaches nothing. Logs that never took are
// not missed.
func TestOfTheLogsThatStillStand(t *testing.T) {
	day := yard.NewDate(2024, 9, 1)
	s := bearing(t, picks(day, 4, "oak-north"), picks(day, 4, "oak-south"))
	for i, cause := range []string{"stolen", "never took"} {
		p := s.Piles[i]
		p.Logs = 20
		p.Gone = []yard.LogLoss{{On: yard.On(day + 100), Logs: 20, How: "lost", Cause: cause}}
	}
	r := staged(t, s, 100)
	for i, want := range []float64{2, 4} {
		if got := r.yields.ledgers[r.tasks[i]].periods[0].kg; math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %.3f kg, want %g", r.tasks[i].pile.Name, got, want)
		}
	}
}

// Years are joined where one picking spans them; the last is cut at today.
func TestPeriods(t *testing.T) {
	s := bearing(t,
		seasonPick(yard.When{From: yard.NewDate(2023, 1, 1), To: yard.NewDate(2024, 12, 31)}, 9, "oak-north"),
		picks(yard.NewDate(2024, 5, 3), 1, "oak-north"), picks(yard.NewDate(2026, 1, 3), 1, "oak-north"),
		seasonPick(yard.When{From: yard.NewDate(2022, 1, 1), To: yard.NewDate(2022, 12, 31)}, 2, "oak-north"))
	r := staged(t, s, 100)
	want := []Recorded{
		{From: yard.NewDate(2022, 1, 1), To: yard.NewDate(2022, 12, 31), Picked: 2},
		{From: yard.NewDate(2023, 1, 1), To: yard.NewDate(2024, 12, 31), Picked: 10},
		{From: yard.NewDate(2026, 1, 1), To: pickedAsOf, Picked: 1},
	}
	got := r.yieldBasis(r.open(r.tasks[0])).Recorded
	for i := range got {
		got[i].Expected = Amount{}
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
}

// Against the draws of the forecast before any record, each weighed by how
// near its own crops of two years come to what was picked: the posterior of
// the same model, but for the draws that it wants.
func TestAgainstWeighedDraws(t *testing.T) {
	draws, near := 5000, 0.17
	if testing.Short() {
		draws, near = 2000, 0.3 // fewer draws are worth less once they are weighed
	}
	years := []int{2024, 2025}
	var base []float64
	for _, year := range years {
		base = append(base, usual(t, year)["oak-north"])
	}
	r := staged(t, bearing(t), draws)
	all := []float64{0.5, 1, 2}
	if testing.Short() {
		all = all[2:]
	}
	for _, times := range all {
		var record []func(*yard.State)
		var kg []float64
		for i, year := range years {
			kg = append(kg, times*base[i])
			record = append(record, picks(yard.NewDate(year, 9, 1), kg[i], "oak-north"))
		}
		pile, neighbour := weighed(r, years, kg)
		got := ahead(t, record...)
		t.Logf("%g times as much: pile %.1f kg, weighed draws %.1f; neighbour %.1f, %.1f", times, got["oak-north"], pile, got["oak-south"], neighbour)
		for name, want := range map[string]float64{"oak-north": pile, "oak-south": neighbour} {
			if math.Abs(got[name]/want-1) > near {
				t.Errorf("%g times as much: %s is to bring %.2f kg, weighed draws say %.2f", times, name, got[name], want)
			}
		}
	}
}

// weighed is what the first two piles are to bring, with each draw weighed by
// the crop of the first.
func weighed(r *run, years []int, kg []float64) (pile, neighbour float64) {
	w := newWalker(r)
	w.fit(r.tasks[0])
	accounts := []*account{r.account(r.tasks[0]), r.account(r.tasks[1])}
	sum := 0.0
	for n := range r.draws {
		ahead, past := make([]float64, 2), map[int]float64{}
		for i, a := range accounts {
			w.ripen(a.t, n, r.begin(a.t, n))
			w.makeCrops(w.crops, a, n, cropDrawn)
			for _, f := range fruit.Walk(nil, &a.t.strain.Fruit, a.t.setting.triggers[n], w.ready, a.streams.walk[0].Draw(n), nil) {
				switch kg := w.crops[f.Cohort].Flush(f.Day, r.factor(n, f.Day)); {
				case f.Day > r.today:
					ahead[i] += kg
				case i == 0:
					past[(r.start + yard.Date(f.Day)).Year()] += kg
				}
			}
		}
		ln := 0.0
		for i, year := range years {
			d := math.Log(kg[i]/math.Max(past[year], roundingKG)) / r.data.Practice.RecordSpread.Value
			ln -= d * d / 2
		}
		weight := math.Exp(ln)
		sum, pile, neighbour = sum+weight, pile+weight*ahead[0], neighbour+weight*ahead[1]
	}
	return pile / sum, neighbour / sum
}

// Loads weighed before and after bring the dry weight to theirs, the more the
// more there are; weights that do not fit together are passed over.
func TestDryingIsLearned(t *testing.T) {
	set := mustLoad(t)
	run := func(loads int, freshKG, dryG float64) Species {
		s := bearing(t)
		for range loads {
			s.Dryings = append(s.Dryings, yard.Drying{On: yard.On(yard.NewDate(2025, 9, 1)), Species: "Shiitake", FreshKG: freshKG, DryG: dryG})
		}
		for _, sp := range mustRun(t, Input{State: s, Data: set, Draws: 300, Years: 2}).Species {
			if sp.Species == "shiitake" {
				return sp
			}
		}
		t.Fatal("no shiitake")
		return Species{}
	}
	none, one, ten := run(0, 0, 0), run(1, 2, 160), run(10, 2, 160)
	t.Logf("fresh per dry: %.2f, after one load %.2f, after ten %.2f", none.DryRatio, one.DryRatio, ten.DryRatio)
	const want = 2000.0 / 160
	off := func(sp Species) float64 { return math.Abs(sp.DryRatio.P50 - want) }
	if !(off(ten) < off(one) && off(one) < off(none) && off(ten) < 0.4) || one.DryingsSeen != 1 || ten.DryingsSeen != 10 {
		t.Errorf("fresh per dry: %.2f, after one load of 12.5 %.2f, after ten %.2f", none.DryRatio, one.DryRatio, ten.DryRatio)
	}
	if width := func(sp Species) float64 { return sp.DryRatio.P90 - sp.DryRatio.P10 }; width(ten) > 0.5*width(none) {
		t.Errorf("after ten loads the range is %.2f wide, before %.2f", width(ten), width(none))
	}
	for _, odd := range [][2]float64{{0.2, 2000}, {1, 1000}, {0, 100}, {2, 0}} {
		if got := run(3, odd[0], odd[1]); !reflect.DeepEqual(got, none) {
			t.Errorf("%g kg fresh and %g g dried change what is thought", odd[0], odd[1])
		}
	}
	if dry := run(20, 2, 1990); dry.DryRatio.P10 < 1 {
		t.Errorf("%.3f kg fresh per kg dry", dry.DryRatio.P10)
	}
}

// Logs lost because they never took raise the share that never takes, logs
// that bore lower it; logs stolen or spent say nothing.
func TestTakeIsLearned(t *testing.T) {
	set := mustLoad(t)
	lost := func(logs int, cause string) func(*yard.State) {
		return func(s *yard.State) {
			p := s.Pile("oak-north")
			p.Gone = append(p.Gone, yard.LogLoss{On: yard.On(yard.NewDate(2024, 5, 1)), Logs: logs, How: "lost", Cause: cause})
			p.Logs -= logs
		}
	}
	seen := func(x yard.Seen) func(*yard.State) {
		return func(s *yard.State) { s.Pile("oak-north").Seen = append(s.Pile("oak-north").Seen, x) }
	}
	on := yard.On(yard.NewDate(2024, 4, 1))
	mould := seen(yard.Seen{On: on, Kind: "noticed", What: "green mould", Logs: 10, With: -1})
	typical := func(record ...func(*yard.State)) float64 {
		r, err := prepare(Input{State: bearing(t, record...), Data: set, Draws: 10})
		if err != nil {
			t.Fatal(err)
		}
		if f := r.takeFail; !(0 < f.Low && f.Low < f.Typical && f.Typical < f.High && f.High < 1) {
			t.Errorf("%+v", f)
		}
		return r.takeFail.Typical
	}
	before := set.Practice.TakeFail.Typical
	for _, row := range []struct {
		name   string
		record []func(*yard.State)
		sign   int
	}{
		{"nothing", nil, 0},
		{"stolen", []func(*yard.State){lost(20, "stolen")}, 0},
		{"spent", []func(*yard.State){lost(20, "rotten and spent")}, 0},
		{"slugs", []func(*yard.State){seen(yard.Seen{On: on, Kind: "noticed", What: "slugs", Logs: 10})}, 0},
		{"never took", []func(*yard.State){lost(20, "Never took")}, 1},
		{"mould noticed", []func(*yard.State){mould}, 1},
		{"thirty bore", []func(*yard.State){seen(yard.Seen{On: on, Kind: "harvested", Logs: 30, With: -1})}, -1},
		{"rings on nine of ten", []func(*yard.State){seen(looked(on.From, 10, 9))}, -1},
	} {
		if got := typical(row.record...); row.sign == 0 && got != before || float64(row.sign)*(got-before) < 0 {
			t.Errorf("%s: %.3f never take, before %.3f", row.name, got, before)
		}
	}
	if a, b := typical(lost(10, "never took")), typical(mould, lost(10, "never took")); a != b {
		t.Errorf("logs lost after mould was noticed on them count twice: %.4f, %.4f", a, b)
	}
	if a, b := typical(lost(10, "never took")), typical(mould); a <= b {
		t.Errorf("ten logs lost say %.4f, mould on ten %.4f", a, b)
	}
}

// The mean and variance of a range are those of its halves: against sums over
// its quantiles.
func TestMomentsOfARange(t *testing.T) {
	q := mustLoad(t).Practice.TakeFail
	mean, variance := momentsOf(q)
	const n = 200001
	sum, square := 0.0, 0.0
	for i := range n {
		x := skewed(q, math.Sqrt2*math.Erfinv(2*(float64(i)+0.5)/n-1))
		sum, square = sum+x/n, square+x*x/n
	}
	if math.Abs(mean-sum) > 1e-5 || math.Abs(variance-(square-sum*sum)) > 1e-5 {
		t.Errorf("mean %.6f, variance %.6f, want %.6f and %.6f", mean, variance, sum, square-sum*sum)
	}
}

func BenchmarkLearnYields(b *testing.B) {
	var piles []*yard.Pile
	for i := range 20 {
		piles = append(piles, referencePile(string(rune('a'+i)), yard.NewDate(2022, 4, 1+i%3), []string{"shiitake", "oyster"}[i%2], ""))
	}
	s := yardOf(mustLoad(b), "oxford", pickedAsOf, piles...)
	for _, p := range piles {
		for year := 2023; year <= 2025; year++ {
			picks(yard.NewDate(year, 9, 1), 4, p.Name)(s)
		}
	}
	r := staged(b, s, 2000)
	b.Run("all", func(b *testing.B) {
		for b.Loop() {
			r.yields = nil
			r.yearFactors()
			if err := r.learnYields(context.Background()); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("walk over the past", func(b *testing.B) {
		var tasks []*task
		for t := range r.yields.ledgers {
			tasks = append(tasks, t)
		}
		for b.Loop() {
			if err := r.expect(context.Background(), tasks); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("walk over past and future", func(b *testing.B) {
		for b.Loop() {
			if err := r.walkPiles(context.Background(), &Result{}, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}
