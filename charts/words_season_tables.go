package charts

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"hodaba/data"
	"hodaba/forecast/season"
	"hodaba/forecast/season/takes"
	"hodaba/yard"
)

// lineGrid is the plan, a row for each pile.
func (s *seasonBook) lineGrid() *grid {
	if s.plan == nil || len(s.plan.Lines) == 0 {
		return nil
	}
	g := &grid{Caption: fmt.Sprintf("The plan of %d", s.plan.Year), Words: 7,
		Head: []string{"Pile", "How many", "Of what", "On", "Spawn", "When and where", "First picked, likely", "Costs"}}
	for i := range s.plan.Lines {
		l := &s.plan.Lines[i]
		if l.Kind == "buy" {
			g.add("bought", s.units.g(l.BuyG), "dried "+l.Species, "", "", "for "+strconv.Itoa(l.Month.Year()), "", s.money(l.Cost))
			continue
		}
		spawn := strings.Join(wordsOf(l.Spawn, otherMethod(l.Method)), ", ")
		if l.Kind == "bed" {
			spawn = "ready-colonised, buried"
		}
		g.add(l.Pile, count(l.Logs, "log", "logs"), strings.Join(wordsOf(l.Species, l.Strain), ", "), strings.Join(wordsOf(l.Wood, s.size(l.Diameter, l.Length)), ", "),
			spawn, strings.Join(wordsOf(monthYear(l.Month), l.Place), ", "), s.firstWords(l), s.money(l.Cost))
	}
	return g
}

// otherMethod is a method of inoculating that is not the usual one of holes.
func otherMethod(method string) string {
	if method == "holes" || method == "buried" {
		return ""
	}
	return method
}

// size is the diameter and the length of logs.
func (s *seasonBook) size(diameter, length yard.Span) string {
	var parts []string
	for _, x := range []yard.Span{diameter, length} {
		if x.Known() {
			parts = append(parts, s.units.cm(x))
		}
	}
	return strings.Join(parts, " by ")
}

// firstWords are the early, likely and late month of a line's first picking.
func (s *seasonBook) firstWords(l *season.Line) string {
	d := l.First
	if d.P50 == 0 {
		return "not within sight"
	}
	late := "later"
	if d.P90 != 0 {
		late = shortMonth(d.P90)
	}
	return shortMonth(d.P50) + " (" + shortMonth(d.P10) + " to " + late + ")"
}

// meetGrid is how surely each want is met.
func (s *seasonBook) meetGrid() *grid {
	if s.plan == nil || len(s.plan.Meets) == 0 {
		return nil
	}
	r := s.plan
	g := &grid{Caption: "What is wanted, and the chance of it", Head: []string{"Wanted", "Asked", "With the plan", "As the yard stands", "Plan, a fifth less from every log"}}
	for i := range r.Meets {
		m := &r.Meets[i]
		g.add(s.wanted(m.Target), s.sure(m.Confidence), s.sure(m.Chance), s.sure(m.Alone), s.sure(m.Weaker))
	}
	if len(r.Meets) > 1 {
		g.add("all of it together", "", s.sure(r.Joint), s.sure(r.JointAlone), s.sure(r.JointWeaker))
	}
	return g
}

// ifGrid is how surely each want is met in other worlds.
func (s *seasonBook) ifGrid() *grid {
	if s.plan == nil || len(s.plan.Ifs) == 0 {
		return nil
	}
	r := s.plan
	g := &grid{Caption: "The same plan, if things go otherwise", Head: []string{"If", "All together", "Weakest", "Its chance"}, Words: 1}
	for _, x := range r.Ifs {
		at := -1
		for i, p := range x.Chances {
			if i < len(r.Meets) && (at < 0 || p < x.Chances[at]) {
				at = i
			}
		}
		weakest, p := "", ""
		if at >= 0 {
			weakest, p = s.wanted(r.Meets[at].Target), s.sure(x.Chances[at])
		}
		g.add(x.Name, s.sure(x.Joint), weakest, p)
	}
	return g
}

// swayGrid is what one log more and ten fewer of each line do.
func (s *seasonBook) swayGrid() *grid {
	if s.plan == nil || len(s.plan.Sways) == 0 || len(s.plan.Meets) == 0 {
		return nil
	}
	g := &grid{Caption: "One log more, or ten fewer, of each pile", Words: 5,
		Head: []string{"Pile", "One more", "does most for", "Ten fewer (or all)", "harm most"}}
	for _, x := range s.plan.Sways {
		g.add(x.Pile, "costs "+s.money(x.MoreCost), s.moved(x.More, true), "save "+s.money(math.Abs(x.LessCost)), s.moved(x.Less, false))
	}
	return g
}

// moved names the want whose chance is moved most, up or down.
func (s *seasonBook) moved(to []float64, up bool) string {
	at, most := -1, leastMove
	for i := range min(len(to), len(s.plan.Meets)) {
		by := to[i] - s.plan.Meets[i].Planning
		if !up {
			by = -by
		}
		if by > most {
			at, most = i, by
		}
	}
	if at < 0 {
		return ""
	}
	return fmt.Sprintf("%s, from %s to %s", s.wanted(s.plan.Meets[at].Target), percent(s.plan.Meets[at].Planning), percent(to[at]))
}

// leastMove is a change of a chance that is worth a word: half a point in a
// hundred is less than the draws can tell.
const leastMove = 0.005

// limitGrid is how much of what there is the plan takes.
func (s *seasonBook) limitGrid() *grid {
	if s.plan == nil || len(s.plan.Limits) == 0 {
		return nil
	}
	g := &grid{Caption: "How much of what there is the plan takes", Head: []string{"Of", "Takes", "There is", "One more would save"}}
	for _, l := range s.plan.Limits {
		saves := ""
		if l.Saves > 0 {
			saves = s.money(l.Saves)
		}
		g.add(l.Name, figure(l.Takes)+" "+l.Unit, figure(l.Room)+" "+l.Unit, saves)
	}
	return g
}

// takesGrid is what each line takes.
func (s *seasonBook) takesGrid() *grid {
	if len(s.takes.Lines) == 0 {
		return nil
	}
	g := &grid{Caption: "What each pile takes", Words: 4,
		Head: []string{"Pile", "Month", "Fell", "Inoculate", "Logs", "A log weighs", "Holes in a log", "Holes", "Spawn", "Wax", "Hours"}}
	for i := range s.takes.Lines {
		l := &s.takes.Lines[i]
		fellAt := ""
		if l.Work.FellFrom != 0 {
			fellAt = days(l.Work.FellFrom, l.Work.FellTo)
		}
		at := ""
		if l.Work.From != 0 {
			at = days(l.Work.From, l.Work.To)
		}
		g.add(l.Pile, s.monthOr(l.Month), fellAt, at, strconv.Itoa(l.Logs), s.units.kg(l.LiftKG), countOrBlank(l.PerLog.Holes), countOrBlank(l.All.Holes),
			s.spawnWords(l.All), amountOrBlank(l.All.WaxKG*1000, s.units.g), figure(l.All.Hours.Start()))
	}
	return g
}

func (s *seasonBook) monthOr(d yard.Date) string {
	if d == 0 {
		return "not said"
	}
	return monthYear(d)
}

// spawnWords are loose spawn by weight and the rest by the piece.
func (s *seasonBook) spawnWords(a takes.Amounts) string {
	var parts []string
	if a.SpawnKG > 0 {
		parts = append(parts, s.units.kg(a.SpawnKG))
	}
	if a.Pieces > 0 {
		parts = append(parts, fmt.Sprintf("%.0f pieces", math.Ceil(a.Pieces-hair)))
	}
	return strings.Join(parts, " and ")
}

// weekGrid is the work by week, beside that of the tank.
func (s *seasonBook) weekGrid() *grid {
	weeks := s.busyWeeks()
	if len(weeks) == 0 {
		return nil
	}
	g := &grid{Caption: "Hours by week; those of the tank are by the tank book, as far as it reaches",
		Head: []string{"Week of", "Look at", "Felling", "Inoculating", "Soaking", "Together", "There are"}, Words: 2}
	for _, w := range weeks {
		room, note := "", ""
		if !math.IsNaN(w.Room) {
			room = figure(w.Room)
		}
		switch {
		case w.Over && w.Collides:
			note = "too much: inoculating and soaking collide"
		case w.Over:
			note = "more than there are"
		case w.Collides:
			note = "inoculating and soaking collide"
		}
		g.add(dayOfMonth(w.Monday), note, hoursOr(w.Felling), hoursOr(w.Inoculating), hoursOr(w.Soaking), figure(w.Total()), room)
	}
	return g
}

func hoursOr(h float64) string {
	if h < leastHours {
		return ""
	}
	return figure(h)
}

// hair is what a number of pieces may be above a whole one by rounding.
const hair = 1e-9

// leastHours is work of which nobody keeps count, three minutes.
const leastHours = 0.05

// busyWeeks are the weeks from the first to the last with work on the plan.
func (s *seasonBook) busyWeeks() []takes.Week {
	from, to := len(s.weeks), 0
	for i, w := range s.weeks {
		if w.Felling+w.Inoculating > 0 {
			from, to = min(from, i), i+1
		}
	}
	if from >= to {
		return nil
	}
	return s.weeks[from:to]
}

// collisions says in which weeks inoculating and soaking collide.
func (s *seasonBook) collisions() []string {
	var weeks, over []string
	for _, w := range s.busyWeeks() {
		if w.Collides {
			weeks = append(weeks, w.Monday.Time().Format("2 January"))
		}
		if w.Over {
			over = append(over, w.Monday.Time().Format("2 January"))
		}
	}
	var out []string
	if len(over) > 0 {
		out = append(out, "More work than you have hours for in the week of "+some(over, namesInLine)+".")
	}
	if len(weeks) > 0 {
		out = append(out, "Inoculating and the soaking tank want the same hands in the week of "+some(weeks, namesInLine)+": inoculate earlier, or leave a load out (hodaba soaks --skip).")
	}
	return out
}

// monthRow is what a month takes.
type monthRow struct {
	month                      yard.Date
	logs, holes                int
	spawnKG, pieces            float64
	felling, inoculating, tank float64
	room                       float64 // NaN: not said
}

// months adds the weeks and lines up by month.
func (s *seasonBook) months() (rows []*monthRow) {
	of := func(d yard.Date) *monthRow {
		d = d.MonthStart()
		for _, r := range rows {
			if r.month == d {
				return r
			}
		}
		rows = append(rows, &monthRow{month: d, room: s.hoursOf(d.Month())})
		return rows[len(rows)-1]
	}
	for _, w := range s.busyWeeks() {
		r := of(w.Monday + 3) // a week belongs to the month of its Thursday
		r.felling, r.inoculating, r.tank = r.felling+w.Felling, r.inoculating+w.Inoculating, r.tank+w.Soaking
	}
	for i := range s.takes.Lines {
		if l := &s.takes.Lines[i]; l.Month != 0 {
			r := of(l.Month)
			r.logs, r.holes, r.spawnKG, r.pieces = r.logs+l.Logs, r.holes+l.All.Holes, r.spawnKG+l.All.SpawnKG, r.pieces+l.All.Pieces
		}
	}
	slices.SortFunc(rows, func(a, b *monthRow) int { return int(a.month - b.month) })
	return rows
}

func (s *seasonBook) hoursOf(m time.Month) float64 {
	for _, h := range s.State.Config.Plan.Hours {
		if h.Month == int(m) {
			return h.Hours
		}
	}
	return math.NaN()
}

// buying is what is to be bought: spawn and what goes with it, logs that come
// ready, and dried goods, by the day to order by; those without one last.
func (s *seasonBook) buying() (items []takes.Item) {
	items = append(items, s.takes.Shopping...)
	if s.plan != nil {
		for _, l := range s.plan.Lines {
			if l.Kind == "buy" {
				items = append(items, takes.Item{Item: "dried " + l.Species, Species: l.Species, Amount: l.BuyG, Unit: "g", Note: fmt.Sprintf("wanted in %d", l.Month.Year())})
			}
		}
	}
	slices.SortStableFunc(items, func(a, b takes.Item) int { return cmp.Compare(uint32(a.OrderBy-1), uint32(b.OrderBy-1)) })
	return items
}

// shoppingGrid is the shopping list, with the day by which to order.
func (s *seasonBook) shoppingGrid() *grid {
	items := s.buying()
	if len(items) == 0 {
		return nil
	}
	g := &grid{Caption: "Shopping list", Words: 6, Head: []string{"Order by", "What", "How much", "In packs", "Not before", "Note"}}
	for _, x := range items {
		by, not := "", ""
		if x.OrderBy != 0 {
			by = dayOfMonth(x.OrderBy)
		}
		if x.NotUntil > s.today() && x.NotUntil < x.OrderBy {
			not = dayOfMonth(x.NotUntil)
		}
		g.add(by, x.Item, s.bulk(x.Amount, x.Unit), s.packs(x), not, x.Note)
	}
	return g
}

// dayOfMonth is a day as it fits a narrow column: "1 Feb 2027".
func dayOfMonth(d yard.Date) string { return d.Time().Format("2 Jan 2006") }

// bulk writes an amount to buy in its unit.
func (s *seasonBook) bulk(amount float64, unit string) string {
	switch unit {
	case "kg":
		return s.units.kg(amount)
	case "g":
		return s.units.g(amount)
	}
	n := math.Ceil(amount - hair)
	if n == 1 {
		unit = strings.TrimSuffix(unit, "s")
	}
	return strings.TrimSpace(strconv.FormatFloat(n, 'f', -1, 64) + " " + unit)
}

func (s *seasonBook) packs(x takes.Item) string {
	var parts []string
	for _, p := range x.Packs {
		parts = append(parts, fmt.Sprintf("%d × %s", p.Count, s.bulk(p.Holds, x.Unit)))
	}
	return strings.Join(parts, ", ")
}

// windowGrid is when one fells and inoculates here, by the temperatures, and
// how long wood rests: sources disagree about that, and all are shown.
func (s *seasonBook) windowGrid() *grid {
	g := &grid{Caption: "When it is done here; how long wood rests, sources disagree", Words: 3, Head: []string{"What", "When", "Says"}}
	const here = "the temperatures here"
	for _, species := range slices.Sorted(maps.Keys(s.windows)) {
		w := s.windows[species]
		drilled := slices.ContainsFunc(s.takes.Lines, func(l takes.LineTakes) bool { return l.Species == species })
		if !w.Known || !drilled { // what is only buried has no such days
			continue
		}
		if len(g.Rows) == 0 { // trees are the same for all
			g.add("felling", runWords(w.Felling), here)
		}
		g.add("inoculating "+species, runWords(w.Inoculating), here)
		if len(w.Autumn) > 0 {
			g.add("inoculating "+species+" in autumn, less usual", runWords(w.Autumn), here)
		}
	}
	seen := map[string]bool{}
	for i := range s.takes.Lines {
		for _, r := range s.takes.Lines[i].Rests {
			if text := r.Says; !seen[text+r.Source] {
				seen[text+r.Source] = true
				g.add(strings.TrimSpace("resting "+strings.Join(wordsOf(r.Species, r.Wood, r.Method), ", ")), text, s.sourceWords(r.Source, r.Quality))
			}
		}
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

// windowSources is what sources say on felling and inoculating.
func (s *seasonBook) windowSources() *grid {
	g := &grid{Caption: "What is said elsewhere; shown, not reckoned with", Words: 3, Head: []string{"What", "When", "Says"}}
	for _, t := range s.Data.Practice.Windows {
		if t.Name == "felling" || t.Name == "inoculating" {
			g.add(t.Name, t.Says, s.sourceWords(t.Source, t.Quality))
		}
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

// sourceWords name a source, or say that there is none.
func (s *seasonBook) sourceWords(source string, q data.Quality) string {
	if name, ok := s.Data.Sources[source]; ok {
		source = name
	}
	if q == data.Judgement || q == data.Practised {
		return q.Says()
	}
	return strings.Join(wordsOf(source, q.Says()), "; ")
}

// runWords are stretches of the year in days.
func runWords(all []takes.Run) string {
	var parts []string
	for _, r := range all {
		parts = append(parts, dayOfYear(r.From)+" to "+dayOfYear(r.To))
	}
	if len(parts) == 0 {
		return "never"
	}
	return listing(parts)
}

// dayOfYear names a day counted from 0 for 1 January, in a year without a leap
// day.
func dayOfYear(n int) string {
	return (yard.NewDate(2001, 1, 1) + yard.Date(n)).Time().Format("2 January")
}

// acceptedGrid is what was written down as planned and how far it is.
func (s *seasonBook) acceptedGrid() *grid {
	if len(s.open) == 0 {
		return nil
	}
	g := &grid{Caption: "What is planned and not done", Words: 6, Head: []string{"Pile", "What", "Wood", "Spawn", "Where", "Month", "Logs", "Done", "Left"}}
	for _, k := range s.open {
		month := cmp.Or(whenPlanned(k), "not said")
		switch {
		case k.Until > s.today():
			month += ", put off until " + fullDay(k.Until)
		case k.Carried(s.today()):
			month += ", carried over"
		}
		g.addOf(s.mendOf(k.Entry), pileOr(k.Pile), strings.Join(wordsOf(k.Species, k.Strain), ", "), strings.Join(wordsOf(k.Wood, s.size(k.Diameter, k.Length)), ", "),
			strings.Join(wordsOf(k.Spawn, otherMethod(k.Method)), ", "), k.Place, month, countOrBlank(k.Logs), strconv.Itoa(k.Done), strconv.Itoa(k.Left))
	}
	return g
}

func pileOr(name string) string {
	if name == "" {
		return "not named"
	}
	return name
}
