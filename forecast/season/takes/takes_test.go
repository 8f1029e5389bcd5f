package takes

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"hodaba/data"
	"hodaba/yard"
	"pgregory.net/rapid"
)

const (
	pound = 0.45359237 // kg, exact
	inch  = 2.54       // cm, exact
)

func takesData(t testing.TB) (*data.Set, *data.Inoculating) {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return set, &set.Inoculating
}

// unsaid are costs of which the grower said none.
func unsaid() yard.Costs {
	nan := math.NaN()
	return yard.Costs{Log: nan, SpawnKG: nan, Plug: nan, WaxKG: nan, Hour: nan}
}

func close1(got, want, slack float64) bool { return math.Abs(got-want) <= slack }

// Sabota, abstract on the density of inoculation: holes are the log's weight in
// pounds times a factor; 15 lb at factor 3 make 45.
func TestAgainstHolesByWeight(t *testing.T) {
	if got := Holes(yard.HolePattern{PerKG: 3 / pound}, 12, 100, 15*pound); got != 45 {
		t.Errorf("15 lb at 3 a pound: %d holes, printed 45", got)
	}
}

// Maryland RES-11 prints 35 to 40 holes on a log of 5 by 48 inches with about
// 6 inches between them; rows 3 inches apart give 40, rows 2 inches apart 64,
// by area 62.8. A homestead page drills as many rows as the log has inches.
// What ships as the pattern must lie in the bulletin's range.
func TestAgainstPrintedHoles(t *testing.T) {
	_, in := takesData(t)
	d, l := 5*inch, 48*inch
	for _, c := range []struct {
		what string
		p    yard.HolePattern
		want int
	}{
		{"6 by 3 in", yard.HolePattern{AlongCM: 6 * inch, RowsCM: 3 * inch}, 40},
		{"6 by 2 in", yard.HolePattern{AlongCM: 6 * inch, RowsCM: 2 * inch}, 64},
		{"rows by the inch", yard.HolePattern{AlongCM: 6 * inch, ByInch: true}, 40},
		{"as it ships", Pattern(yard.HolePattern{}, in), 40},
	} {
		if got := Holes(c.p, d, l, 0); got != c.want {
			t.Errorf("%s on 5 by 48 in: %d holes, want %d", c.what, got, c.want)
		}
	}
	if area := math.Pi * d * l / (6 * inch * 2 * inch); !close1(area, 62.8, 0.05) {
		t.Errorf("by area %.2f holes, want 62.8", area)
	}
	// A New Zealand page: dowels at 100 mm in four rows on logs of 75 to 100 mm
	// by 1 m, 4 × 10.
	if got := Holes(yard.HolePattern{AlongCM: 10, RowsCM: 7}, 8.75, 100, 0); got != 40 {
		t.Errorf("four rows of ten: %d holes, printed 40", got)
	}
}

// The counts of six sizes at 6 by 2 and 6 by 3 inches, worked out by hand from
// the geometry that the bulletins imply.
func TestHolesBySize(t *testing.T) {
	for _, c := range []struct {
		d, l       float64
		two, three int
	}{
		{4, 40, 36, 24}, {4, 48, 48, 32}, {5, 40, 48, 30}, {5, 48, 64, 40}, {6, 36, 54, 36}, {6, 48, 72, 48},
	} {
		for rows, want := range map[float64]int{2: c.two, 3: c.three} {
			if got := Holes(yard.HolePattern{AlongCM: 6 * inch, RowsCM: rows * inch}, c.d*inch, c.l*inch, 0); got != want {
				t.Errorf("%g by %g in, 6 by %g in: %d holes, want %d", c.d, c.l, rows, got, want)
			}
		}
	}
}

// A workshop page: 8 oz of spawn at each of three joints of a totem of two
// rounds of a foot, 1.5 lb; a bag of 5 lb is enough for three totems.
func TestAgainstTotemSpawn(t *testing.T) {
	_, in := takesData(t)
	l := Line{Method: "totem", DiameterCM: 28, LengthCM: 24 * inch, Logs: 1, Spawn: "plug"}
	kg := spawn(&l, 0, in)
	if !close1(kg/pound, 1.5, 1e-4) || !close1(1000*kg, 680.4, 0.05) {
		t.Errorf("%.4f lb, printed 1.5", kg/pound)
	}
	if got := int(5 * pound / kg); got != 3 {
		t.Errorf("a bag of 5 lb is enough for %d totems, printed 3", got)
	}
	if a := One(l, yard.HolePattern{}, unsaid(), in); a.Holes != 0 || a.Pieces != 0 || a.WaxKG != 0 || a.SpawnKG <= kg {
		t.Errorf("a totem takes %+v", a)
	}
}

// From memory: a pound of wax for 15 to 25 drilled logs, a bag of 5 to 5.5 lb of
// sawdust spawn for 20 to 25, at 40 holes each.
func TestSpawnAndWaxAsRemembered(t *testing.T) {
	_, in := takesData(t)
	for want, g := range map[float64]float64{25: in.Wax.Low, 20: in.Wax.Typical, 15: in.Wax.High} {
		if got := 1000 * pound / (40 * g); !close1(got, want, 0.4) {
			t.Errorf("%g g a hole: %.1f logs a pound, remembered %g", g, got, want)
		}
	}
	f, _ := in.Form("sawdust")
	if logs := 5.25 * pound / (40 * f.PerHole.Value); logs < 20 || logs > 25 {
		t.Errorf("%.1f logs a bag, remembered 20 to 25", logs)
	}
}

// Gabriel 2015: 53, 32 and 15 % of just over an hour, so 31.8, 19.2 and 9
// minutes of 60.
func TestAgainstLabourSplit(t *testing.T) {
	_, in := takesData(t)
	a, b, c := LifeMinutes(in)
	if !close1(a, 31.8, 1e-9) || !close1(b, 19.2, 1e-9) || !close1(c, 9, 1e-9) || !close1(a+b+c, 60, 1e-9) {
		t.Errorf("%.2f, %.2f and %.2f minutes, printed 31.8, 19.2 and 9", a, b, c)
	}
	// The steps of a log of as many holes as the minutes belong to add up to it.
	l := Line{Spawn: "sawdust"}
	if got := 60 * hours(&l, int(in.Labour.Holes.Value), true, in).Start(); !close1(got, a, 1e-9) {
		t.Errorf("the steps add to %.2f minutes, not %.2f", got, a)
	}
}

// Kentucky FOR-85: about a hundred logs on nine weeks are 108, twelve a week.
func TestAgainstNineWeekRota(t *testing.T) {
	if round, each := ForRota(100, 9); round != 108 || each != 12 {
		t.Errorf("%d logs, %d a week; printed 108 and 12", round, each)
	}
}

// Green mass of a log of 5 by 40 inches, wood alone with the diameter inside the
// bark, worked out from Miles & Smith 2009; and the range that a Dutch log farm
// states for soaked logs of 6 to 20 cm by about a metre, 8 to 30 kg, which the
// heaviest wood passes by a little.
func TestAgainstGreenWeights(t *testing.T) {
	set, in := takesData(t)
	for name, want := range map[string]float64{
		"white oak": 12.994, "northern red oak": 13.200, "sugar maple": 11.344, "American beech": 11.138, "red alder": 9.488, "quaking aspen": 10.313,
	} {
		w, ok := set.FindWood(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		bare := *w
		bare.Bark = 0
		if got := GreenKG(&bare, 5*inch, 40*inch, in); !close1(got, want, 0.002) {
			t.Errorf("%s: %.3f kg, worked out %.3f", name, got, want)
		}
	}
	red, _ := set.FindWood("northern red oak")
	bare := *red
	bare.Bark = 0
	if got := GreenKG(&bare, 20, 100, in); !close1(got, 32.2, 0.05) {
		t.Errorf("red oak of 20 by 100 cm: %.2f kg, worked out 32.2", got)
	}
	// Wood and bark by volume and gravity, with their water.
	b := red.Bark / (100 + red.Bark)
	if want := 1000 * math.Pi / 4 * 0.12 * 0.12 * ((1-b)*red.Gravity*(1+red.Moisture/100) + b*red.BarkGravity*(1+red.BarkMoist/100)); !close1(GreenKG(red, 12, 100, in), want, 1e-9) {
		t.Errorf("red oak with its bark: %.3f kg, want %.3f", GreenKG(red, 12, 100, in), want)
	}
	for i := range set.Woods {
		w := &set.Woods[i]
		if got := GreenKG(w, 13, 100, in); got < 8 || got > 30 {
			t.Errorf("%s of 13 by 100 cm: %.1f kg, stated 8 to 30", w.Name, got)
		}
	}
}

// Printed money. Cornell: 1,000 logs at $4.74 are $4,740. Alabama: gross $2,475
// and net $1,509 a cord at $6.44 a log make 150 logs. Sabota: one more hole for
// each pound, +$1.15 for $0.15 of spawn, $1.00 net. Growing for Market 2016: a
// log costs $1.50 to $3.00 to start, its work not counted.
func TestAgainstPrintedCosts(t *testing.T) {
	_, in := takesData(t)
	b := Budgets(1000, in)
	if !close1(b[0].Cost, 4740, 1e-6) || !close1((2475-1509)/b[1].Budget.PerLog, 150, 1e-9) {
		t.Errorf("budgets %+v", b)
	}
	if got := DenserGain(in); !close1(got, 1, 1e-9) {
		t.Errorf("denser holes brought $%.2f, printed 1.00", got)
	}
	for _, form := range []string{"sawdust", "plug", "thimble"} {
		c := One(Line{DiameterCM: 5 * inch, LengthCM: 48 * inch, Spawn: form}, yard.HolePattern{}, unsaid(), in).Cost
		if got := c.Total() - c.Work; got < 1.5 || got > 3 {
			t.Errorf("%s: a log costs $%.2f to start, printed 1.50 to 3.00", form, got)
		}
	}
}

// Months in which one inoculates, in print: well above freezing (Cornell unit
// 4); April to June in Germany, here at Cologne's means of 1991 to 2020 (from
// memory); totems above 10 °C; reishi in April and May where the air then stays
// about 20. And felling: late autumn to early spring.
func TestAgainstPrintedSeasons(t *testing.T) {
	set, in := takesData(t)
	cologne := Site{Mean: [12]float64{2.9, 3.4, 6.4, 10.1, 14.1, 17.2, 19.1, 18.7, 14.9, 10.7, 6.4, 3.7}}
	w := WindowsOf(cologne, "shiitake", "", in)
	months := Months(w.Inoculating)
	for _, m := range []time.Month{time.April, time.May, time.June} {
		if !slices.Contains(months, m) {
			t.Errorf("not in %s at Cologne: %v", m, w)
		}
	}
	if slices.Contains(months, time.January) || slices.Contains(months, time.July) {
		t.Errorf("in January or July at Cologne: %v", months)
	}
	for _, st := range set.Stations {
		var site Site
		for m := range 12 {
			site.Mean[m] = (st.TMin[m] + st.TMax[m]) / 2
		}
		course, ok := courseOf(site.Mean)
		if !ok {
			t.Fatalf("no course at %s", st.Key)
		}
		for _, method := range []string{"", "totem"} {
			w := WindowsOf(site, "oyster", method, in)
			if len(w.Inoculating) != 1 || len(Months(w.Felling)) < 3 {
				t.Errorf("%s, %q: %+v", st.Key, method, w)
				continue
			}
			low := 4.0
			if method == "totem" {
				low = 10
			}
			r := w.Inoculating[0]
			for d := r.From; d <= r.To; d++ {
				if course[d] < low {
					t.Fatalf("%s, %q: day %d has %.1f °C", st.Key, method, d, course[d])
				}
			}
			if !slices.Contains(Months(w.Felling), time.January) || slices.Contains(Months(w.Felling), time.June) {
				t.Errorf("%s: felled in %v", st.Key, Months(w.Felling))
			}
		}
	}
	hangzhou := Site{Mean: [12]float64{5, 7, 11, 17, 22, 25, 29, 28, 24, 19, 13, 7}} // from memory, to the degree
	if months := Months(WindowsOf(hangzhou, "reishi", "", in).Inoculating); !slices.Contains(months, time.April) || !slices.Contains(months, time.May) || slices.Contains(months, time.February) {
		t.Errorf("reishi in %v", months)
	}
}

// What the seasons must obey whatever the place.
func TestSeasonsObey(t *testing.T) {
	_, in := takesData(t)
	base := Site{Mean: [12]float64{2, 3, 6, 10, 14, 17, 19, 18, 15, 10, 6, 3}}
	cold := base
	for m := range 12 {
		cold.Mean[m] -= 4
	}
	a, b := WindowsOf(base, "shiitake", "", in), WindowsOf(cold, "shiitake", "", in)
	if b.Inoculating[0].From <= a.Inoculating[0].From {
		t.Errorf("where it is colder, inoculating opens on day %d, not after %d", b.Inoculating[0].From, a.Inoculating[0].From)
	}
	frosty := base
	frosty.LastFrost = yard.NewDate(2027, time.June, 1)
	if c := WindowsOf(frosty, "shiitake", "", in); c.Inoculating[0].From != dayOf(frosty.LastFrost)-weeks(in.Spring.Frost.Value) {
		t.Errorf("a late frost leaves the opening on day %d", c.Inoculating[0].From)
	}
	budding := base
	budding.BudSwell = yard.NewDate(2027, time.May, 1)
	if c := WindowsOf(budding, "shiitake", "", in); len(c.Felling) != 1 || c.Felling[0].To != dayOf(budding.BudSwell)-weeks(in.Dormant.Before.Value)-1 {
		t.Errorf("late buds leave felling at %v", c.Felling)
	}
	early := base
	early.BudSwell = yard.NewDate(2027, time.March, 1)
	if c := WindowsOf(early, "shiitake", "", in); len(c.Felling) != 1 || c.Felling[0].To != dayOf(early.BudSwell)-weeks(in.Dormant.Before.Value)-1 {
		t.Errorf("early buds leave felling at %v", c.Felling)
	}
	south := base
	for m := range 12 {
		south.Mean[m] = base.Mean[(m+6)%12]
	}
	if months := Months(WindowsOf(south, "shiitake", "", in).Inoculating); !slices.Contains(months, time.October) || slices.Contains(months, time.April) {
		t.Errorf("in the south in %v", months)
	}
	// Where it is cooling, the spawn still needs its warm weeks: on a cold coast
	// (Stornoway) that ends in September, although October has 9 °C.
	coast := Site{Mean: [12]float64{5.1, 5.0, 5.8, 7.5, 9.4, 11.8, 13.6, 13.7, 12.1, 9.4, 7.0, 5.3}}
	course, _ := courseOf(coast.Mean)
	last := WindowsOf(coast, "shiitake", "", in).Inoculating[0].To
	if _, mean := course.ahead(last, weeks(in.Spring.Catch.Value)); mean < in.Spring.Mean.Value || mean > in.Spring.Mean.Value+0.2 || course[last] < mean {
		t.Errorf("on a cold coast the last day is %d, with %.1f °C after it", last, mean)
	}
	// In a mild winter it is usual once the year turns, and not before.
	mild := Site{Mean: [12]float64{8, 9, 12, 16, 20, 24, 26, 26, 23, 17, 12, 9}}
	open := WindowsOf(mild, "shiitake", "", in).Inoculating
	for day, want := range map[yard.Date]bool{
		yard.NewDate(2027, 1, 25): true, yard.NewDate(2027, 4, 1): true, yard.NewDate(2027, 12, 1): false, yard.NewDate(2027, 7, 1): false,
	} {
		if got, _ := holding(open, day); got != want {
			t.Errorf("in a mild winter, on %s: %v, want %v", day, got, want)
		}
	}
	for _, site := range []Site{{}, {Mean: [12]float64{math.NaN()}}, {Mean: [12]float64{1e9}}} {
		if w := WindowsOf(site, "shiitake", "", in); w.Known {
			t.Errorf("of %v it knows %v", site.Mean, w)
		}
	}
}

// When lines are felled: in the rest before, as far as trees are dormant then.
func TestWhenFelled(t *testing.T) {
	_, in := takesData(t)
	site := Site{Mean: [12]float64{5.2, 5.4, 7.5, 9.8, 12.9, 15.9, 18.1, 17.8, 15.0, 11.6, 7.9, 5.4}} // Oxford
	felling := WindowsOf(site, "shiitake", "", in).Felling[0]
	april := workOf(&Line{Species: "shiitake", Month: yard.NewDate(2027, 4, 10)}, site, in)
	if !april.Usual || !april.Dormant || april.RestLong || april.FellFrom != yard.NewDate(2027, 4, 1)-42 || dayOf(april.FellTo) != felling.To {
		t.Errorf("April: %+v", april)
	}
	june := workOf(&Line{Species: "shiitake", Month: yard.NewDate(2027, 6, 10)}, site, in)
	if !june.RestLong || !june.Dormant || dayOf(june.FellTo) != felling.To || june.FellTo.Year() != 2027 || june.FellTo-june.FellFrom > 60 {
		t.Errorf("June: %+v", june)
	}
	if d := workOf(&Line{Species: "shiitake", Month: yard.NewDate(2027, 12, 1)}, site, in); d.Usual {
		t.Errorf("December is usual: %+v", d)
	}
	if d := workOf(&Line{Bought: true, Month: yard.NewDate(2027, 4, 1)}, site, in); d.FellFrom != 0 || d.FellTo != 0 {
		t.Errorf("bought logs are felled: %+v", d)
	}
	if d := workOf(&Line{}, site, in); d != (Work{}) {
		t.Errorf("without a month: %+v", d)
	}
	nowhere := workOf(&Line{Month: yard.NewDate(2027, 4, 1)}, Site{}, in)
	if !nowhere.Usual || !nowhere.Dormant || nowhere.FellFrom == 0 {
		t.Errorf("of an unknown place: %+v", nowhere)
	}
}

// Sources on resting, as printed: two weeks at least and a risk beyond six
// (supplier's sheets); reishi 15 to 20 days; totems three months at most; up to
// five months in a German sheet.
func TestAgainstRests(t *testing.T) {
	_, in := takesData(t)
	day := yard.NewDate(2027, 2, 1)
	r, ok := RestOf(day, Line{Species: "shiitake"}, in)
	if !ok || r.Ready != day+14 || r.Risk != day+42 || !close1(float64(r.Last-day), 5*30.4, 1) {
		t.Errorf("shiitake: %+v", r)
	}
	if r, _ := RestOf(day, Line{Species: "reishi"}, in); r.Ready != day+15 || r.Risk != day+20 {
		t.Errorf("reishi: %+v", r)
	}
	if r, _ := RestOf(day, Line{Species: "oyster", Method: "totem"}, in); r.Ready != day || r.Risk != day+91 {
		t.Errorf("totems: %+v", r)
	}
	if _, ok := RestOf(0, Line{}, in); ok {
		t.Error("a rest from no day")
	}
	if n := len(RestsOf(Line{Species: "shiitake"}, in)); n < 5 {
		t.Errorf("%d sources on resting", n)
	}
}

func TestPacks(t *testing.T) {
	for _, c := range []struct {
		amount float64
		sizes  []float64
		want   []Pack
	}{
		{1296, []float64{100, 1000}, []Pack{{1000, 1}, {100, 3}}},
		{1000, []float64{100, 1000}, []Pack{{1000, 1}}},
		{950, []float64{100, 1000}, []Pack{{1000, 1}}}, // as much in one pack as in ten
		{600, []float64{600}, []Pack{{600, 1}}},
		{601, []float64{600}, []Pack{{600, 2}}},
		{2.2, []float64{2.268}, []Pack{{2.268, 1}}},
		{0, []float64{100}, nil}, {math.NaN(), []float64{100}, nil}, {math.Inf(1), []float64{100}, nil}, {5, nil, nil}, {5, []float64{0}, nil},
	} {
		if diff := cmp.Diff(c.want, packed(c.amount, c.sizes)); diff != "" {
			t.Errorf("%g of %v: %s", c.amount, c.sizes, diff)
		}
	}
}

// The shopping list: what is wanted, on time and not so early that it spoils.
func TestShopping(t *testing.T) {
	set, in := takesData(t)
	oak, _ := set.FindWood("white oak")
	april := yard.NewDate(2027, 4, 1)
	lines := []Line{
		{Pile: "a", Species: "shiitake", Wood: oak, DiameterCM: 12, LengthCM: 100, Spawn: "plug", Logs: 30, Month: april},
		{Pile: "b", Species: "shiitake", Wood: oak, DiameterCM: 12, LengthCM: 100, Spawn: "plug", Logs: 10, Month: april + 20},
		{Pile: "c", Species: "oyster", DiameterCM: 12, LengthCM: 100, Spawn: "thimble", Logs: 5, Month: april},
		{Pile: "d", Species: "oyster", DiameterCM: 12, LengthCM: 100, Spawn: "plug"},
	}
	got := Of(lines, Site{}, yard.HolePattern{}, unsaid(), in).Shopping
	if got[0].Amount != 1296 || !slices.Equal(got[0].Packs, []Pack{{1000, 1}, {100, 3}}) || got[0].OrderBy != april-28 {
		t.Errorf("plugs: %+v", got[0])
	}
	// Kept for half a year cold, in print, counted to the last day of use.
	if want := yard.NewDate(2027, 4, 30) - 26*7 - 28; got[0].NotUntil != want {
		t.Errorf("plugs not until %s, want %s", got[0].NotUntil, want)
	}
	// Thimbles keep four weeks, the month is longer: two lots.
	if got[1].NotUntil != got[1].OrderBy || got[1].Unit != "thimbles" || got[1].Note == "" {
		t.Errorf("thimbles: %+v", got[1])
	}
	var names []string
	// What both months want is bought for the first, in whatever order they stand.
	later := lines[0]
	later.Month = april + 40
	if x := Of([]Line{later, lines[0]}, Site{}, yard.HolePattern{}, unsaid(), in).Shopping; len(x) != 5 || x[2].Item != "wax" || x[2].Use != april || x[2].OrderBy != april-14 {
		t.Errorf("wax of two months: %+v", x)
	}
	for _, x := range got {
		names = append(names, x.Item)
		if !(x.Amount > 0) || x.OrderBy == 0 || x.OrderBy > x.Use || x.NotUntil > x.OrderBy {
			t.Errorf("%+v", x)
		}
	}
	want := []string{"shiitake spawn, plugs", "oyster spawn, thimbles", "wax", "drill bit, 8 mm, stop at 30 mm", "tags", "drill bit, 13 mm, stop at 32 mm"}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Error(diff)
	}
}

// Hours land in the weeks of their days, none lost, and late spring collides.
func TestWeeks(t *testing.T) {
	_, in := takesData(t)
	site := Site{Mean: [12]float64{2, 3, 6, 10, 14, 17, 19, 18, 15, 10, 6, 3}}
	takes := Of([]Line{{Species: "shiitake", DiameterCM: 12, LengthCM: 100, Logs: 60, Month: yard.NewDate(2027, 5, 1)}}, site, yard.HolePattern{}, unsaid(), in)
	loads := []Load{{yard.NewDate(2027, 5, 19), 12}, {yard.NewDate(2027, 9, 1), 12}, {yard.NewDate(2027, 9, 1), -5}}
	all := Weeks(takes, loads, nil, in)
	sum, collide := 0.0, 0
	for i, w := range all {
		sum += w.Total()
		if w.Monday.Weekday() != time.Monday || i > 0 && w.Monday <= all[i-1].Monday || w.Over || !math.IsNaN(w.Room) {
			t.Errorf("%+v", w)
		}
		if w.Collides {
			collide++
			if w.Monday != yard.NewDate(2027, 5, 17) {
				t.Errorf("collides in the week of %s", w.Monday)
			}
		}
	}
	if want := takes.Total.Hours.Start() + 24*in.Labour.Soak.Value/60; !close1(sum, want, 1e-9) || collide != 1 {
		t.Errorf("%.3f hours in %d weeks, %d collide; want %.3f", sum, len(all), collide, want)
	}
	room := func(h float64) (all []yard.MonthHours) {
		for m := range 12 {
			all = append(all, yard.MonthHours{Month: m + 1, Hours: h})
		}
		return all
	}
	for _, w := range Weeks(takes, loads, room(100), in) {
		if w.Collides || w.Over {
			t.Errorf("with room for all: %+v", w)
		}
	}
	for _, w := range Weeks(takes, loads, room(0), in) {
		if !w.Over {
			t.Errorf("without room: %+v", w)
		}
	}
}

// Bought logs are not felled, thimbles not waxed, and a totem is lifted round by
// round.
func TestWhatIsNotDone(t *testing.T) {
	_, in := takesData(t)
	l := Line{DiameterCM: 12, LengthCM: 60, Spawn: "thimble", Logs: 1}
	if a := One(l, yard.HolePattern{}, unsaid(), in); a.WaxKG != 0 || a.Hours.Waxing != 0 || !(a.Hours.Cutting > 0) {
		t.Errorf("thimbles: %+v", a)
	}
	l.Bought = true
	if a := One(l, yard.HolePattern{}, unsaid(), in); a.Hours.Cutting != 0 || !(a.Hours.Stacking > 0) {
		t.Errorf("bought: %+v", a)
	}
	l.Method = "totem"
	x := Of([]Line{l}, Site{}, yard.HolePattern{}, unsaid(), in).Lines[0]
	if !close1(2*x.LiftKG, x.All.GreenKG, 1e-9) || x.LiftKG == 0 {
		t.Errorf("a totem of two rounds of %g kg is lifted as %g kg", x.All.GreenKG, x.LiftKG)
	}
}

// Costs of the grower's own are taken as they are; what he does not say is
// assumed and named.
func TestCosts(t *testing.T) {
	_, in := takesData(t)
	own := yard.Costs{Log: 2, SpawnKG: 10, Plug: 0.1, WaxKG: 5, Hour: 20}
	l := Line{DiameterCM: 5 * inch, LengthCM: 48 * inch, Spawn: "plug", Logs: 10}
	a := One(l, yard.HolePattern{}, own, in)
	if a.Cost.Log != 2 || !close1(a.Cost.Spawn, 40*1.08*0.1, 1e-9) || !close1(a.Cost.Work, a.Hours.Start()*20, 1e-9) {
		t.Errorf("%+v", a.Cost)
	}
	l.Price, l.PriceSet = 0, true
	if got := One(l, yard.HolePattern{}, own, in).Cost.Log; got != 0 {
		t.Errorf("free logs cost %g", got)
	}
	t1 := Of([]Line{l}, Site{}, yard.HolePattern{}, own, in)
	t2 := Of([]Line{l}, Site{}, yard.HolePattern{}, unsaid(), in)
	own.Hour = math.NaN()
	t3 := Of([]Line{l}, Site{}, yard.HolePattern{}, own, in)
	if len(t1.Assumed) != 0 || t1.Mixed || len(t2.Assumed) != 5 || t2.Mixed || len(t3.Assumed) != 1 || !t3.Mixed || t3.Assumed[0].What != "hour" {
		t.Errorf("assumed %v, %v, %v", t1.Assumed, t2.Assumed, t3.Assumed)
	}
}

// Three people at the bench are as fast as the slowest step; alone, as all steps
// together.
func TestDays(t *testing.T) {
	_, in := takesData(t)
	for _, h := range []Hours{{Cutting: 100, Drilling: 6, Filling: 12, Waxing: 6}, {Drilling: 12, Filling: 6, Waxing: 6}, {Drilling: 6, Filling: 6, Waxing: 12}} {
		if one, three := Days(h, 1, in), Days(h, 3, in); !close1(one, 24/in.Labour.Day.Value, 1e-9) || !close1(three, 12/in.Labour.Day.Value, 1e-9) {
			t.Errorf("%+v: %g and %g days", h, one, three)
		}
	}
	if Days(Hours{Drilling: 1}, 0, in) != 0 || Days(Hours{Drilling: 1}, 3, &data.Inoculating{}) != 0 {
		t.Error("nobody makes days")
	}
}

func TestTallyAndTags(t *testing.T) {
	set, in := takesData(t)
	oak, _ := set.FindWood("white oak")
	got := Of([]Line{
		{Pile: "a", Species: "shiitake", Wood: oak, Logs: 33, DiameterCM: 30, LengthCM: 100},
		{Pile: "b", Species: "shiitake", Wood: oak, Logs: 10, Code: "so1"},
		{Pile: "c", Species: "Ölpilz", Logs: 1},
		{Pile: "d"},
	}, Site{}, yard.HolePattern{}, unsaid(), in)
	if x := got.Tally[0]; x.Boxes != 7 || x.InBox != 5 || x.InTheEnd != 3 || got.Tally[1].InTheEnd != 5 || len(got.Tally) != 3 {
		t.Errorf("%+v", got.Tally)
	}
	var codes []string
	for _, x := range got.Tags {
		codes = append(codes, x.Code)
	}
	if !slices.Equal(codes, []string{"SB", "so1", "B"}) {
		t.Errorf("codes %q", codes)
	}
	if !got.Lines[0].Heavy || len(got.Cautions) != 3 {
		t.Errorf("a log of %.0f kg: %q", got.Lines[0].LiftKG, got.Cautions)
	}
}

func lineOf(t *rapid.T, woods []data.Wood, i string) Line {
	l := Line{
		Species:    rapid.SampledFrom([]string{"shiitake", "reishi", "oyster"}).Draw(t, "species"+i),
		DiameterCM: rapid.Float64Range(0, 60).Draw(t, "diameter"+i), LengthCM: rapid.Float64Range(0, 250).Draw(t, "length"+i),
		Spawn:  rapid.SampledFrom([]string{"", "sawdust", "plug", "thimble", "grain"}).Draw(t, "spawn"+i),
		Method: rapid.SampledFrom([]string{"", "holes", "totem", "wedge"}).Draw(t, "method"+i),
		Logs:   rapid.IntRange(-2, 300).Draw(t, "logs"+i),
		Month:  yard.NewDate(2027, time.Month(rapid.IntRange(1, 12).Draw(t, "month"+i)), 1),
		Bought: rapid.Bool().Draw(t, "bought"+i),
	}
	if w := rapid.IntRange(-1, len(woods)-1).Draw(t, "wood"+i); w >= 0 {
		l.Wood = &woods[w]
	}
	return l
}

// parts are all numbers of amounts.
func parts(a Amounts) []float64 {
	h, c := a.Hours, a.Cost
	return []float64{float64(a.Logs), float64(a.Holes), a.SpawnKG, a.Pieces, a.WaxKG, a.GreenKG, h.Cutting, h.Drilling, h.Filling,
		h.Waxing, h.Stacking, h.Tending, h.Selling, c.Log, c.Spawn, c.Wax, c.Work}
}

// What two lines take together is what they take one by one; more logs never
// take less; nothing is below nothing.
func TestAmountsAddUpAndGrow(t *testing.T) {
	set, in := takesData(t)
	site := Site{Mean: [12]float64{2, 3, 6, 10, 14, 17, 19, 18, 15, 10, 6, 3}}
	rapid.Check(t, func(t *rapid.T) {
		a, b := lineOf(t, set.Woods, "a"), lineOf(t, set.Woods, "b")
		p := yard.HolePattern{RowsCM: rapid.Float64Range(0, 20).Draw(t, "rows"), ByInch: rapid.Bool().Draw(t, "inch")}
		of := func(l ...Line) []float64 { return parts(Of(l, site, p, unsaid(), in).Total) }
		both, first, second := of(a, b), of(a), of(b)
		more := a
		more.Logs += rapid.IntRange(0, 50).Draw(t, "more")
		grown := of(more)
		for i := range both {
			if !close1(both[i], first[i]+second[i], 1e-9*(1+both[i])) {
				t.Fatalf("part %d: %g together, %g and %g apart", i, both[i], first[i], second[i])
			}
			if grown[i] < first[i] || first[i] < 0 {
				t.Fatalf("part %d: %g of %d logs, %g of %d", i, first[i], a.Logs, grown[i], more.Logs)
			}
		}
	})
}

// Sizes, patterns and costs that are no numbers make no panic and no NaN.
func TestNonsenseIsHarmless(t *testing.T) {
	_, in := takesData(t)
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e-300, 1e300}
	for n, x := range odd {
		for _, y := range odd {
			l := Line{DiameterCM: x, LengthCM: y, Logs: 3 * (n % 2), Price: x, PriceSet: true, Month: yard.NewDate(2027, 4, 1)}
			for _, m := range []string{"", "totem", "wedge"} {
				l.Method = m
				got := Of([]Line{l}, Site{Mean: [12]float64{x, y}}, yard.HolePattern{AlongCM: x, RowsCM: y, PerKG: x}, yard.Costs{Log: x, Hour: y}, in)
				for i, p := range parts(got.Total) {
					if math.IsNaN(p) || math.IsInf(p, 0) || p < 0 {
						t.Fatalf("%g, %g, %q: part %d is %g", x, y, m, i, p)
					}
				}
				Weeks(got, []Load{{0, 5}}, []yard.MonthHours{{Month: 99, Hours: x}}, in)
			}
		}
	}
	for _, bad := range []*data.Inoculating{nil, {}} {
		got := Of([]Line{{DiameterCM: 12, LengthCM: 100, Logs: 2, Month: yard.NewDate(2027, 4, 1)}}, Site{}, yard.HolePattern{}, unsaid(), bad)
		Weeks(got, []Load{{yard.NewDate(2027, 4, 1), 5}}, nil, bad)
	}
}
