package forecast

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodaba/yard"
)

// gluttedYard bears more in a week than its drier takes.
func gluttedYard(t testing.TB, asOf yard.Date) *yard.State {
	s := tankOn(t, asOf)
	for _, p := range s.Piles {
		p.Logs, p.Started = 900, 900
	}
	s.Config.Soak.TankLogs = 300
	s.Config.Drier = yard.Drier{LoadKG: 2, HoursPerLoad: 14, Share: 0.8}
	s.Config.Cold = yard.Cold{HoldsKG: 6, Days: 7}
	s.Config.Promised = []yard.Promise{
		{To: "market", What: "shiitake", Amount: kilos(2), By: asOf - 10, Every: 7},
		{To: "inn", What: "fresh", Amount: kilos(0.5), By: asOf + 3, Every: 14},
		{To: "fair", What: "Dark bracket", Amount: yard.Quantity{Low: 10, High: 10, Text: "10"}, By: asOf + 60},
	}
	return s
}

func kilos(kg float64) yard.Quantity {
	return yard.Quantity{Low: kg, High: kg, Unit: yard.Kilogram, Text: "kg"}
}

func glutOf(t testing.TB, s *yard.State) *Supply {
	t.Helper()
	return mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 300, Years: 2}).Supply
}

func TestSupplyBooksBalance(t *testing.T) {
	s := glutOf(t, gluttedYard(t, yard.NewDate(2026, 5, 6)))
	if len(s.Gluts) == 0 || len(s.Weeks) != rotaWeeks {
		t.Fatalf("%d gluts in %d weeks", len(s.Gluts), len(s.Weeks))
	}
	sold, kept := 0.0, 0.0
	for i, w := range s.Weeks {
		if err := w.Book.Balance(); err != nil {
			t.Errorf("%s: %v", w.Week, err)
		}
		if i > 0 && math.Abs(w.Book.Before-kept) > 1e-6 {
			t.Errorf("%s begins with %g kg, the week before ends with %g", w.Week, w.Book.Before, kept)
		}
		kept, sold = w.Book.Kept, sold+w.Book.Sold
		species := 0.0
		for _, x := range w.Species {
			species += x.Came.Mean
		}
		if math.Abs(species-w.Book.Came) > 1e-6 || math.Abs(w.Came.Mean-w.Book.Came) > 1e-6 {
			t.Errorf("%s: %g kg of all species, %g in the book, %g came", w.Week, species, w.Book.Came, w.Came.Mean)
		}
	}
	if sold == 0 {
		t.Error("nothing was delivered of what was promised")
	}
	for _, g := range s.Gluts {
		if err := g.Plan.Book.Balance(); err != nil {
			t.Errorf("plan of %s: %v", g.From, err)
		}
	}
	if len(s.Other) != 1 || s.Other[0].To != "fair" {
		t.Errorf("other promises: %v", s.Other)
	}
}

// A planted leak is caught.
func TestSupplyLeakIsCaught(t *testing.T) {
	b := WeekBook{Before: 1, Came: 4, Sold: 1, Usual: 1, Dried: 2, Over: 0.5, Kept: 0.5}
	if err := b.Balance(); err != nil {
		t.Fatal(err)
	}
	b.Dried -= 0.01
	if err := b.Balance(); err == nil || !strings.Contains(err.Error(), "dried 1.99") {
		t.Errorf("a leak of 10 g: %v", err)
	}
}

// Whatever comes and whatever is said, each course's books balance, the cold
// room holds no more than it can, and nothing uses an hour of the drier twice.
// Both were seen to fail with a load left out of the book, and with a drier that
// is free a day after a load of two.
func TestCoursesBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := someKeeping(t)
		came := make([]float64, 6*len(k.species))
		for i := range came {
			came[i] = rapid.SampledFrom([]float64{0, 0, 0.3, 2, 9, 40}).Draw(t, "kg")
		}
		if k.ahead(0) == 0 {
			clear(came[:len(k.species)])
		}
		var deeds []deed
		one := newCourse(k)
		one.log = &deeds
		books := make([]WeekBook, 6)
		one.run(came, books, make([]bool, len(k.due)))
		for w := range books {
			if err := books[w].Balance(); err != nil {
				t.Fatal(err)
			}
			if books[w].Kept > k.holds+1e-6 {
				t.Fatalf("%g kg in a cold room that holds %g", books[w].Kept, k.holds)
			}
			want := 0.0
			for _, kg := range came[w*len(k.species) : (w+1)*len(k.species)] {
				want += kg
			}
			if math.Abs(books[w].Came-want) > 1e-6 {
				t.Fatalf("week %d: %g kg in the book, %g came", w, books[w].Came, want)
			}
		}
		hoursUsedOnce(t, k, deeds)
	})
}

// hoursUsedOnce checks the loads of a plan.
func hoursUsedOnce(t *rapid.T, k *keeping, deeds []deed) {
	type turn struct{ day, turn int }
	loads := map[turn]float64{}
	var order []turn
	for _, d := range deeds {
		if d.what != didDry {
			continue
		}
		at := turn{d.day, d.turn}
		if loads[at] += d.kg; !slices.Contains(order, at) {
			order = append(order, at)
		}
	}
	free := 0.0
	for _, at := range order {
		begins := hoursOfDay*float64(at.day) + float64(at.turn)*k.hours
		switch {
		case begins < free-1e-9:
			t.Fatalf("the load of day %d, turn %d goes in before the one before it is out", at.day, at.turn)
		case loads[at] > k.load+1e-6:
			t.Fatalf("%g kg in a drier of %g", loads[at], k.load)
		case k.shut[at.day]:
			t.Fatalf("the drier is used on day %d, and cannot be", at.day)
		case at.day == 0 && at.turn+k.taken >= k.perDay:
			t.Fatalf("turn %d of today, and %d are taken", at.turn, k.taken)
		}
		free = begins + k.hours
	}
}

func someKeeping(t *rapid.T) *keeping {
	k := &keeping{species: []string{"lion's mane", "shiitake"}, keeps: []int{rapid.IntRange(0, 8).Draw(t, "keeps"), 14},
		holds: rapid.SampledFrom([]float64{math.Inf(1), 1, 5, 20}).Draw(t, "holds"),
		load:  rapid.SampledFrom([]float64{0, 1, 3}).Draw(t, "load"), hours: rapid.SampledFrom([]float64{5, 12, 14, 24, 30, 60}).Draw(t, "hours"),
		share: rapid.SampledFrom([]float64{0, 0.6, 1}).Draw(t, "share"), before: rapid.IntRange(0, 6).Draw(t, "weekday"), plans: true}
	k.perDay, k.nights = max(1, int(hoursOfDay/k.hours)), max(1, int(math.Ceil(k.hours/hoursOfDay)))
	k.days = 6*daysOfWeek - k.before
	k.shut = make([]bool, k.days)
	for i := range k.shut {
		k.shut[i] = rapid.IntRange(0, 9).Draw(t, "shut") == 0
	}
	k.taken = rapid.IntRange(0, k.perDay).Draw(t, "taken")
	if rapid.Bool().Draw(t, "waits") {
		k.start = []portion{{1, 3, 2.5}, {0, 0, 0.4}}
	}
	for d := 2; d < k.days; d += 5 {
		k.due = append(k.due, Due{Day: yard.Date(d), Open: rapid.SampledFrom([]float64{0.2, 3}).Draw(t, "due"), species: rapid.IntRange(-1, 1).Draw(t, "of")})
	}
	k.dueOn = make([]int, k.days+1)
	for d := range k.dueOn {
		for k.dueOn[d] < len(k.due) && int(k.due[k.dueOn[d]].Day) < d {
			k.dueOn[d]++
		}
	}
	return k
}

// By hand: 14 kg a week are 2 kg a day from a Monday evening on, 12 kg from
// Tuesday to Sunday. A drier takes 1 kg a night, the cold room 3 kg. Tonight
// nothing is there; on Tuesday 2 come, 1 dries, 1 stays; on Wednesday 2 come, 1
// dries, 2 stay; on Thursday 3 stay; from Friday on 2 come, 1 dries and 1 finds no
// room. So 6 dried, 3 over, 3 kept.
func TestACourseByHand(t *testing.T) {
	k := &keeping{species: []string{"shiitake"}, keeps: []int{14}, plans: true, holds: 3, load: 1, hours: 14, perDay: 1, nights: 1,
		share: 1, days: 7, shut: make([]bool, 7), dueOn: make([]int, 8)}
	books := make([]WeekBook, 1)
	newCourse(k).run([]float64{12}, books, nil)
	if want := (WeekBook{Came: 12, Dried: 6, Over: 3, Kept: 3}); !nearBook(books[0], want) {
		t.Errorf("%+v, want %+v", books[0], want)
	}
	// Broken on Thursday and Friday: a kilogram less dries on each, and is over.
	k.shut[3], k.shut[4] = true, true
	newCourse(k).run([]float64{12}, books, nil)
	if want := (WeekBook{Came: 12, Dried: 4, Over: 5, Kept: 3}); !nearBook(books[0], want) {
		t.Errorf("broken for two days: %+v, want %+v", books[0], want)
	}
	// 2 kg are promised for Saturday, and held back from the drier from Tuesday
	// on: on Tuesday 2 are held; then a kilogram dries each night and one more
	// stays, until there are 3; Saturday sells 2. Tue 2, Wed 3 (1 dried), Thu
	// 3 (1, 1 over), Fri 3 (1, 1 over), Sat 2 (2 sold, 1 dried), Sun 3 (1 dried).
	k.shut[3], k.shut[4] = false, false
	k.due, k.dueOn = []Due{{Day: 5, Open: 2}}, []int{0, 0, 0, 0, 0, 0, 1, 1}
	met := make([]bool, 1)
	newCourse(k).run([]float64{12}, books, met)
	if want := (WeekBook{Came: 12, Sold: 2, Dried: 5, Over: 2, Kept: 3}); !nearBook(books[0], want) || !met[0] {
		t.Errorf("promised: %+v %v, want %+v", books[0], met, want)
	}
}

// By hand: 30 kg of shiitake, 12 of oyster and 4 of lion's mane lie there on a
// Wednesday, 2 kg of shiitake and 1 kg of anything are promised for Saturday. The
// cold room holds 8 kg: 38 have to go at once, the 4 that keep least, the 28 of
// shiitake that nobody was promised, and 6 of oyster. On Saturday 3 are
// delivered, on Tuesday the last 5 are no longer fresh. It was seen to fail where
// all that keeps least went first: no shiitake was left for Saturday.
func TestWhatIsPromisedIsSoldLast(t *testing.T) {
	k := &keeping{species: []string{"lion's mane", "oyster", "shiitake"}, keeps: []int{6, 6, 6}, plans: true, holds: 8, share: 1, days: 7,
		start: []portion{{0, 5, 4}, {2, 6, 30}, {1, 6, 12}}, due: []Due{{Day: 3, Open: 2, species: 2}, {Day: 3, Open: 1, species: -1}},
		dueOn: []int{0, 0, 0, 0, 2, 2, 2, 2}}
	var deeds []deed
	one := newCourse(k)
	one.log = &deeds
	books, met := make([]WeekBook, 1), make([]bool, 2)
	one.run(make([]float64, 3), books, met)
	if want := (WeekBook{Before: 46, Sold: 3, Over: 43}); !nearBook(books[0], want) || !met[0] || !met[1] {
		t.Errorf("%+v %v, want %+v", books[0], met, want)
	}
	sold := []float64{0, 0, 0}
	for _, d := range deeds {
		if d.day == 0 && d.what == didSell {
			sold[d.species] += d.kg
		}
	}
	if !slices.Equal(sold, []float64{4, 6, 28}) {
		t.Errorf("sold at once: %v", sold)
	}
	// What is promised has to go too where the cold room does not hold it: a
	// kilogram of oyster is left, which is anything.
	k.holds = 1
	newCourse(k).run(make([]float64, 3), books, met)
	if want := (WeekBook{Before: 46, Sold: 1, Over: 45}); !nearBook(books[0], want) || met[0] || !met[1] {
		t.Errorf("a cold room for 1 kg: %+v %v, want %+v", books[0], met, want)
	}
}

func nearBook(a, b WeekBook) bool {
	for _, d := range []float64{a.Before - b.Before, a.Came - b.Came, a.Sold - b.Sold, a.Usual - b.Usual, a.Dried - b.Dried, a.Over - b.Over, a.Kept - b.Kept} {
		if math.Abs(d) > 1e-9 {
			return false
		}
	}
	return true
}

// By hand: of four equally likely courses, in which 0, 1, 2 and 3 kg come in
// the week before a promise of 2 kg, two meet it; of those that also owe 1 kg of
// lion's mane, of which 1, 1, 0 and 1 kg come, one meets both.
func TestAPromiseByHand(t *testing.T) {
	met := 0
	both := 0
	for _, came := range [][2]float64{{1, 0}, {1, 1}, {0, 2}, {1, 3}} {
		k := &keeping{species: []string{"lion's mane", "shiitake"}, keeps: []int{7, 14}, holds: math.Inf(1), share: 1, days: 7,
			due: []Due{{Day: 6, Open: 2, species: 1}, {Day: 6, Open: 1, species: 0}}, dueOn: []int{0, 0, 0, 0, 0, 0, 0, 2}}
		books, ok := make([]WeekBook, 1), make([]bool, 2)
		newCourse(k).run(came[:], books, ok)
		if ok[0] {
			met++
		}
		if ok[0] && ok[1] {
			both++
		}
	}
	if met != 2 || both != 1 {
		t.Errorf("%d of 4 meet the one, %d both; want 2 and 1", met, both)
	}
}

func TestNoCapacityPlansNone(t *testing.T) {
	st := gluttedYard(t, yard.NewDate(2026, 5, 6))
	st.Config.Drier, st.Config.Cold = yard.Drier{Share: 1}, yard.Cold{}
	s := glutOf(t, st)
	if s.Planned() || len(s.Gluts) > 0 {
		t.Errorf("planned %v, %d gluts", s.Planned(), len(s.Gluts))
	}
	for _, w := range s.Weeks {
		if w.OverChance != 0 || w.Room != 0 || w.Book.Dried != 0 {
			t.Fatalf("%s: %+v", w.Week, w)
		}
		if w.Promised > 0 && w.Met == 0 && w.Came.P10 > 5 {
			t.Errorf("%s: %g promised of %v, never met", w.Week, w.Promised, w.Came)
		}
	}
}

// While the drier is broken no load goes in, and more is over.
func TestABrokenDrierPlansAnew(t *testing.T) {
	asOf := yard.NewDate(2026, 5, 6)
	whole := glutOf(t, gluttedYard(t, asOf))
	st := gluttedYard(t, asOf)
	g := whole.Gluts[0]
	st.Broken = []yard.Breakage{{What: "drier", On: yard.On(asOf), Until: yard.On(g.To)}}
	broken := glutOf(t, st)
	over := func(s *Supply) (kg float64) {
		for _, w := range s.Weeks {
			kg += w.Over.Mean
		}
		return kg
	}
	if over(broken) <= over(whole) {
		t.Errorf("%g kg over with a drier, %g without", over(whole), over(broken))
	}
	for _, x := range broken.Gluts {
		for _, d := range x.Plan.Days {
			if len(d.Dry) > 0 && d.Day <= g.To {
				t.Errorf("a load on %s", d.Day)
			}
		}
	}
	if i := slices.IndexFunc(broken.Weeks, func(w SupplyWeek) bool { return w.Week == g.From }); broken.Weeks[i].Room != 0 {
		t.Errorf("room of %g kg while it is broken", broken.Weeks[i].Room)
	}
}

func TestAGlutSaysWhatToDo(t *testing.T) {
	s := glutOf(t, gluttedYard(t, yard.NewDate(2026, 5, 6)))
	loads, sales, left := 0, 0, 0
	for _, g := range s.Gluts {
		if !(g.Chance >= 0.2) || g.Over.P90 <= 0 {
			t.Errorf("%s: chance %g, over %v", g.From, g.Chance, g.Over)
		}
		if len(g.Leave.Loads) > 0 {
			left++
		}
		checkLeave(t, &g, yard.NewDate(2026, 5, 6))
		if p := g.Plan; p.From < g.From || p.To > g.To || p.Book.Over < p.Over.P10-1e-9 || p.Book.Over > p.Over.P90+1e-9 {
			t.Errorf("%s: %g kg over in the plan of %s to %s, %v in all courses", g.From, p.Book.Over, p.From, p.To, p.Over)
		}
		for i, d := range g.Plan.Days {
			if i > 0 && d.Day != g.Plan.Days[i-1].Day+1 {
				t.Errorf("%s follows %s", d.Day, g.Plan.Days[i-1].Day)
			}
			loads, sales = loads+len(d.Dry), sales+len(d.Sell)
			for _, x := range d.Sell {
				if x.By < d.Day {
					t.Errorf("%s: sell by %s", d.Day, x.By)
				}
			}
		}
	}
	if loads == 0 || sales == 0 || left == 0 {
		t.Errorf("%d loads, %d sales, %d soaks to leave out", loads, sales, left)
	}
}

// What waits is what the record leaves, oldest gone first.
func TestInTheCold(t *testing.T) {
	set := mustLoad(t)
	st := &yard.State{AsOf: yard.NewDate(2026, 5, 20)}
	pick := func(day yard.Date, species, lot string, kg float64) {
		st.Picks = append(st.Picks, &yard.Pick{On: yard.On(day), Species: species, Lot: lot, Fresh: yard.Span{Low: kg, High: kg}, Weighed: true})
	}
	pick(st.AsOf-40, "shiitake", "A", 3)
	pick(st.AsOf-10, "shiitake", "B", 2)
	pick(st.AsOf-2, "shiitake", "C", 1.5)
	pick(st.AsOf-8, "lion's mane", "D", 1)
	went := func(day yard.Date, lot string, kg float64) {
		st.Went = append(st.Went, yard.Went{Kind: "sold", On: yard.On(day), Species: "shiitake", Lot: lot, FreshKG: yard.Span{Low: kg, High: kg}, Entry: &yard.Entry{}})
	}
	went(st.AsOf-1, "", 0.5)  // of B: A can no longer be fresh
	went(st.AsOf-1, "C", 1.2) // as said
	fresh, older := InTheCold(st, set)
	if len(fresh) != 2 || fresh[0].Lot != "B" || math.Abs(fresh[0].KG-1.5) > 1e-9 || fresh[1].Lot != "C" || math.Abs(fresh[1].KG-0.3) > 1e-9 {
		t.Errorf("fresh: %+v", fresh)
	}
	// Shiitake keeps 14 days, lion's mane 7, by data/species.
	if fresh[0].Until != st.AsOf+4 || len(older) != 2 || older[0].Lot != "A" || older[0].KG != 3 || older[1].Lot != "D" {
		t.Errorf("until %s; older: %+v", fresh[0].Until, older)
	}
	st.Config.Cold.Days = 9
	if fresh, older = InTheCold(st, set); len(fresh) != 1 || fresh[0].Lot != "C" || len(older) != 3 {
		t.Errorf("kept nine days: %+v, %+v", fresh, older)
	}
}

func TestWhatWasDeliveredIsNotPromisedAgain(t *testing.T) {
	set := mustLoad(t)
	st := &yard.State{AsOf: yard.NewDate(2026, 5, 6)} // a Wednesday
	st.Config.Promised = []yard.Promise{{To: "market", What: "fresh shiitake", Amount: kilos(2), By: yard.NewDate(2026, 4, 3), Every: 7}}
	due, _ := duesOf(st, set, yard.NewDate(2026, 5, 4), yard.NewDate(2026, 5, 20))
	if len(due) != 2 || due[0].Day != yard.NewDate(2026, 5, 8) || due[0].Open != 2 || due[0].Species != "shiitake" {
		t.Fatalf("%+v", due)
	}
	sell := func(to string, day yard.Date, kg float64) {
		st.Went = append(st.Went, yard.Went{Kind: "sold", To: to, On: yard.On(day), Species: "shiitake", FreshKG: yard.Span{Low: kg, High: kg}})
	}
	sell("market", yard.NewDate(2026, 5, 1), 2) // last week's
	sell("inn", yard.NewDate(2026, 5, 5), 1)
	sell("Market", yard.NewDate(2026, 5, 5), 1.2)
	due, _ = duesOf(st, set, yard.NewDate(2026, 5, 4), yard.NewDate(2026, 5, 20))
	if math.Abs(due[0].Open-0.8) > 1e-9 || due[1].Open != 2 {
		t.Errorf("%+v", due)
	}
}

// By hand: 2 kg of shiitake and 1 kg of anything are promised to one market for
// one day, and 0.5 kg of shiitake to anybody. What is sold fills each kilogram of
// them once: what is named first, then what was promised to the name.
func TestASaleFillsOnePromise(t *testing.T) {
	set := mustLoad(t)
	friday := yard.NewDate(2026, 5, 8)
	for _, row := range []struct {
		species string
		kg      float64
		to      string
		want    []float64 // open: shiitake for the market, anything for it, shiitake for anybody
	}{
		{"shiitake", 2, "market", []float64{0, 1, 0.5}},
		{"shiitake", 2.2, "market", []float64{0, 1, 0.3}},
		{"shiitake", 3, "market", []float64{0, 0.5, 0}},
		{"oyster", 0.7, "market", []float64{2, 0.3, 0.5}},
		{"shiitake", 2, "inn", []float64{2, 1, 0}},
		{"shiitake", 9, "market", []float64{0, 0, 0}},
	} {
		st := &yard.State{AsOf: friday - 1}
		st.Config.Promised = []yard.Promise{{To: "market", What: "fresh", Amount: kilos(1), By: friday}, {To: "market", What: "shiitake", Amount: kilos(2), By: friday, Every: 7},
			{What: "shiitake", Amount: kilos(0.5), By: friday}}
		st.Went = []yard.Went{{Kind: "sold", To: row.to, On: yard.On(friday - 1), Species: row.species, FreshKG: yard.Span{Low: row.kg, High: row.kg}}}
		due, _ := duesOf(st, set, friday-4, friday+2)
		if len(due) != 3 {
			t.Fatalf("%+v", due)
		}
		if got := []float64{due[1].Open, due[0].Open, due[2].Open}; math.Abs(got[0]-row.want[0])+math.Abs(got[1]-row.want[1])+math.Abs(got[2]-row.want[2]) > 1e-9 {
			t.Errorf("%g kg of %s to %s: %v are open, want %v", row.kg, row.species, row.to, got, row.want)
		}
	}
}

// The year's supply is worked out in well under a tenth of a second.
func BenchmarkSupply(b *testing.B) {
	s := gluttedYard(b, yard.NewDate(2026, 5, 6))
	r, err := prepare(Input{State: s, Data: mustLoad(b)})
	if err != nil {
		b.Fatal(err)
	}
	if err := r.weather(b.Context()); err != nil {
		b.Fatal(err)
	}
	if err := r.learn(b.Context()); err != nil {
		b.Fatal(err)
	}
	if err := r.learnYields(b.Context()); err != nil {
		b.Fatal(err)
	}
	res := r.result()
	if err := r.walkPiles(b.Context(), res, nil); err != nil {
		b.Fatal(err)
	}
	loads, species := r.closeLoads(), r.species()
	for b.Loop() {
		if _, err := r.supply(b.Context(), species, loads); err != nil {
			b.Fatal(err)
		}
	}
}

// tankOn is a yard with a tank on a day.
func tankOn(t testing.TB, asOf yard.Date) *yard.State {
	t.Helper()
	a := referencePile("oak-north", yard.NewDate(2024, 4, 12), "shiitake", "wide-range")
	b := referencePile("oak-south", yard.NewDate(2024, 4, 20), "shiitake", "warm-weather")
	c := referencePile("beech", yard.NewDate(2025, 4, 20), "lion's mane", "")
	s := yardOf(mustLoad(t), "oxford", asOf, a, b, c)
	s.Config.Soak = yard.Soak{TankLogs: 12}
	return s
}
