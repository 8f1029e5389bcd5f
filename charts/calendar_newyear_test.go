package charts

import (
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// arriving is a stock in which everything has come in by one day.
type arriving yard.Date

func (a arriving) Draws() int { return 1 }

func (a arriving) FirstDay(string, string, int, float64) (yard.Date, bool) { return yard.Date(a), true }

// plannedOn is the calendar as it is worked out on a day, with the lots that
// are planned on it, of a yard in which the goods come in by another day.
func plannedOn(t *testing.T, set *data.Set, on, goods yard.Date, put ...*yard.Batch) Input {
	t.Helper()
	recipe := func(name string) yard.Recipe {
		return yard.Recipe{Name: name, Jars: 2, SpiritMLJar: 500, SpiritABV: 50, MacerateMin: 21, MacerateMax: 42, ShakeDays: 14,
			Method: tincture.MarcDecocted, WaterML: 1500, DecoctToML: 500, SpiritPart: 1, WaterPart: 1, BottleML: 100,
			Ingredients: []yard.Ingredient{{Species: "shiitake", Form: "pieces", GramsJar: 50}}}
	}
	recipes := []yard.Recipe{recipe("oak five"), recipe("dark bracket")}
	kitchen := yard.Kitchen{Jars: 4, Batches: 2}
	var taken []string
	for _, b := range put {
		taken = append(taken, b.Lot)
	}
	days, err := tincture.NewWorkdays(yard.Working{Country: "gb"})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := tincture.Schedule(arriving(goods), tincture.Wishes(recipes, kitchen, on, on+400, taken...), days,
		tincture.Terms{AsOf: on, Until: on + 400, Confidence: 0.8, Kitchen: kitchen, Recipes: recipes, Standing: put, Record: put, Seed: 1}, set)
	if err != nil {
		t.Fatal(err)
	}
	return Input{State: &yard.State{AsOf: on, Recipes: recipes, Batches: put}, Result: &forecast.Result{Plan: plan}, Data: set}
}

// byIdentifier is what each identifier stands for, lots left out: they carry
// the year.
func byIdentifier(t *testing.T, in Input) map[string]string {
	t.Helper()
	lot := regexp.MustCompile(`\S+ \(`)
	out := map[string]string{}
	for _, p := range componentsOf(t, icsOf(t, in)) {
		if uid := p.props["UID"]; uid != "" {
			out[uid] = lot.ReplaceAllString(p.props["SUMMARY"], "(")
		}
	}
	return out
}

// Planned lots are named after the year in which they are planned. A second
// export after New Year, weeks later and with days that moved, still updates
// the first, and so does one after a batch was put up, under a lot of its own.
func TestIdentifiersHoldOverNewYear(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	before, after := day("2026-12-28"), day("2027-01-05")
	old := &yard.Batch{Lot: "OF-26-01", Recipe: "oak five", On: on("2026-06-01"), Jars: 2, Bottled: on("2026-07-10"), Ended: yard.EndBottled}
	first := plannedOn(t, set, before, day("2027-01-11"), old)
	again := plannedOn(t, set, after, day("2027-01-11"), old)
	if a, b := first.Result.Plan.Batches[0], again.Result.Plan.Batches[0]; a.Lot == b.Lot || a.Start != b.Start || a.Start == 0 {
		t.Fatalf("%s on %v, then %s on %v: the lots were to change and the days not", a.Lot, a.Start, b.Lot, b.Start)
	}
	want := byIdentifier(t, first)
	if len(want) < 4*5 {
		t.Fatalf("%d identifiers of four batches", len(want))
	}
	if d := cmp.Diff(want, byIdentifier(t, again)); d != "" {
		t.Errorf("eight days later:\n%s", d)
	}
	later := plannedOn(t, set, after, day("2027-02-03"), old)
	if a, b := first.Result.Plan.Batches[3], later.Result.Plan.Batches[3]; b.Start < a.Start+14 {
		t.Fatalf("from %v to %v: the days were to move by weeks", a.Start, b.Start)
	}
	if d := cmp.Diff(want, byIdentifier(t, later)); d != "" {
		t.Errorf("moved by weeks:\n%s", d)
	}
	put := &yard.Batch{Lot: "JANUARY", Recipe: "oak five", On: on("2027-01-11"), Jars: 2, SpiritML: 1000, SpiritABV: 50,
		Ingredients: []yard.Taken{{Species: "shiitake", Grams: 100}}}
	// The one that comes after it in the plan keeps its own, and one more is planned.
	for uid, says := range want {
		if got, ok := byIdentifier(t, plannedOn(t, set, day("2027-01-12"), day("2027-01-11"), old, put))[uid]; !ok || got != says {
			t.Errorf("after one was put up: %s, which was %q, is %q", uid, says, got)
		}
	}
}
