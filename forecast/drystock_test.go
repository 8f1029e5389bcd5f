package forecast

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"hodaba/yard"
)

var dryStockDay = yard.NewDate(2026, 5, 6)

// dryingYard bears shiitake and lion's mane and makes one tincture of both.
func dryingYard(t testing.TB, load float64) *yard.State {
	s := tankOn(t, dryStockDay)
	for _, p := range s.Piles {
		p.Logs, p.Started = 400, 400
	}
	s.Config.Drier = yard.Drier{LoadKG: load, HoursPerLoad: 14, Share: 1}
	s.Recipes = []yard.Recipe{{Name: "Two", Jars: 2, SpiritMLJar: 450, SpiritABV: 50, MacerateMin: 21, MacerateMax: 35,
		Method: "maceration only", BottleML: 100,
		Ingredients: []yard.Ingredient{{Species: "shiitake", Form: "pieces", GramsJar: 1000}, {Species: "lion's mane", Form: "pieces", GramsJar: 20}}}}
	s.Config.Kitchen = yard.Kitchen{Jars: 4, Batches: 1}
	return s
}

func driedRun(t testing.TB, s *yard.State) *Result {
	t.Helper()
	return mustRun(t, Input{State: s, Data: mustLoad(t), Draws: size(300), Years: 3})
}

// grams is what has come in of a species by a day, on the mean of all draws.
func grams(res *Result, species string, by yard.Date) (sum float64) {
	for n := range res.Draws {
		sum += res.Stock.OnHand(species, n, by) / float64(res.Draws)
	}
	return sum
}

// Where nobody said what the drier takes, it takes all on the day of picking:
// neither a cold room, a promise nor a broken drier is weighed against it.
func TestDryStockWithoutADrier(t *testing.T) {
	plain := driedRun(t, dryingYard(t, 0))
	other := dryingYard(t, 0)
	other.Config.Cold = yard.Cold{HoldsKG: 1, Days: 7}
	other.Config.Promised = []yard.Promise{{To: "market", What: "shiitake", Amount: kilos(5), By: dryStockDay + 4, Every: 7}}
	other.Broken = []yard.Breakage{{What: "drier", On: yard.On(dryStockDay)}}
	got := driedRun(t, other)
	if !reflect.DeepEqual(plain.Stock, got.Stock) || !reflect.DeepEqual(plain.Plan, got.Plan) {
		t.Error("what the drier takes is not said, and yet the dry stock is another")
	}
	if grams(plain, "shiitake", plain.Horizon) < 100 {
		t.Fatal("the yard brings too little to tell anything")
	}
}

// A drier that takes little, one that is broken, and fresh mushrooms that were
// promised each cost dried goods, in the year ahead and later, and put off a
// batch. Each was seen to fail with the dried goods taken from the pickings.
func TestWhatCostsDriedGoods(t *testing.T) {
	base := driedRun(t, dryingYard(t, 50))
	if base.Plan.Batches[0].Start == 0 {
		t.Fatalf("the batch has no date with a drier that takes all: %s", base.Plan.Batches[0].Why)
	}
	for name, change := range map[string]func(*yard.State){
		"a drier of 0.1 kg": func(s *yard.State) { s.Config.Drier.LoadKG = 0.1 },
		"broken through the season": func(s *yard.State) {
			s.Broken = []yard.Breakage{{What: "drier", On: yard.On(dryStockDay), Until: yard.On(dryStockDay + 250)}}
		},
		"promised": func(s *yard.State) {
			s.Config.Promised = []yard.Promise{{To: "market", What: "fresh", Amount: kilos(200), By: dryStockDay + 4, Every: 7}}
		},
	} {
		s := dryingYard(t, 50)
		change(s)
		got := driedRun(t, s)
		year := dryStockDay + 360
		if x, y := grams(got, "shiitake", year), grams(base, "shiitake", year); x > 0.7*y {
			t.Errorf("%s: %.0f g of shiitake in the year ahead, %.0f g without", name, x, y)
		}
		x, y := grams(got, "shiitake", got.Horizon)-grams(got, "shiitake", year+14), grams(base, "shiitake", base.Horizon)-grams(base, "shiitake", year+14)
		if name != "broken through the season" && x > 0.9*y {
			t.Errorf("%s: %.0f g of shiitake in later years, %.0f g without", name, x, y)
		}
		if name == "broken through the season" && math.Abs(x-y) > 1e-6 {
			t.Errorf("%s: %.0f g of shiitake in later years, %.0f g without", name, x, y)
		}
		if n := got.Plan.Notes[len(got.Plan.Notes)-1]; name == "broken through the season" && !strings.Contains(n, "The drier is broken until 2027-01-11") || name != "broken through the season" && !strings.Contains(n, "come out of the drier") {
			t.Errorf("%s: the calendar says %q", name, n)
		}
		if b := got.Plan.Batches[0]; b.Start != 0 && b.Start <= base.Plan.Batches[0].Start {
			t.Errorf("%s: the batch starts on %s, without on %s", name, b.Start, base.Plan.Batches[0].Start)
		}
	}
}

// A bigger drier never gives less.
func TestABiggerDrierGivesNoLess(t *testing.T) {
	var before []float64
	for _, load := range []float64{0.1, 0.3, 1, 3, 10, 100} {
		res := driedRun(t, dryingYard(t, load))
		var now []float64
		for n := range res.Draws {
			now = append(now, res.Stock.OnHand("shiitake", n, res.Horizon)+res.Stock.OnHand("lion's mane", n, res.Horizon))
		}
		for n := range before {
			if now[n] < before[n]-1 {
				t.Fatalf("draw %d: %.0f g with a load of %g kg, %.0f g with a lesser one", n, now[n], load, before[n])
			}
		}
		before = now
	}
}

// suppliedRun is a run as far as the drier of the year ahead.
func suppliedRun(t testing.TB, s *yard.State) (*run, *Supply) {
	t.Helper()
	ctx := context.Background()
	r, err := learned(ctx, Input{State: s, Data: mustLoad(t), Draws: size(200), Years: 3})
	if err != nil {
		t.Fatal(err)
	}
	if err := r.walkPiles(ctx, r.result(), nil); err != nil {
		t.Fatal(err)
	}
	supply, err := r.supply(ctx, r.species(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return r, supply
}

// Came = sold + kept + dried + without room, and what went into the drier,
// less its water, is what comes onto the shelf.
func TestDriedGramsBalance(t *testing.T) {
	s := gluttedYard(t, dryStockDay)
	s.Config.Drier.HoursPerLoad = 30 // two nights
	r, supply := suppliedRun(t, s)
	var year WeekBook
	kept := 0.0
	for _, w := range supply.Weeks {
		year.add(&w.Book, 1)
		kept = w.Book.Kept
	}
	if in, out := year.Came, year.Sold+year.Usual+year.Dried+year.Over+kept; math.Abs(in-out) > 1e-3 {
		t.Errorf("%g kg came, and %g are accounted for", in, out)
	}
	loaded := 0.0
	for n := range r.draws {
		for _, l := range r.drier.loads[n] {
			loaded += l.kg / float64(r.draws)
		}
	}
	if math.Abs(loaded-year.Dried-kept) > 1e-3 || year.Over == 0 {
		t.Errorf("%g kg loaded; by the weeks %g and %g at the end; %g without room", loaded, year.Dried, kept, year.Over)
	}
	stock, last := r.stock(), r.asOf+yard.Date(r.drier.k.days-1)
	per := r.dryPerOf(r.drier.k.species)
	for i, name := range r.drier.k.species {
		for n := range r.draws {
			want := 0.0
			for _, l := range r.drier.loads[n] {
				if int(l.species) == i {
					want += 1000 * l.kg * per[i][n]
				}
			}
			// What is picked in later years comes later than two nights after.
			if got := stock.OnHand(name, n, last+2); math.Abs(got-want) > 0.05 {
				t.Fatalf("%s, draw %d: %.2f g went in, less their water, and %.2f g came out", name, n, want, got)
			}
		}
	}
}

// By hand: 10 kg of shiitake and 2 kg of lion's mane come in a week, of which
// 0.8 is meant for the drier: 8 and 1.6 kg. 4 kg of shiitake are promised, so 6
// are left; 6 + 1.6 kg are 7.6, and the drier turns 3.8: half of each.
func TestLaterYearsByHand(t *testing.T) {
	l := &later{k: &keeping{share: 0.8}, names: []string{"lion's mane", "shiitake"}, per: [][]float64{{0.1}, {0.125}},
		weeks: 1, room: []float64{3.8}, due: []float64{0, 4}, any: []float64{0},
		came: []float64{160, 1000}, goes: make([]float64, 2)}
	l.fit()
	if math.Abs(l.goes[0]-0.5) > 1e-9 || math.Abs(l.goes[1]-0.375) > 1e-9 {
		t.Errorf("%v of what was meant for the drier goes into it, want 0.5 and 0.375", l.goes)
	}
	// 7 kg promised of whatever there is leave 1 of the 8.
	l.room[0], l.any[0] = 100, 7
	clear(l.goes)
	l.fit()
	if math.Abs(l.goes[0]-1/7.6) > 1e-9 || math.Abs(l.goes[1]-0.75/7.6) > 1e-9 {
		t.Errorf("with 7 kg more promised %v goes, want %v", l.goes, []float64{1 / 7.6, 0.75 / 7.6})
	}
}

// A load of the drier by the record comes onto the shelf when it is done.
func TestWhatIsInTheDrierComes(t *testing.T) {
	s := dryingYard(t, 3)
	before := driedRun(t, s)
	s.Loads = []yard.Load{{Species: "shiitake", FreshKG: yard.Span{Low: 2, High: 2}, On: yard.On(dryStockDay)},
		{Species: "shiitake", FreshKG: yard.Span{Low: 2, High: 2}, On: yard.On(dryStockDay - 60)}}
	after := driedRun(t, s)
	if x := grams(after, "shiitake", dryStockDay); x != 0 {
		t.Errorf("%g g today", x)
	}
	if x := grams(after, "shiitake", dryStockDay+1) - grams(before, "shiitake", dryStockDay+1); x < 100 || x > 400 {
		t.Errorf("2 kg fresh in the drier come out as %.0f g; those of two months ago do not", x)
	}
}

// The lots of the yard reach the calendar with their form: 230 g of pieces and
// a recipe of 200 g of powder say what to grind first.
func TestPowderIsGroundOfLots(t *testing.T) {
	s := yardOf(mustLoad(t), "oxford", dryStockDay)
	s.Dry = []*yard.DryLot{{Lot: "D1", Species: "shiitake", Form: "pieces", InG: 230, LeftG: 230}}
	s.Recipes = []yard.Recipe{{Name: "Fine", Jars: 1, SpiritMLJar: 450, SpiritABV: 50, MacerateMin: 21, MacerateMax: 35,
		Method: "maceration only", BottleML: 100, Ingredients: []yard.Ingredient{{Species: "shiitake", Form: "powder", GramsJar: 200}}}}
	s.Config.Kitchen = yard.Kitchen{Jars: 4, Batches: 1}
	b := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 10, Years: 1}).Plan.Batches[0]
	if n := b.Needs[0]; b.Start == 0 || n.OnHand != 230 || len(n.Grind) != 1 || n.Grind[0].Lot != "D1" || n.Grind[0].Grams != 200 {
		t.Errorf("%v: %+v", b.Start, n)
	}
	s.Dry[0].Form, s.Recipes[0].Ingredients[0].Form = "powder", "pieces"
	b = mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 10, Years: 1}).Plan.Batches[0]
	if n := b.Needs[0]; b.Start != 0 || n.OnHand != 0 || !strings.Contains(strings.Join(b.Notes, " "), "not counted on") {
		t.Errorf("pieces of powder: %v: %+v %q", b.Start, n, b.Notes)
	}
}
