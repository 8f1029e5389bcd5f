package tincture

import (
	"slices"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

// larder is a Stock for tests: what is on hand, and what comes in by draw.
type larder struct {
	draws int
	hand  map[string]int64 // pieces
	mill  map[string]int64 // powder
	in    map[string][][]arrival
}

type arrival struct {
	day yard.Date
	mg  int64
}

func newLarder(draws int) *larder {
	return &larder{draws: draws, hand: map[string]int64{}, mill: map[string]int64{}, in: map[string][][]arrival{}}
}

func (l *larder) hold(species string, g float64) *larder {
	l.hand[species] += int64(g * 1000)
	return l
}

func (l *larder) powder(species string, g float64) *larder {
	l.mill[species] += int64(g * 1000)
	return l
}

func (l *larder) add(species string, draw int, day yard.Date, g float64) *larder {
	if l.in[species] == nil {
		l.in[species] = make([][]arrival, l.draws)
	}
	as := append(l.in[species][draw], arrival{day, int64(g * 1000)})
	slices.SortStableFunc(as, func(a, b arrival) int { return int(a.day - b.day) })
	l.in[species][draw] = as
	return l
}

// everyDraw adds the same to all draws.
func (l *larder) everyDraw(species string, day yard.Date, g float64) *larder {
	for d := range l.draws {
		l.add(species, d, day, g)
	}
	return l
}

func (l *larder) clone() *larder {
	c := newLarder(l.draws)
	for s, mg := range l.hand {
		c.hand[s] = mg
	}
	for s, mg := range l.mill {
		c.mill[s] = mg
	}
	for s, draws := range l.in {
		c.in[s] = make([][]arrival, l.draws)
		for d := range draws {
			c.in[s][d] = slices.Clone(draws[d])
		}
	}
	return c
}

func (l *larder) Draws() int { return l.draws }

func (l *larder) FirstDay(species, form string, draw int, g float64) (yard.Date, bool) {
	want := int64(g*1000 + 0.5)
	have := l.hand[species]
	switch form {
	case "fresh":
		have = 0
	case "powder":
		have += l.mill[species]
	}
	if have >= want {
		return 0, true
	}
	if l.in[species] == nil {
		return 0, false
	}
	for _, a := range l.in[species][draw] {
		if have += a.mg; have >= want {
			return a.day, true
		}
	}
	return 0, false
}

// by is what has come in up to and with a day, mg.
func (l *larder) by(species string, draw int, day yard.Date) int64 {
	have := l.hand[species]
	if l.in[species] == nil {
		return have
	}
	for _, a := range l.in[species][draw] {
		if a.day <= day {
			have += a.mg
		}
	}
	return have
}

// lacks is what is taken of a species up to a day beyond what is there, mg. What
// can be met from least is met first, powder from powder and pieces from what
// was on hand as far as they go.
func (l *larder) lacks(species string, draw int, takes []take, day yard.Date) (mg int64) {
	mill, hand := l.mill[species], l.hand[species]
	comes := l.by(species, draw, day) - hand
	use := func(want int64, pools ...*int64) int64 {
		for _, p := range pools {
			g := min(want, *p)
			want, *p = want-g, *p-g
		}
		return want
	}
	for at := fromPickings; at <= asPowder; at++ {
		for _, t := range takes {
			if t.day > day || t.level != at {
				continue
			}
			switch at {
			case fromPickings:
				mg += use(t.mg, &comes)
			case asPieces:
				mg += use(t.mg, &hand, &comes)
			default:
				mg += use(t.mg, &mill, &hand, &comes)
			}
		}
	}
	return mg
}

// everyDay is Workdays without a closed day.
type everyDay struct{}

func (everyDay) Open(yard.Date) bool        { return true }
func (everyDay) Next(d yard.Date) yard.Date { return d }

func day(y, m, d int) yard.Date { return yard.NewDate(y, time.Month(m), d) }

// must returns v, and panics in a test that expected no error.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// testSet is reference data of a shape like the real one, with round values.
func testSet() *data.Set {
	var set data.Set
	for _, n := range []string{"shiitake", "reishi", "lion's mane", "piopino", "turkey tail", "maitake"} {
		sp := data.Species{Name: n, Grown: true}
		sp.Dried.Value, sp.Fresh.Typical = 0.12, 0.9
		set.Species = append(set.Species, sp)
	}
	set.Species[1].Cautions = []string{"Not with blood-thinning medicines: ask a doctor."}
	set.Practice.Marc = map[string]data.Range{
		"hand":  {Low: 1.56, Typical: 1.7, High: 1.83},
		"press": {Low: 0.7, Typical: 0.8, High: 0.9},
	}
	set.Practice.MarcWater = map[string]data.Range{
		"hand":  {Low: 1.6, Typical: 2, High: 2.5},
		"press": {Low: 0.8, Typical: 1, High: 1.4},
	}
	set.Practice.Room.Goods.Value, set.Practice.Room.Free.Value = 0.8, 0.1
	set.Practice.Keeping.Spoils.Value, set.Practice.Keeping.Usual.Value = 18, 25
	return &set
}

// trade is the trade's recipe (common practice, no source): 25 g of each of
// five dried mushrooms per jar, two jars, half a litre of 40 % spirit each;
// macerate 14 to 42 days, shake at least the first 14; boil the marc down from
// 1.5 l to 0.5 l in about two hours; blend 1:1; bottles of 100 ml.
func trade() yard.Recipe {
	r := yard.Recipe{
		Name: "Trade five", Jars: 2, SpiritMLJar: 500, SpiritABV: 40, MacerateMin: 14, MacerateMax: 42,
		ShakeDays: 14, Method: MarcDecocted, WaterML: 1500, DecoctToML: 500, SimmerHours: 2,
		SpiritPart: 1, WaterPart: 1, BottleML: 100,
	}
	for _, s := range []string{"shiitake", "reishi", "lion's mane", "piopino", "turkey tail"} {
		r.Ingredients = append(r.Ingredients, yard.Ingredient{Species: s, Form: "pieces", GramsJar: 25})
	}
	return r
}
