package forecast

import (
	"math"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// Retirement says what is left in a pile's logs and whether they are worth
// looking after. It is a suggestion: nothing is done about it, and no forecast
// changes.
type Retirement struct {
	Left       Amount  // kg fresh that its standing logs still hold
	ShareLeft  float64 // of their life crop
	PerLogYear float64 // kg fresh that a log is expected to bring in the year ahead
	Mark       float64 // kg under which that is too little
	Why        []RetireWhy
	Suggested  bool // there is a reason
}

// RetireWhy is one reason to retire a pile's logs.
type RetireWhy struct {
	Kind string    // RetireLow, RetireBark or RetireOld
	KG   float64   // RetireLow: the most that a log is expected to bring in any year ahead
	On   yard.Date // RetireBark: when it was noticed; RetireOld: since when nothing came
	Logs int       // RetireBark: logs with loose bark
	Of   int       // RetireBark: logs standing
	Age  float64   // RetireOld: years since it first fruited, or since it was made
	Life float64   // RetireOld: years that such logs keep fruiting
}

// The reasons to retire a pile's logs.
const (
	RetireLow  = "brings little"
	RetireBark = "loose bark"
	RetireOld  = "past its years"
)

// holding is what a pile's logs hold and bring, while its draws go by.
type holding struct {
	life  float64 // kg, by weight of draws
	kg    *chance.Tally
	years []float64 // kg of each whole year ahead, from today, likewise
}

func (r *run) holding() holding {
	whole := max(int(r.horizon-r.asOf)/daysOfYear, 1)
	return holding{kg: chance.Amounts(), years: make([]float64, whole)}
}

// stands adds a draw in which so much of a life crop is left today.
func (k *holding) stands(life, left, weight float64) {
	k.life += life * weight
	k.kg.Add(left, weight)
}

// got adds a picking so many days ahead.
func (k *holding) got(ahead int32, kg, weight float64) {
	if year := int(ahead-1) / daysOfYear; year < len(k.years) {
		k.years[year] += kg * weight
	}
}

// retirement judges a pile's logs.
//
// Purpose: whether logs are worth looking after. Equations: a year's crop is
// too little under RetireShare of the best year of a log of its wood and
// size, its typical life crop times the largest year weight over how many
// times as long it lasts. That counts for a pile that has fruited, and where
// no whole year ahead brings more. Parameters: RetireShare, RetireSpent,
// RetireMost, LooseBark, OtherBark of data.Practice, data.Yield. State: none.
// Needs harvest. Errors: none.
func (r *run) retirement(a *account) *Retirement {
	k, draws, logs := &a.kept, float64(r.draws), logsOf(a.t.pile)
	out := &Retirement{Left: amount(k.kg), PerLogYear: k.years[0] / draws / logs}
	if k.life > 0 {
		out.ShareLeft = k.kg.Mean() * draws / k.life
	}
	lasts := r.usuallyLasts(a.t)
	out.Mark = r.data.Practice.RetireShare.Value * bestYear(&a.t.strain.Yield, a.t.efficiency.perLog(r.takeFail), a.dryWood.Mean(), lasts)
	for _, why := range []*RetireWhy{r.low(a, out), r.bark(a.t.pile), r.old(a, lasts)} {
		if why != nil {
			out.Why, out.Suggested = append(out.Why, *why), true
		}
	}
	return out
}

// logsOf is the number of logs that a pile's forecast is for.
func logsOf(p *yard.Pile) float64 {
	if !p.LogsKnown {
		return 1
	}
	return float64(max(p.Logs, 1))
}

// bestYear is what a log of so much dry wood usually brings in its best year.
func bestYear(y *data.Yield, efficiency data.Range, wood, lasts float64) float64 {
	most := 0.0
	for _, w := range y.YearWeights {
		most = math.Max(most, w)
	}
	return efficiency.Typical * wood * most / lasts
}

// usuallyLasts is how many times as long as a log of reference diameter a
// pile's logs usually keep fruiting.
func (r *run) usuallyLasts(t *task) float64 {
	pr := &r.data.Practice
	if t.pile.Kind == "bed" || !t.diameter.Known() {
		return 1
	}
	return harvest.Lasts(t.diameter.Mid(), pr.ReferenceDiameter.Value, pr.LifeExponent.Typical)
}

// low is the reason of a pile that has fruited, and of which no year ahead is
// expected to bring enough.
func (r *run) low(a *account, out *Retirement) *RetireWhy {
	fruited := len(a.t.pile.Picks) > 0 || out.ShareLeft < 1-r.data.Practice.RetireSpent.Value
	most := 0.0
	for _, kg := range a.kept.years {
		most = math.Max(most, kg/float64(r.draws)/logsOf(a.t.pile))
	}
	if !fruited || most >= out.Mark {
		return nil
	}
	return &RetireWhy{Kind: RetireLow, KG: most}
}

// bark is the reason of a pile on most of whose standing logs loose bark was
// noticed.
func (r *run) bark(p *yard.Pile) *RetireWhy {
	pr := &r.data.Practice
	var most RetireWhy
	for _, s := range p.Seen {
		if s.Kind != "noticed" || s.On.From > r.asOf || !pr.LooseBark.In(s.What) || pr.OtherBark.In(s.What) {
			continue
		}
		// Logs that went since may be those on which it was seen.
		logs := s.Logs
		for _, g := range p.Gone {
			if g.On.To >= s.On.From {
				logs -= g.Logs
			}
		}
		if logs > most.Logs {
			most = RetireWhy{Kind: RetireBark, On: s.On.From, Logs: min(logs, p.Logs), Of: p.Logs}
		}
	}
	if !p.LogsKnown || float64(most.Logs) <= pr.RetireMost.Value*float64(p.Logs) {
		return nil
	}
	return &most
}

// old is the reason of a pile that is past the years of its logs and of which
// nothing was picked in the last year on record.
func (r *run) old(a *account, lasts float64) *RetireWhy {
	if a.ledger == nil || len(a.ledger.periods) == 0 {
		return nil
	}
	last := a.ledger.periods[len(a.ledger.periods)-1]
	begun := a.t.pile.Since.From
	for i, k := range a.t.pile.Picks {
		if i == 0 || k.On.From < begun {
			begun = k.On.From
		}
	}
	age, life := float64(r.asOf-begun)/daysInYear, a.t.strain.Yield.LifeYears.Typical*lasts
	if !last.zero || age <= life {
		return nil
	}
	return &RetireWhy{Kind: RetireOld, On: r.start + yard.Date(last.from), Age: age, Life: life}
}

const daysInYear = 365.25
