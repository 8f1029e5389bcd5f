package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// Task is one line of work.
type Task struct {
	From, To yard.Date // first and last day for it; equal where it has a day of its own
	Kind     string    // one word: "strain", "start", "soak", "shake", "water", "walk", "asked", "check", "scales", "sort", "weigh", "count", "measure", "grind", "retire", "first", "drier", "sell", "promise", "glut", "load", "inoculate", "tags", "rest", "fell" or "backup"
	Do       string    // what to do, a sentence
	Why      string    // why now, a sentence
	Close    []string  // commands, any one of which closes the line, … being for the grower to fill in; empty where nothing needs writing down
	Page     string    // file name of the page that tells more, "" where none does
	Of       []string  // identifiers of the entries that it is of, where it is of some
}

// The thresholds of the list of work, our own judgement.
const (
	pickLikely  = 0.30 // a pile with this chance of a picking this month is walked past
	walkAgain   = 3    // days before a pile is walked past again
	checkPiles  = 2    // piles whose ends are looked at within the fortnight
	namesInLine = 6    // names that a sentence lists before it says "and 3 others"
)

// Work lists what to do from today to the end of next week (weeks begin on
// Monday), most pressing first.
func Work(in Input) []Task { return newBook(in).work() }

func (b *book) work() []Task {
	var list []Task
	for _, part := range []func() []Task{
		b.firstEvening, b.freshWork, b.dated, b.inoculating, b.resting, b.felling, b.shaking, b.watering, b.walks, b.asking,
		b.endChecks, b.scales, b.sorting, b.overdrawn, b.uncounted, b.unmeasured, b.retiring, b.backup,
	} {
		list = append(list, part()...)
	}
	return list
}

// fortnight is the last day of next week.
func (b *book) fortnight() yard.Date { return sunday(b.today()) + 7 }

// sunday is the last day of d's week.
func sunday(d yard.Date) yard.Date { return d.Monday() + 6 }

// anyDay is a task that may be done on any day of the fortnight.
func (b *book) anyDay(kind, do, why string, closing ...string) Task {
	return Task{From: b.today(), To: b.fortnight(), Kind: kind, Do: do, Why: why, Close: closing}
}

func (b *book) firstEvening() []Task {
	if len(b.State.Piles) > 0 || len(b.State.Sort) > 0 || len(b.State.Planned) > 0 || len(b.State.Felled) > 0 {
		return nil
	}
	return []Task{b.anyDay("first", "Write down the piles that stand, one line for each.",
		"Nothing can be said before the yard knows them; days may be as vague as you remember them.",
		"hodaba record inoculated oak-north shiitake 40 logs 'white oak' 12cm --on 2025-04")}
}

// dated is what has a day of its own, in order of day.
func (b *book) dated() []Task {
	list := append(append(b.batchSteps(), b.batchStarts()...), b.soaking()...)
	slices.SortStableFunc(list, func(a, c Task) int { return cmp.Compare(a.From, c.From) })
	return list
}

// step is one thing done with a batch.
type step struct {
	day  yard.Date
	verb string // with %s for the batch
	more string // the same when the batch was named already
}

func stepsOf(t tincture.Batch) []step {
	var s []step
	for _, x := range []step{
		{t.Strain, "strain %s", "strain it"}, {t.Decoct, "decoct the marc of %s", "decoct its marc"},
		{t.Blend, "blend %s", "blend it"}, {t.Bottled, "bottle %s", "bottle it"},
	} {
		if x.day != 0 {
			s = append(s, x)
		}
	}
	return s
}

// batchSteps are the steps that are due on batches standing in jars.
func (b *book) batchSteps() []Task {
	if b.Result.Plan == nil {
		return nil
	}
	var list []Task
	for _, t := range b.Result.Plan.Standing {
		due := slices.DeleteFunc(stepsOf(t), func(s step) bool { return s.day > b.fortnight() })
		if len(due) == 0 {
			continue
		}
		task := Task{
			From: max(due[0].day, b.today()), To: max(due[len(due)-1].day, b.today()),
			Kind: "strain", Do: b.stepSentence(t, due), Why: b.stepWhy(t, due[0]), Page: "jars.html",
		}
		if d := due[0].day; d == t.Strain || d == t.Decoct {
			task.Close = append(task.Close, "hodaba record straining "+shell(t.Lot))
		}
		if due[len(due)-1].day == t.Bottled {
			task.Close = append(task.Close, fmt.Sprintf("hodaba record bottled %s '%s'", shell(t.Lot), toFill(t)))
		}
		list = append(list, task)
	}
	return list
}

// stepSentence puts the steps in words, those of one day together.
func (b *book) stepSentence(t tincture.Batch, due []step) string {
	var clauses []string
	for i := 0; i < len(due); {
		var verbs []string
		day := due[i].day
		for ; i < len(due) && due[i].day == day; i++ {
			if i == 0 {
				verbs = append(verbs, fmt.Sprintf(due[i].verb, t.Lot))
			} else {
				verbs = append(verbs, due[i].more)
			}
		}
		clauses = append(clauses, listing(verbs)+" "+b.on(day))
	}
	return capital(strings.Join(clauses, ", then ")) + "."
}

// on names a day of work; one that is past is said to be.
func (b *book) on(d yard.Date) string {
	switch {
	case d < b.today():
		return "now (it was due on " + dayMonth(d) + ")"
	case d == b.today():
		return "today"
	}
	return "on " + dayMonth(d)
}

func (b *book) stepWhy(t tincture.Batch, first step) string {
	why := t.Recipe
	switch {
	case t.BlendedOn != 0:
		why += ", blended on " + dayMonth(t.BlendedOn)
	case t.StrainedOn != 0:
		why += ", strained on " + dayMonth(t.StrainedOn)
	case t.Start != 0:
		why += fmt.Sprintf(", put up on %s, has then stood %s", dayMonth(t.Start),
			count(int(first.day-t.Start), "day", "days"))
	}
	return capital(why) + "."
}

// batchStarts are the batches that can be put up within the fortnight.
func (b *book) batchStarts() []Task {
	if b.Result.Plan == nil {
		return nil
	}
	var list []Task
	for _, t := range b.Result.Plan.Batches {
		if t.Start == 0 || t.Start > b.fortnight() {
			continue
		}
		list = append(list, b.grinding(t)...)
		list = append(list, Task{
			From: t.Start, To: t.Start, Kind: "start", Page: "jars.html",
			Do:    fmt.Sprintf("Put up %s (%s) %s%s.", t.Lot, t.Recipe, b.on(t.Start), b.needWords(t)),
			Why:   fmt.Sprintf("The chance that everything for it is there is %s.", percent(t.StartChance)),
			Close: []string{fmt.Sprintf("hodaba record macerated %s %s", shell(t.Lot), shell(t.Recipe))},
		})
	}
	return list
}

// grinding is what is to be ground before a batch is put up.
func (b *book) grinding(t tincture.Batch) (list []Task) {
	for _, n := range t.Needs {
		for _, g := range n.Grind {
			from := ", as soon as it is dry,"
			if g.Lot != "" {
				from = ", lot " + g.Lot + ","
			}
			list = append(list, Task{
				From: max(t.Start-1, b.today()), To: max(t.Start, b.today()), Kind: "grind", Page: "jars.html",
				Do:    fmt.Sprintf("Grind %s of %s%s to powder for %s.", b.units.g(g.Grams), g.Species, from, t.Lot),
				Why:   fmt.Sprintf("%s wants powder, and there is not enough of it; it is put up %s.", t.Recipe, b.on(t.Start)),
				Close: []string{g.Command()},
			})
		}
	}
	return list
}

func (b *book) needWords(t tincture.Batch) string {
	var each []string
	for _, n := range t.Needs {
		each = append(each, b.units.g(n.Grams)+" of "+needName(n))
	}
	if len(each) == 0 {
		return ""
	}
	return ": " + some(each, namesInLine)
}

// shaking is one line for all jars that want it.
func (b *book) shaking() []Task {
	if b.Result.Plan == nil {
		return nil
	}
	var lots []string
	last := yard.Date(0)
	for _, t := range b.Result.Plan.Standing {
		if t.ShakeUntil >= b.today() && t.ShakeUntil != 0 {
			lots = append(lots, fmt.Sprintf("%s (until %s)", t.Lot, dayMonth(t.ShakeUntil)))
			last = max(last, t.ShakeUntil)
		}
	}
	if len(lots) == 0 {
		return nil
	}
	return []Task{{
		From: b.today(), To: min(last, b.fortnight()), Kind: "shake", Page: "jars.html",
		Do:  "Shake the jars of " + some(lots, namesInLine) + " once a day.",
		Why: "The recipe asks for it; nothing needs writing down.",
	}}
}

// walks is one line for all piles where something may be up.
func (b *book) walks() []Task {
	type likely struct {
		pile *yard.Pile
		p    float64
	}
	var up []likely
	for _, y := range b.State.Piles {
		f := b.ahead[y.Name]
		if f == nil || y.Closed != 0 || b.sinceSeen(y, "walked", "harvested") < walkAgain {
			continue
		}
		if p := b.soon(f); p >= pickLikely {
			up = append(up, likely{y, p})
		}
	}
	if len(up) == 0 {
		return nil
	}
	slices.SortStableFunc(up, func(a, c likely) int { return cmp.Compare(c.p, a.p) })
	var names, words []string
	for _, l := range up {
		names = append(names, handle(l.pile))
		words = append(words, fmt.Sprintf("%s (%s)", l.pile.Name, percent(l.p)))
	}
	t := b.anyDay("walk", "Walk past "+some(words, namesInLine)+" and pick what is up.",
		"In brackets the chance that something is picked there this month; that nothing was up is worth writing down too.",
		"hodaba record harvested "+names[0]+" …kg",
		"hodaba record walked "+strings.Join(names[:min(len(names), namesInLine)], " "))
	t.Page = b.slugs[up[0].pile.Name]
	return []Task{t}
}

// soon is the chance of a picking in the months that the fortnight touches,
// the larger where it touches two.
func (b *book) soon(f *forecast.Pile) float64 {
	p := 0.0
	for _, m := range f.Months {
		if m.Month == b.today().MonthStart() || m.Month == b.fortnight().MonthStart() {
			p = max(p, m.HarvestChance)
		}
	}
	return p
}

// sinceSeen is the number of days since one of these was last seen on a pile,
// and more than anyone waits where it never was.
func (b *book) sinceSeen(p *yard.Pile, kinds ...string) int {
	last := yard.Date(0)
	for _, s := range p.Seen {
		if slices.Contains(kinds, s.Kind) {
			last = max(last, s.On.To)
		}
	}
	if last == 0 {
		return 1 << 20
	}
	return int(b.today() - last)
}

// endChecks are the looks at log ends that are worth making within the
// fortnight: those that should narrow the forecast of a pile most.
func (b *book) endChecks() []Task {
	type open struct {
		pile *yard.Pile
		f    *forecast.Pile
		less int // days by which the range should narrow
	}
	var list []open
	for _, y := range b.State.Piles {
		f := b.ahead[y.Name]
		if f == nil || f.Colonised == nil || f.Why == nil || y.Closed != 0 {
			continue
		}
		if v := f.Why.Visit; v != nil && !v.Round && v.On <= b.fortnight() {
			list = append(list, open{y, f, v.NowDays - v.Then})
		}
	}
	slices.SortStableFunc(list, func(a, c open) int { return cmp.Compare(c.less, a.less) })
	var tasks []Task
	for i, o := range list[:min(len(list), checkPiles)] {
		n, v := endsOf(o.f), o.f.Why.Visit
		now, then := narrowed(v.NowDays, v.Then)
		why := fmt.Sprintf("It is %s likely to be fully run; a look would narrow the range from %s to about %s",
			percent(o.f.Colonised.ChanceNow), now, then)
		if i == 0 {
			why += ", the most of all looks that are due"
		}
		t := b.anyDay("check",
			fmt.Sprintf("Look at the ends of %s of %s and count those with a white ring.",
				count(n, "log", "logs"), o.pile.Name),
			why+".", fmt.Sprintf("hodaba record checked %s …/%d", handle(o.pile), n))
		t.From = max(v.On, t.From)
		t.Page = b.slugs[o.pile.Name]
		tasks = append(tasks, t)
	}
	return tasks
}

// sorting is the tray of entries that name something unknown.
func (b *book) sorting() []Task {
	if len(b.State.Sort) == 0 {
		return nil
	}
	var ids []string
	for _, e := range b.State.Sort {
		ids = append(ids, e.ID)
	}
	t := b.anyDay("sort", "Sort "+count(len(ids), "entry", "entries")+" set aside: "+some(ids,
		namesInLine)+".",
		"They name something the yard does not know, so nothing of them is counted on yet.",
		"hodaba correct "+shell(ids[0])+" pile=…", "hodaba verify")
	t.Of = ids[:min(len(ids), namesInLine)]
	return []Task{t}
}

// overdrawn are lots from which more was taken than came in.
func (b *book) overdrawn() []Task {
	var lots []string
	first := ""
	for _, l := range b.State.Dry {
		if l.LeftG < 0 {
			lots = append(lots, fmt.Sprintf("%s (%s, %s short)", l.Lot, l.Species, b.units.g(-l.LeftG)))
			if first == "" {
				first = l.Species
			}
		}
	}
	if len(lots) == 0 {
		return nil
	}
	t := b.anyDay("weigh", "Weigh what is left of "+some(lots, namesInLine)+".",
		"More was taken out than was ever written in.",
		"hodaba record counted "+shell(first)+" …g")
	t.Page = "stock.html"
	return []Task{t}
}

// uncounted is one line for the piles whose logs nobody counted.
func (b *book) uncounted() []Task {
	return b.gap(func(p *yard.Pile) bool { return !p.LogsKnown }, func(names string, first *yard.Pile) Task {
		return b.anyDay("count", "Count the logs of "+names+".",
			"Their number was never written down, so their kilograms are a guess for one log.",
			"hodaba record counted "+handle(first)+" … logs")
	})
}

// unmeasured is one line for the piles whose logs nobody measured.
func (b *book) unmeasured() []Task {
	return b.gap(func(p *yard.Pile) bool { return !p.Diameter.Known() },
		func(names string, first *yard.Pile) Task {
			t := b.anyDay("measure", "Measure how thick the logs of "+names+" are.",
				"A thick log takes longer and gives more; until then a usual thickness is taken.")
			if e := origin(first); e != nil {
				t.Close = []string{"hodaba correct " + shell(e.ID) + " diameter=…cm"}
			}
			return t
		})
}

// gap is one task for all standing piles that lack something.
func (b *book) gap(lacks func(*yard.Pile) bool, task func(names string, first *yard.Pile) Task) []Task {
	var names []string
	var first *yard.Pile
	for _, p := range b.State.Piles {
		if p.Closed != 0 || p.Like == "" || !lacks(p) {
			continue
		}
		if first == nil {
			first = p
		}
		names = append(names, p.Name)
	}
	if first == nil {
		return nil
	}
	t := task(some(names, namesInLine), first)
	t.Page = b.slugs[first.Name]
	return []Task{t}
}

// origin is the entry with which a pile began, or nil.
func origin(p *yard.Pile) *yard.Entry {
	for _, e := range p.Entries {
		if e.Kind == p.Origin {
			return e
		}
	}
	return nil
}

// handle is how a pile is called on a command line: by its name, or by its
// code where the name would need quoting.
func handle(p *yard.Pile) string {
	if s := shell(p.Name); s == p.Name || p.Code == "" {
		return s
	}
	return shell(p.Code)
}
