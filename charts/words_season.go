package charts

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"hodaba/forecast/season"
	"hodaba/forecast/season/takes"
	"hodaba/yard"
)

// seasonBook is a season of inoculations with what it takes, for pages, paper
// and the terminal.
type seasonBook struct {
	*book
	plan    *season.Result   // as it was worked out; nil: only what was written down
	open    []*yard.Planning // written down and not done
	takes   takes.Takes
	weeks   []takes.Week
	windows map[string]takes.Windows // by species
	sure    func(float64) string     // how a chance is written
}

// seasonBook lays out the plan in Input.Season, or where there is none that
// which was written down.
func (b *book) seasonBook(sure func(float64) string) *seasonBook {
	s := &seasonBook{book: b, plan: b.Season, sure: sure, open: openPlans(b.State)}
	if s.plan != nil {
		s.takes, s.weeks, s.windows = s.plan.Takes, s.plan.Weeks, s.plan.Windows
		return s
	}
	s.written()
	return s
}

// openPlans are the inoculations that are planned and not done, by month.
func openPlans(s *yard.State) (open []*yard.Planning) {
	for i := range s.Planned {
		if k := &s.Planned[i]; k.Open() {
			open = append(open, k)
		}
	}
	slices.SortStableFunc(open, func(a, b *yard.Planning) int { return cmp.Compare(a.Month.From, b.Month.From) })
	return open
}

// written lays out what was written down: what is left of each plan, with its
// hours beside those of the tank book.
func (s *seasonBook) written() {
	site, in, plan := takes.Site{}, &s.Data.Inoculating, &s.State.Config.Plan
	for m, n := range s.Result.Site.Normals {
		site.Mean[m] = (n.TMin + n.TMax) / 2
	}
	costs := plan.Costs
	if costs == (yard.Costs{}) { // a yard.toml without [plan]: nothing was said
		nan := math.NaN()
		costs = yard.Costs{Log: nan, SpawnKG: nan, Plug: nan, WaxKG: nan, Hour: nan}
	}
	s.windows = map[string]takes.Windows{}
	var lines []takes.Line
	for _, k := range s.open {
		l := s.leftOf(k)
		s.windows[l.Species] = takes.WindowsOf(site, l.Species, l.Method, in)
		lines = append(lines, l)
	}
	s.takes = takes.Of(lines, site, plan.Holes, costs, in)
	var loads []takes.Load
	for _, l := range s.Result.Loads {
		if l.Logs > 0 {
			loads = append(loads, takes.Load{Week: l.Week, Logs: l.Logs})
		}
	}
	s.weeks = takes.Weeks(s.takes, loads, plan.Hours, in)
}

// leftOf is what is left of a plan as logs to inoculate.
func (s *seasonBook) leftOf(k *yard.Planning) takes.Line {
	wood, _ := s.Data.FindWood(k.Wood)
	l := takes.Line{Pile: k.Pile, Species: k.Species, Strain: k.Strain, Wood: wood, Spawn: k.Spawn, Method: k.Method, Logs: k.Left,
		DiameterCM: sizeOr(k.Diameter, s.Data.Practice.DefaultDiameter.Value), LengthCM: sizeOr(k.Length, s.Data.Practice.DefaultLength.Value)}
	if !k.Month.IsZero() {
		l.Month = k.Month.From
	}
	return l
}

func sizeOr(x yard.Span, usual float64) float64 {
	if x.Known() {
		return x.Mid()
	}
	return usual
}

// lead is the first sentences of a plan.
func (s *seasonBook) lead() []string {
	r := s.plan
	switch {
	case len(r.Meets) == 0 && len(r.Lines) == 0:
		return []string{nothingWanted}
	case len(r.Meets) == 0:
		return []string{fmt.Sprintf("%s: nothing is wanted of single years, so this is what earns most%s.", capital(listing(s.kinds())), s.price())}
	case len(r.Lines) == 0 && r.Met && r.Windfall:
		return []string{fmt.Sprintf("None of the logs that lie there is needed: what stands meets all that is wanted, as surely as was asked; all of it together %s.", s.sure(r.JointAlone))}
	case len(r.Lines) == 0 && r.Met:
		return []string{fmt.Sprintf("Nothing need be inoculated in %d: what stands meets all that is wanted, as surely as was asked; all of it together %s.", r.Year, s.sure(r.JointAlone))}
	case r.Met && len(s.weak()) > 0:
		return []string{fmt.Sprintf("%s meet all that is wanted in the %d courses that this was looked for in. Looked at afresh they do a little less: %s; all of it together %s. Before you buy, look closer, or ask for a higher --confidence.",
			capital(listing(s.kinds())), r.Draws, strings.Join(s.weak(), "; "), s.sure(r.Joint)), s.costs()}
	case r.Met:
		return []string{fmt.Sprintf("%s meet all that is wanted, each want at least as surely as was asked, all of them together %s.", capital(listing(s.kinds())), s.sure(r.Joint)), s.costs()}
	}
	return s.unmet()
}

// weak are the wants that a plan meets less surely than was asked when it is
// looked at afresh.
func (s *seasonBook) weak() (said []string) {
	more := 0
	for i := range s.plan.Meets {
		m := &s.plan.Meets[i]
		switch {
		case m.Chance >= m.Confidence-weakBy:
		case len(said) == shortShown:
			more++
		default:
			said = append(said, s.wanted(m.Target)+", "+s.against(m))
		}
	}
	if more > 0 {
		said = append(said, fmt.Sprintf("and %s more", count(more, "want", "wants")))
	}
	return said
}

// against sets the chance of a want against what was asked, finely where it
// would look the same.
func (s *seasonBook) against(m *season.Meet) string {
	got, asked := s.sure(m.Chance), s.sure(m.Confidence)
	if got == asked {
		got, asked = percent(m.Chance), percent(m.Confidence)
	}
	return got + " where " + asked + " was asked"
}

// weakBy is how much less sure a want may be afresh before it is said: so much
// is what a plan of many courses loses.
const weakBy = 0.02

// nothingWanted says how to say what is wanted.
const nothingWanted = `Nothing is wanted of coming years, so there is nothing to plan. Say what you want under [[plan.want]] in yard.toml, or for once: hodaba next-season --want "48 bottles Two of the wood 2028-2030" --want "25 kg shiitake 2029"`

// unmet says first what cannot be had, then what comes nearest.
func (s *seasonBook) unmet() []string {
	var short []string
	more := 0
	for i := range s.plan.Meets {
		m := &s.plan.Meets[i]
		if m.Planning >= m.Confidence {
			continue
		}
		if len(short) == shortShown {
			more++
			continue
		}
		text := s.wanted(m.Target) + ", " + s.against(m)
		if m.Short > 0 {
			text += fmt.Sprintf(" (when it fails, about %.0f %% is lacking%s)", math.Max(1, 100*m.Short), worst(m.Worst))
		}
		short = append(short, text)
	}
	first := "Not all that is wanted can be had."
	if len(short) > 0 {
		first = "Not all that is wanted can be had: " + strings.Join(short, "; ")
		if more > 0 {
			first += fmt.Sprintf("; and %s more", count(more, "want", "wants"))
		}
		first += "."
	}
	out := []string{first}
	if len(s.plan.Lines) > 0 {
		out = append(out, "What comes nearest: "+listing(s.kinds())+". "+s.costs())
	}
	for _, l := range s.plan.Lacking {
		text := l.Text
		if l.Cost > 0 {
			text += "; the plan then costs " + s.money(l.Cost)
		}
		out = append(out, "It would do: "+text+".")
	}
	return out
}

// shortShown is how many wants that are not met the first sentence names.
const shortShown = 3

func worst(text string) string {
	if text == "" {
		return ""
	}
	return ": " + text
}

// kinds are what is inoculated, buried and bought, by species and month.
func (s *seasonBook) kinds() (said []string) {
	type key struct {
		kind, species string
		month         yard.Date
	}
	var order []key
	logs, grams := map[key]int{}, map[key]float64{}
	for _, l := range s.plan.Lines {
		k := key{l.Kind, l.Species, l.Month}
		if logs[k] == 0 && grams[k] == 0 {
			order = append(order, k)
		}
		logs[k], grams[k] = logs[k]+l.Logs, grams[k]+l.BuyG
	}
	for _, k := range order {
		switch k.kind {
		case "buy":
			said = append(said, fmt.Sprintf("%s of dried %s bought for %d", s.units.g(grams[k]), k.species, k.month.Year()))
		case "bed":
			said = append(said, fmt.Sprintf("%s of %s buried in %s", count(logs[k], "ready-colonised log", "ready-colonised logs"), k.species, monthYear(k.month)))
		default:
			said = append(said, fmt.Sprintf("%s of %s in %s", count(logs[k], "log", "logs"), k.species, monthYear(k.month)))
		}
	}
	return said
}

// costs says what the plan costs, and below what no plan could.
func (s *seasonBook) costs() string {
	r := s.plan
	text := fmt.Sprintf("It costs about %s, hours counted in (%s to pay), and takes %s of work.", s.money(r.Cost), s.money(r.Cash), workHours(r.Hours))
	if r.Earns > 0 {
		text += fmt.Sprintf(" By your prices its crop brings about %s up to %s.", s.money(r.Earns), monthYear(r.Horizon))
	}
	return text
}

func (s *seasonBook) price() string {
	if s.plan.Earns > 0 {
		return fmt.Sprintf(", about %s for %s spent", s.money(s.plan.Earns), s.money(s.plan.Cost))
	}
	return ""
}

// money writes a sum; where nobody named the currency the printed prices are
// in US dollars.
func (s *seasonBook) money(x float64) string {
	unit := cmp.Or(s.plan.Currency, s.State.Config.Plan.Currency)
	if unit == "" && len(s.takes.Assumed) > 0 && !s.takes.Mixed {
		unit = "US dollars"
	}
	return strings.TrimSpace(moneyFigure(x) + " " + Clean(unit))
}

func moneyFigure(x float64) string {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return "?"
	case math.Abs(x) < 9.995 && x != math.Round(x):
		return strconv.FormatFloat(x, 'f', 2, 64)
	}
	return strconv.FormatFloat(math.Round(x), 'f', -1, 64)
}

func workHours(h float64) string {
	if s := figure(h); s != "1" {
		return s + " hours"
	}
	return "1 hour"
}

// wanted says a target with its year first, so that a narrow column cuts the
// end.
func (s *seasonBook) wanted(t season.Target) string {
	what := cmp.Or(t.What, "all species")
	switch t.Kind {
	case season.Bottles:
		return fmt.Sprintf("%d: %s of %s", t.Year, count(int(math.Round(t.Amount)), "bottle", "bottles"), what)
	case season.Fresh:
		text := fmt.Sprintf("%d: %s %s a week", t.Year, s.units.fewKG(t.Amount), what)
		if t.First != 1 || t.Last != 12 {
			text += ", " + monthShort(t.First) + " to " + monthShort(t.Last)
		}
		return text
	case season.Hold:
		return fmt.Sprintf("%d: %s dried %s over", t.Year, s.units.g(t.Amount), what)
	}
	return fmt.Sprintf("%d: %s of %s", t.Year, s.units.fewKG(t.Amount), what)
}

// fewKG writes kilograms as somebody wants them: below one in grams.
func (u units) fewKG(kg float64) string {
	if kg < 1 && !u.us {
		return u.g(kg * 1000)
	}
	return u.kg(kg)
}

func monthShort(m int) string {
	if m < 1 || m > 12 {
		return "?"
	}
	return time.Month(m).String()[:3]
}

// cautious is what is worth a word before anybody begins.
func (s *seasonBook) cautious() []string {
	out := append([]string{}, s.takes.Cautions...)
	if s.takes.Total.Holes > 0 {
		out = append(out, "Drilling and sawing: eyes and ears covered, hands off the bit, and no loose sleeves; keep out of the dust of bark and old spawn.")
	}
	return append(out, eatSafely, "Whose wood it is, what may be felled when, and what may be sold, differs from place to place: ask the owner and the local authority.")
}

// assumed says which of the prices that the plan takes are not the grower's
// own.
func (s *seasonBook) assumed() []string {
	var what []string
	for _, a := range s.takes.Assumed {
		if s.pays(a.What) {
			what = append(what, fmt.Sprintf("%s %s (%d)", a.What, moneyFigure(a.Price.Value), a.Price.Year))
		}
	}
	if len(what) == 0 {
		return nil
	}
	text := "Nobody said what these cost here, so printed prices in US dollars stand in: " + strings.Join(what, ", ") + ". Write your own under [plan.costs] in yard.toml."
	if s.takes.Mixed {
		text += " Until then the sum mixes your money with dollars of other years."
	}
	return []string{text}
}

// pays reports whether anything of a kind of price is paid for.
func (s *seasonBook) pays(what string) bool {
	return slices.ContainsFunc(s.takes.Lines, func(l takes.LineTakes) bool {
		switch what {
		case "log":
			return !l.PriceSet
		case "kg of spawn":
			return l.All.SpawnKG > 0
		case "plug":
			return l.All.Pieces > 0
		case "kg of wax":
			return l.All.WaxKG > 0
		}
		return true
	})
}

// trust is what must be known to read the plan.
func (s *seasonBook) trust() []string {
	r := s.plan
	out := []string{}
	if r.Bounded && r.Met && r.Cost > 0 && !r.Margin {
		out = append(out, fmt.Sprintf("No plan of the kinds that were weighed can cost less than %s and do the same; this one costs %s.", s.money(math.Min(r.Bound, r.Cost)), s.money(r.Cost)))
	}
	for _, l := range r.Lines {
		if l.Guess {
			out = append(out, fmt.Sprintf("What a log of %s bears in a yard is published nowhere: its kilograms are a wide guess.", l.Species))
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	out = append(out, r.Notes...)
	for _, l := range r.LeftOut {
		out = append(out, fmt.Sprintf("%s is not counted: %s.", l.Pile, strings.TrimSuffix(l.Why, ".")))
	}
	if r.Draws > 0 {
		out = append(out, fmt.Sprintf("It was looked for in %d possible courses of the weather and of the yard, and its chances come from %d others, which had no part in finding it.", r.Draws, r.Fresh))
	}
	return out
}

// renewal says what keeps the yard going.
func (s *seasonBook) renewal() []string {
	r := &s.plan.Renewal
	var out []string
	if r.Short > 0 {
		out = append(out, fmt.Sprintf("What stands no longer meets what is wanted in %d.", r.Short))
	}
	if r.Spent > 0 {
		out = append(out, fmt.Sprintf("From %d on it brings less than half of what it brings in its best year.", r.Spent))
	}
	var order, logs []string
	sum := map[string]int{}
	for _, l := range r.Lines {
		kind := strings.Join(wordsOf(l.Species, l.Strain, onWood(l.Wood), l.Spawn), ", ")
		if sum[kind] == 0 {
			order = append(order, kind)
		}
		sum[kind] += l.Logs
	}
	for _, kind := range order {
		logs = append(logs, count(sum[kind], "log", "logs")+" of "+kind)
	}
	switch {
	case len(logs) > 0 && r.Met:
		out = append(out, "To have as much every year, inoculate every year "+strings.Join(logs, "; ")+". That costs about "+s.money(r.Cost)+" a year.")
	case len(logs) > 0:
		out = append(out, "What comes nearest to it for ever, and does not do for all: every year "+strings.Join(logs, "; ")+".")
	}
	return out
}

func onWood(wood string) string {
	if wood == "" {
		return ""
	}
	return "on " + wood
}

// wordsOf leaves out what is not said.
func wordsOf(words ...string) []string {
	return slices.DeleteFunc(words, func(w string) bool { return w == "" })
}
