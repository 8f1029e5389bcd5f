package forecast

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"hodaba/yard"
)

func looked(on yard.Date, n, with int) yard.Seen {
	return yard.Seen{On: yard.When{From: on, To: on}, Kind: "checked", LookedAt: n, With: with, Spots: -1, Springy: -1, Dull: -1}
}

func walked(on yard.Date) yard.Seen {
	return yard.Seen{On: yard.When{From: on, To: on}, Kind: "walked", With: -1}
}

// twoPiles is a yard at Oxford a year on, with two piles of one year and
// species, and one of another species.
func twoPiles(t testing.TB, seen ...yard.Seen) *yard.State {
	set := mustLoad(t)
	a := referencePile("oak-north", yard.NewDate(2025, 4, 12), "shiitake", "wide-range")
	b := referencePile("oak-south", yard.NewDate(2025, 4, 20), "shiitake", "wide-range")
	c := referencePile("beech", yard.NewDate(2025, 4, 20), "lion's mane", "")
	a.Seen = seen
	return yardOf(set, "oxford", yard.NewDate(2026, time.August, 1), a, b, c)
}

func shareOf(t testing.TB, s *yard.State) (a, b, c float64) {
	res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: size(2000), Years: 2})
	return res.Piles[0].Colonised.ShareNow, res.Piles[1].Colonised.ShareNow, res.Piles[2].Colonised.ShareNow
}

// A look at one pile moves it, its neighbour of the same species less, and a
// pile of another species least, all the same way.
func TestCheckMovesNeighboursLess(t *testing.T) {
	a0, b0, c0 := shareOf(t, twoPiles(t))
	july := yard.NewDate(2026, 7, 20)
	for _, with := range []int{0, 10} {
		a, b, c := shareOf(t, twoPiles(t, looked(july, 10, with)))
		sign := 1.0
		if with == 0 {
			sign = -1
		}
		da, db, dc := sign*(a-a0), sign*(b-b0), sign*(c-c0)
		if !(da > db && db > 0 && dc > -0.01 && da > 0.1) {
			t.Errorf("%d of 10: the pile moves by %+.3f, its neighbour by %+.3f, another species by %+.3f", with, sign*da, sign*db, sign*dc)
		}
	}
}

// A look that says nothing changes nothing, and looks of one day may be
// written in any order.
func TestEmptyCheckAndOrder(t *testing.T) {
	set := mustLoad(t)
	run := func(seen ...yard.Seen) *Result {
		res := mustRun(t, Input{State: twoPiles(t, seen...), Data: set, Draws: 200, Years: 2})
		for _, p := range res.Piles {
			p.Why.Effects = nil // where it is told that nothing follows from it
		}
		return res
	}
	july := yard.NewDate(2026, 7, 20)
	if !reflect.DeepEqual(run(), run(looked(july, 0, -1), looked(july, 10, -1))) {
		t.Error("a look without a result changes the forecast")
	}
	x, y := looked(july, 10, 4), looked(july, 8, 5)
	if a, b := run(x, y).Piles[0].Colonised, run(y, x).Piles[0].Colonised; math.Abs(a.ShareNow-b.ShareNow) > 1e-9 {
		t.Errorf("share %.6f and %.6f with two looks of a day in either order", a.ShareNow, b.ShareNow)
	}
}

// Going round in the season with nothing up speaks against being through; a
// harvest that nobody wrote down does not.
func TestNothingUpIsEvidence(t *testing.T) {
	a0, _, _ := shareOf(t, twoPiles(t))
	var rounds []yard.Seen
	for d := yard.NewDate(2026, 6, 1); d < yard.NewDate(2026, 8, 1); d += 5 {
		rounds = append(rounds, walked(d))
	}
	if a, _, _ := shareOf(t, twoPiles(t, rounds...)); a > a0-0.02 {
		t.Errorf("share through %.3f after twelve rounds with nothing up, %.3f without", a, a0)
	}
}

// A first flush on one log of forty is the earliest of many: when hardly any
// could have been through it speaks for a fast pile, when a quarter could for
// a slow one; a flush on twenty speaks for a fast one more.
func TestFirstFlushIsTheEarliestOfMany(t *testing.T) {
	early, late := yard.NewDate(2025, 11, 1), yard.NewDate(2026, 7, 1)
	flush := func(on yard.Date, logs int) yard.Seen {
		return yard.Seen{On: yard.When{From: on, To: on}, Kind: "harvested", Logs: logs, With: -1}
	}
	a0, _, _ := shareOf(t, twoPiles(t))
	one, _, _ := shareOf(t, twoPiles(t, flush(early, 1)))
	many, _, _ := shareOf(t, twoPiles(t, flush(late, 20)))
	few, _, _ := shareOf(t, twoPiles(t, flush(late, 1)))
	if !(one > a0+0.05 && many > a0+0.05 && few < a0-0.05) {
		t.Errorf("share through %.3f with nothing seen; %.3f after an early flush on one log of forty; after a later one %.3f on twenty, %.3f on one", a0, one, many, few)
	}
}

// What was seen is used up by the weather too: where the past was not
// measured, an early ring may be the spring's doing and says less of the pile.
func TestWarmSpringIsNotAFastYard(t *testing.T) {
	set := mustLoad(t)
	asOf := yard.NewDate(2015, time.August, 1)
	needed := func(measured bool, seen ...yard.Seen) float64 {
		s := newYork(set, asOf)
		s.Piles[0].Seen = seen
		if measured {
			s.Weather = record(t, "new-york.csv", asOf)
		}
		return mustRun(t, Input{State: s, Data: set, Draws: size(3000), Years: 1}).Piles[0].NeedDays.Mean
	}
	early := looked(yard.NewDate(2014, 12, 1), 10, 8)
	known := needed(true) - needed(true, early)
	open := needed(false) - needed(false, early)
	t.Logf("an early ring lowers the need by %.1f growing days with the weather measured, by %.1f without", known, open)
	if known <= 0 || open <= 0 || open > 1.1*known {
		t.Errorf("an early ring lowers the need by %.1f growing days with the weather measured and %.1f without", known, open)
	}
}

// With evidence too, any number of workers gives the same, and a pile of which
// nothing was seen changes no other.
func TestLearningIsRepeatable(t *testing.T) {
	set := mustLoad(t)
	july := yard.NewDate(2026, 7, 20)
	run := func(workers int, more ...*yard.Pile) *Result {
		s := twoPiles(t, looked(july, 10, 7))
		s.Piles = append(s.Piles, more...)
		return mustRun(t, Input{State: s, Data: set, Draws: 300, Years: 2, Workers: workers})
	}
	one := run(1)
	for _, workers := range []int{2, 7} {
		if !reflect.DeepEqual(one, run(workers)) {
			t.Errorf("%d workers give another result", workers)
		}
	}
	with := run(2, referencePile("older", yard.NewDate(2019, 3, 1), "oyster", ""))
	for i, p := range one.Piles {
		if !reflect.DeepEqual(p, with.Piles[i]) {
			t.Errorf("%s changed with a pile of which nothing was seen", p.Name)
		}
	}
}

// Looks that contradict each other are said to.
func TestContradictionIsSaid(t *testing.T) {
	res := mustRun(t, Input{State: twoPiles(t, looked(yard.NewDate(2025, 7, 15), 40, 40), looked(yard.NewDate(2026, 7, 15), 40, 0)), Data: mustLoad(t), Draws: 500, Years: 2})
	c := res.Piles[0].Colonised
	if math.IsNaN(c.ShareNow) || c.ShareNow < 0 || c.ShareNow > 1 {
		t.Errorf("share %g", c.ShareNow)
	}
	if !has(res.Piles[0], "odd") || has(res.Piles[1], "odd") {
		t.Errorf("said of the pile: %v, of its neighbour: %v", res.Piles[0].Notes, res.Piles[1].Notes)
	}
	fits := mustRun(t, Input{State: twoPiles(t, looked(yard.NewDate(2026, 3, 15), 10, 2), looked(yard.NewDate(2026, 7, 15), 10, 6)), Data: mustLoad(t), Draws: 200, Years: 2})
	if has(fits.Piles[0], "odd") {
		t.Errorf("looks that fit are said to contradict: %v", fits.Piles[0].Notes)
	}
}

// The chance of a ring after none, against simulation of logs that were
// through, have become so, or are not, with ends misread at either look.
func TestRingAfterNone(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	for _, c := range []struct{ s1, s2, misread float64 }{{0, 0, 0.1}, {0.2, 0.5, 0.08}, {0.6, 0.6, 0.2}, {0.3, 0.9, 0}} {
		q := nuisance{misread: c.misread}
		ring := func(through bool) bool {
			if through {
				return rnd.Float64() >= q.misread
			}
			return rnd.Float64() < q.misread/2
		}
		none, now := 0.0, 0.0
		for range 200000 {
			u := rnd.Float64()
			if ring(u < c.s1) {
				continue
			}
			none++
			if ring(u < c.s2) {
				now++
			}
		}
		if got := q.ringAfterNone(c.s1, c.s2); math.Abs(got-now/none) > 0.005 {
			t.Errorf("%+v: %.4f, simulated %.4f", c, got, now/none)
		}
	}
}

// One ring more on the same ten logs, months before any can be through, is a
// misread end and not a fast pile.
func TestSecondLookMayBeMisread(t *testing.T) {
	a0, _, _ := shareOf(t, twoPiles(t))
	a, _, _ := shareOf(t, twoPiles(t, looked(yard.NewDate(2025, 8, 12), 10, 0), looked(yard.NewDate(2025, 11, 12), 10, 1)))
	if math.Abs(a-a0) > 0.12 {
		t.Errorf("share through %.3f, %.3f with nothing seen", a, a0)
	}
}

// A set that contradicts itself, ends white at 3 months and none at 12, is
// pointed at and leaves more open than the later look does alone.
func TestContradictionWidens(t *testing.T) {
	width := func(seen ...yard.Seen) (days float64, odd bool) {
		res := mustRun(t, Input{State: twoPiles(t, seen...), Data: mustLoad(t), Draws: size(2000), Years: 4})
		p := res.Piles[0]
		if p.Colonised.P10 == 0 || p.Colonised.P90 == 0 {
			t.Fatalf("half through between %s and %s", p.Colonised.P10, p.Colonised.P90)
		}
		return float64(p.Colonised.P90 - p.Colonised.P10), has(p, "odd") && p.Why.Contradicts
	}
	white, none := looked(yard.NewDate(2025, 7, 12), 10, 10), looked(yard.NewDate(2026, 4, 12), 10, 0)
	alone, oddAlone := width(none)
	both, oddBoth := width(white, none)
	if oddAlone || !oddBoth || both <= alone {
		t.Errorf("range of %.0f days with the later look alone, pointed at %v; of %.0f with both, pointed at %v", alone, oddAlone, both, oddBoth)
	}
}

// Every sign moves the forecast its way: spots are a ring to come, knock and
// bark say less than a ring on as many ends, and nothing more where the ring
// was looked for too.
func TestSignsOfAllKinds(t *testing.T) {
	july := yard.NewDate(2026, 7, 20)
	sign := func(rings, spots, springy, dull int) float64 {
		s := looked(july, 10, rings)
		s.Spots, s.Springy, s.Dull = spots, springy, dull
		a, _, _ := shareOf(t, twoPiles(t, s))
		return a
	}
	nothing, _, _ := shareOf(t, twoPiles(t))
	ring, dull, springy, spots := sign(9, -1, -1, -1), sign(-1, -1, -1, 9), sign(-1, -1, 9, -1), sign(-1, 9, -1, -1)
	if !(ring > dull && dull > nothing && springy > nothing && spots > nothing && spots < ring) {
		t.Errorf("share through %.3f with nothing seen; 9 of 10 with a ring %.3f, dull %.3f, springy %.3f, spots %.3f", nothing, ring, dull, springy, spots)
	}
	if both := sign(9, -1, 2, 3); both != ring {
		t.Errorf("share through %.3f with nine rings, %.3f with little else on the same ends", ring, both)
	}
	if soon, far := sign(1, 8, -1, -1), sign(1, 0, -1, -1); soon <= far {
		t.Errorf("one ring of ten: share through %.3f with eight spots beside it, %.3f with none", soon, far)
	}
}

// A basket from two piles says less of either than one of its own, and logs
// that never took say nothing of how fast the others are.
func TestSharedBasketSaysLess(t *testing.T) {
	on := yard.NewDate(2025, 12, 1)
	share := func(piles ...string) float64 {
		s := twoPiles(t)
		entry := &yard.Entry{}
		k := &yard.Pick{On: yard.When{From: on, To: on}, Piles: piles, Species: "shiitake", Entry: entry}
		for _, name := range piles {
			p := s.Pile(name)
			p.Seen = append(p.Seen, yard.Seen{On: k.On, Kind: "harvested", With: -1, Spots: -1, Springy: -1, Dull: -1, Entry: entry})
			p.Picks = append(p.Picks, k)
		}
		a, _, _ := shareOf(t, s)
		return a
	}
	none, alone, shared := share(), share("oak-north"), share("oak-north", "oak-south")
	if !(alone > shared && shared > none) {
		t.Errorf("share through %.3f with nothing seen, %.3f after a basket from both piles, %.3f after one of its own", none, shared, alone)
	}
}
