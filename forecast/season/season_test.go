package season

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

var seasonAsOf = yard.NewDate(2026, time.November, 20)

var loadOnce = sync.OnceValues(data.Load)

func mustLoad(t testing.TB) *data.Set {
	t.Helper()
	set, err := loadOnce()
	if err != nil {
		t.Fatal(err)
	}
	return set
}

const seasonYard = `format = 1
name = "Hazel Bottom"
[site]
station = "oxford"
[kitchen]
jars = 4
jar = "1 l"
pot = "4 l"
`

const seasonRecipes = `[[recipe]]
name = "Plain oak"
jars = 1
spirit_per_jar = "500 ml"
spirit_abv_percent = 50
macerate_days = [21, 35]
shake_days = 14
method = "maceration only"
bottle = "100 ml"

[[recipe.ingredient]]
species = "shiitake"
per_jar = "50 g"
`

const seasonJournal = `[[inoculated]]
on = 2024-04-06
pile = "oak"
species = "shiitake"
strain = "wide-range"
wood = "white oak"
logs = 20
diameter = "12 cm"
length = "100 cm"
spawn = "sawdust"

[[counted]]
on = 2026-11-01
species = "shiitake"
form = "pieces"
dry = "100 g"
`

// hazelBottom is a small yard of shiitake.
func hazelBottom(t testing.TB, more ...string) *yard.State {
	t.Helper()
	files := yard.InMemory(map[string]string{"yard.toml": seasonYard + strings.Join(more, "\n"), "recipes.toml": seasonRecipes, "journal.toml": seasonJournal})
	f, problems, err := yard.OpenFiles(files, mustLoad(t), seasonAsOf)
	if err != nil {
		t.Fatal(err)
	}
	s, more2 := f.State(seasonAsOf, 0)
	for _, p := range append(problems, more2...) {
		t.Error(p)
	}
	return s
}

func mustMake(t testing.TB, s *yard.State, q Question) *Result {
	t.Helper()
	if q.Draws == 0 {
		q.Draws, q.Fresh = 400, 400
	}
	if testing.Short() {
		q.Draws, q.Fresh = max(q.Draws/4, 50), max(q.Fresh/4, 50)
	}
	r, err := Make(context.Background(), forecast.Input{State: s, Data: mustLoad(t)}, q, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func crop(species string, kg float64, from, to int) yard.Want {
	return yard.Want{From: from, To: to, Species: species, CropKG: kg}
}

// wanting is a question with some wants and one kind of logs.
func wanting(wants ...yard.Want) Question {
	q := Question{Confidence: 0.8}
	q.Plan.Wants = wants
	q.Plan.Logs = []yard.LogsToHave{{Wood: "white oak", Diameter: yard.Span{Low: 12, High: 12}, Length: yard.Span{Low: 100, High: 100}}}
	q.Plan.Spawn, q.Plan.Months = []string{"sawdust"}, []int{3}
	return q
}

func TestNothingWantedIsTheEmptyPlan(t *testing.T) {
	r := mustMake(t, hazelBottom(t), wanting())
	if len(r.Lines) != 0 || r.Cost != 0 || !r.Met {
		t.Errorf("%d lines at %g, met %v", len(r.Lines), r.Cost, r.Met)
	}
	r = mustMake(t, hazelBottom(t), wanting(crop("shiitake", 0, 2029, 2030)))
	if len(r.Lines) != 0 {
		t.Errorf("of nothing: %+v", r.Lines)
	}
}

func TestNonsenseIsAnError(t *testing.T) {
	s := hazelBottom(t)
	for name, c := range map[string]struct {
		change func(*Question)
		says   string
	}{
		"negative":    {func(q *Question) { q.Plan.Wants[0].CropKG = -3 }, "less than nothing"},
		"confidence":  {func(q *Question) { q.Confidence = 1.2 }, "confidence of 120 %"},
		"one want's":  {func(q *Question) { q.Plan.Wants[0].Confidence = 1 }, "confidence of 100 %"},
		"recipe":      {func(q *Question) { q.Plan.Wants[0] = yard.Want{From: 2029, To: 2029, Recipe: "Plane oak", Bottles: 3} }, `did you mean "Plain oak"?`},
		"past season": {func(q *Question) { q.Year = 2024 }, "is over"},
		"windfall":    {func(q *Question) { q.Windfall, q.Plan.Logs = true, nil }, "which logs lie there"},
	} {
		t.Run(name, func(t *testing.T) {
			q := wanting(crop("shiitake", 10, 2029, 2029))
			c.change(&q)
			_, err := Make(context.Background(), forecast.Input{State: s, Data: mustLoad(t)}, q, nil)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want something about %q", err, c.says)
			}
		})
	}
}

// A row comes to what plain sums over the crop book give, the early years that
// the season cannot reach followed one by one.
func TestRowsAgainstPlainSums(t *testing.T) {
	s, set := hazelBottom(t), mustLoad(t)
	month := yard.NewDate(2027, time.March, 1)
	q := wanting(
		yard.Want{From: 2027, To: 2029, Recipe: "Plain oak", Bottles: 30},
		yard.Want{From: 2029, To: 2029, Species: "shiitake", FreshKG: 0.2, FirstMonth: 9, LastMonth: 10},
		yard.Want{From: 2028, To: 2028, Species: "shiitake", HoldG: 300},
	)
	m, err := begin(forecast.Input{State: s, Data: set}, q)
	if err != nil {
		t.Fatal(err)
	}
	p := *s.Piles[0]
	p.Name, p.Logs, p.Started = "next", 24, 24
	p.Since = yard.When{From: month, To: month.AddMonths(1) - 1}
	b, err := forecast.Crops(context.Background(), forecast.Input{State: s, Data: set, Draws: 60, Years: 6, Planned: []*yard.Pile{&p}})
	if err != nil {
		t.Fatal(err)
	}
	n, err := rowsOf(s, set, b, 2027, m.targets)
	if err != nil {
		t.Fatal(err)
	}
	var got sums
	n.add(&got, b, 1, func(string) int { return 0 })
	in, err := perBottle(s, "Plain oak", 30, set)
	if err != nil {
		t.Fatal(err)
	}
	each := in[0].grams
	// kg of the standing and of the planned pile between two days.
	between := func(d int, pile int, from, to yard.Date) (kg float64) {
		for i, first := range b.Months {
			if first >= from && first < to {
				kg += b.Piles[pile].KG(d, i)
			}
		}
		return kg
	}
	year := func(y int, m time.Month) yard.Date { return yard.NewDate(y, m, 1) }
	// Three weeks of maceration and one to finish: what November brings can
	// still be bottled, December's goes into the next year.
	cut := func(y int) yard.Date { return year(y, time.December) }
	for d := range b.Draws {
		per := 1000 * b.DryPer["shiitake"][d]
		// 2026 and 2027 lie before anything that the season inoculates can bear.
		stock := 100 + per*between(d, 0, seasonAsOf.MonthStart(), year(2027, 1))
		stock += per * between(d, 0, year(2027, 1), cut(2027))
		for k, r := range n.rows {
			want, need := math.NaN(), math.NaN()
			after := math.Max(stock-30*each, 0)
			switch r.name {
			case "dried shiitake for 2027":
				want, need = stock, 30*each
			case "dried shiitake for 2028":
				want, need = after+per*between(d, 0, cut(2027), cut(2028)), 30*each
				if m.targets[r.target].Kind == Hold {
					want, need = after+per*between(d, 0, cut(2027), year(2029, 1)), 30*each+300
				}
			case "dried shiitake for 2029":
				sold := 0.2 * float64(year(2029, 11)-year(2029, 9)) / 7
				want, need = after+per*(between(d, 0, cut(2027), cut(2029))-sold), 60*each
			case "fresh shiitake in September 2029":
				want, need = between(d, 0, year(2029, 9), year(2029, 10)), 0.2*30/7
			case "fresh shiitake in October 2029":
				want, need = between(d, 0, year(2029, 10), year(2029, 11)), 0.2*31/7
			}
			if math.Abs(got.have[k][d]-want) > 1e-6*math.Max(want, 1) || math.Abs(r.need-need) > 1e-9*need {
				t.Fatalf("%s, draw %d: has %g of %g, plain sums give %g of %g", r.name, d, got.have[k][d], r.need, want, need)
			}
			if r.name == "dried shiitake for 2029" {
				if want := per * between(d, 1, cut(2027), cut(2029)) / 24; math.Abs(float64(got.gives[k][0][d])-want) > 1e-5*math.Max(want, 1) {
					t.Fatalf("one log gives %g, plain sums %g", got.gives[k][0][d], want)
				}
			}
		}
	}
	if len(n.rows) != 6 {
		t.Errorf("%d rows, want three of bottles, one to hold and two months", len(n.rows))
	}
}

// What is wanted is there as surely as was asked, on draws that had no part in
// finding the plan, and fewer logs would not do on those that had.
func TestPlanHoldsOnFreshDraws(t *testing.T) {
	q := wanting(crop("shiitake", 16, 2029, 2030), yard.Want{From: 2030, To: 2030, Recipe: "Plain oak", Bottles: 40})
	q.Draws, q.Fresh = 1000, 1000
	near := 0.05 // four deviations of a share of 1,000
	if testing.Short() {
		near = 0.1 // of 250
	}
	r := mustMake(t, hazelBottom(t), q)
	if !r.Met || len(r.Lines) == 0 {
		t.Fatalf("met %v with %d lines", r.Met, len(r.Lines))
	}
	for _, m := range r.Meets {
		t.Logf("%s: %.3f on fresh draws, %.3f planning, %.3f alone, %.3f with a fifth less", m.Text, m.Chance, m.Planning, m.Alone, m.Weaker)
		if m.Chance < m.Confidence-near || m.Planning < m.Confidence {
			t.Errorf("%s: %.3f and %.3f of the time, want %g", m.Text, m.Chance, m.Planning, m.Confidence)
		}
		if m.Weaker > m.Chance || m.Alone > m.Chance {
			t.Errorf("%s: less brings more", m.Text)
		}
	}
	for _, s := range r.Sways {
		broken := false
		for i, m := range r.Meets {
			broken = broken || s.Less[i] < m.Confidence
		}
		if !broken {
			t.Errorf("ten logs fewer of %s would do as well", s.Pile)
		}
	}
	if r.Bounded && r.Bound > r.Cost {
		t.Errorf("costs %g, under the bound of %g", r.Cost, r.Bound)
	}
}

// The same question gives the same plan, for any number of workers.
func TestSamePlanForAnyWorkers(t *testing.T) {
	q := wanting(crop("shiitake", 16, 2029, 2029))
	q.Draws, q.Fresh = 200, 200
	first := ""
	for _, workers := range []int{1, 3} {
		r, err := Make(context.Background(), forecast.Input{State: hazelBottom(t), Data: mustLoad(t), Workers: workers}, q, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Takes.Lines {
			r.Takes.Lines[i].Wood = nil // an address
		}
		if said := fmt.Sprintf("%+v", r); first == "" {
			first = said
		} else if first != said {
			t.Errorf("%d workers plan otherwise", workers)
		}
	}
}

// More wanted, or more surely, or from fewer logs, never costs less.
func TestPlanIsMonotone(t *testing.T) {
	s := hazelBottom(t)
	cost := func(change func(*Question)) float64 {
		q := wanting(crop("shiitake", 14, 2029, 2029))
		q.Draws, q.Fresh = 300, 50
		change(&q)
		r := mustMake(t, s, q)
		if !r.Met {
			return math.Inf(1)
		}
		return r.Cost
	}
	usual := cost(func(*Question) {})
	if more := cost(func(q *Question) { q.Plan.Wants[0].CropKG = 20 }); more < usual {
		t.Errorf("20 kg cost %g, 14 kg %g", more, usual)
	}
	if surer := cost(func(q *Question) { q.Confidence = 0.9 }); surer < usual {
		t.Errorf("9 in 10 costs %g, 8 in 10 %g", surer, usual)
	}
	if fewer := cost(func(q *Question) { q.Plan.Logs[0].Most = 5 }); fewer < usual {
		t.Errorf("with five logs to be had it costs %g, without end %g", fewer, usual)
	}
}

// A yard that inoculates one log a year bears every year what one log bears in
// its life: the crops of all ages in one year against those of one pile over
// its years.
func TestSteadyYardBearsALifeEachYear(t *testing.T) {
	s, set := hazelBottom(t), mustLoad(t)
	q := wanting(crop("shiitake", 10, 2029, 2029))
	m, err := begin(forecast.Input{State: s, Data: set, Years: 10}, q)
	if err != nil {
		t.Fatal(err)
	}
	m.choosing.logs = q.Plan.Logs
	sp, _ := set.FindSpecies("shiitake")
	c := m.choosing.candidate(sp, &sp.Strains[0], 0, "sawdust", 3)
	m.candidates = []*candidate{c}
	draws, near := 400, 0.08
	if testing.Short() {
		draws, near = 150, 0.15
	}
	life, err := forecast.Crops(context.Background(), forecast.Input{State: s, Data: set, Draws: draws, Years: 12, Planned: []*yard.Pile{c.pile}})
	if err != nil {
		t.Fatal(err)
	}
	mean := func(b *forecast.CropBook, planned bool, from, to int) (kg float64) {
		for _, p := range b.Piles {
			for d := range b.Draws {
				if p.Planned == planned {
					kg += b.Weight[d] * p.Between(d, from, to) / float64(b.Draws)
				}
			}
		}
		return kg
	}
	whole := mean(life, true, 0, len(life.Months))
	piles, _ := m.aged(2027, []int{0})
	year, err := forecast.Crops(context.Background(), forecast.Input{State: s, Data: set, Draws: draws, Years: 2, Planned: piles})
	if err != nil {
		t.Fatal(err)
	}
	from, to := yearIn(year, 2027)
	steady := mean(year, true, from, to)
	t.Logf("life of the pile %.1f kg, all ages in one year %.1f kg", whole, steady)
	if math.Abs(steady/whole-1) > near {
		t.Errorf("all ages bring %.2f kg in a year, one pile %.2f in its life", steady, whole)
	}
}

// A drought of which all rain falls is none; one of which none falls keeps
// strains that answer rain from fruiting.
func TestDroughtYear(t *testing.T) {
	s, set := hazelBottom(t), mustLoad(t)
	in := forecast.Input{State: s, Data: set, Draws: 100, Years: 3}
	kg := func(rain float64) (kg float64) {
		if rain < 1.5 {
			in.Decision.Dry = &forecast.Drought{From: yard.NewDate(2027, 1, 1), To: yard.NewDate(2027, 12, 31), Rain: rain}
		}
		b, err := forecast.Crops(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		from, to := yearIn(b, 2027)
		return b.Amount(func(d int) float64 { return b.Piles[0].Between(d, from, to) }).Mean
	}
	usual := kg(2)
	if same := kg(1); same != usual {
		t.Errorf("all of the rain brings %g kg, no drought %g", same, usual)
	}
	if dry := kg(0); dry > 0.5*usual {
		t.Errorf("without any rain %g kg, usually %g", dry, usual)
	}
}

func TestNamesOfPlannedPiles(t *testing.T) {
	used := map[string]bool{"lions-mane-27-1": true}
	got := []string{nameFor("lion's mane", 2027, used), nameFor("lion's mane", 2027, used), nameFor("shiitake", 2027, used)}
	if want := []string{"lions-mane-27-2", "lions-mane-27-3", "shiitake-27-1"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestSeasonYear(t *testing.T) {
	for _, c := range []struct {
		asOf yard.Date
		want int
	}{
		{yard.NewDate(2026, 11, 20), 2027}, {yard.NewDate(2027, 2, 1), 2027}, {yard.NewDate(2027, 4, 30), 2027}, {yard.NewDate(2027, 5, 1), 2028},
	} {
		if got := seasonYear(c.asOf, []int{2, 3, 4}); got != c.want {
			t.Errorf("on %s the next season is %d, want %d", c.asOf, got, c.want)
		}
	}
}
