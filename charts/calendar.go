package charts

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// BatchesICS is the tincture calendar as iCalendar (RFC 5545), to be read into
// any calendar: for every day of a batch an event and a to-do with a reminder,
// and for the days of shaking one event that comes back daily. What was done
// already comes as done, for as long as a calendar may still have it as to do.
//
// Identifiers hold from one export to the next, whatever a batch is called and
// wherever its days move, see batchKeys; and the sequence grows with the day as
// of which the calendar is made, so that a later one updates an earlier one. Both, and the time stamp, come from the folder and never from
// the clock. What is no longer planned is not in it, and so stays where an
// earlier export put it.
//
// It is an error where no batch has a day.
func BatchesICS(in Input) ([]byte, error) {
	b := newBook(in)
	list := b.appointments()
	if len(list) == 0 {
		return nil, errors.New("no batch has a day, so there is nothing to put into a calendar: hodaba batches says what holds them up")
	}
	c := ics.NewCalendar()
	c.SetProductId("-//hodaba//tincture calendar//EN")
	c.SetMethod(ics.MethodPublish)
	c.SetXWRCalName(calendarName(b.State.Config.Name))
	r := revisionOf(b.State)
	for _, a := range list {
		r.enter(c, a)
	}
	return []byte(c.Serialize(ics.WithNewLineWindows)), nil // CRLF everywhere, as the standard has it
}

// Undated are the lots of the batches of a plan that have no day.
func Undated(p *tincture.Plan) (lots []string) {
	for _, b := range p.Batches {
		if b.Start == 0 {
			lots = append(lots, b.Lot)
		}
	}
	return lots
}

// appointment is one day of a batch, with all that is done on it, or its days
// of shaking.
type appointment struct {
	key, step   string // of the batch, see batchKeys, and the first step: of them the identifier is made
	summary     string
	description string
	from, to    yard.Date // one day but for shaking; both included
	done        bool
}

// batchKeys names every batch by its recipe and its place among all batches
// of the recipe: those on record, in the order in which they were put up, and
// after them those that are planned, in the order of the plan. So a batch that
// is planned as the third of its recipe stays the third when its days move,
// when a new year gives planned lots other names, and when it is put up under
// whatever lot. What was blended of other batches has a count of its own, since
// it takes no place of a plan.
type batchKeys struct {
	recorded map[string]string // by lot
	count    map[string]int    // batches so far, by what they are counted under
}

func keysOf(batches []*yard.Batch) batchKeys {
	k := batchKeys{map[string]string{}, map[string]int{}}
	for _, put := range batches {
		under := put.Recipe
		if put.Made {
			under = "\x00made"
		}
		k.recorded[put.Lot] = k.next(under)
	}
	return k
}

// next is the key of the next batch that is counted under a name.
func (k batchKeys) next(under string) string {
	k.count[under]++
	return fmt.Sprintf("%s\x00%d", under, k.count[under])
}

// of is the key of a batch of the plan that stands; one that is on no record
// goes by its lot.
func (k batchKeys) of(lot string) string { return cmp.Or(k.recorded[lot], "\x00lot\x00"+lot) }

// shakeStep is the step that comes back daily and is no to-do.
const shakeStep = "shake"

// identifier is the same for the same step of the same batch in every export.
// Nothing that somebody typed stands in it as it is.
func (a appointment) identifier(form string) string {
	sum := sha256.Sum256([]byte(a.key + "\x00" + a.step + "\x00" + form))
	return fmt.Sprintf("%s-%s-%x@hodaba.invalid", form, a.step, sum[:12])
}

// revision is what tells a later export from an earlier one.
type revision struct {
	sequence int
	stamp    time.Time
}

// revisionOf counts the days up to the one as of which the calendar is made.
// Within a day the last entry of the journal tells which export is the later:
// where sequences are equal, readers go by the stamp (RFC 5546, 2.1.5).
func revisionOf(s *yard.State) revision {
	r := revision{int(s.AsOf), s.AsOf.Time()}
	for _, e := range s.Entries {
		if at, err := time.Parse("2006-01-02T15:04:05", string(e.Written)); err == nil && at.After(r.stamp) {
			r.stamp = at
		}
	}
	return r
}

// Reminders, from midnight of the day: at nine in the morning of the day
// before, and for putting up, which wants shopping, three days before.
const (
	remindDayBefore = "-PT15H"
	remindToShop    = "-P2DT15H"
	remindToShake   = "PT9H"
)

func (r revision) enter(c *ics.Calendar, a appointment) {
	e := c.AddEvent(a.identifier("event"))
	r.describe(&e.ComponentBase, a)
	e.SetTimeTransparency(ics.TransparencyTransparent) // the day stays free for other things
	e.SetAllDayStartAt(a.from.Time())
	if a.step == shakeStep {
		e.SetAllDayEndAt((a.from + 1).Time()) // the end is the day after
		e.AddRrule("FREQ=DAILY;UNTIL=" + a.to.Time().Format("20060102"))
		remind(e.AddAlarm(), a, remindToShake)
		return
	}
	e.SetAllDayEndAt((a.to + 1).Time())
	todo := c.AddTodo(a.identifier("todo"))
	r.describe(&todo.ComponentBase, a)
	todo.SetAllDayDueAt(a.from.Time())
	if a.done {
		todo.SetStatus(ics.ObjectStatusCompleted)
		todo.SetCompletedAt(a.from.Time())
		return
	}
	todo.SetStatus(ics.ObjectStatusNeedsAction)
	before := remindDayBefore
	if a.step == "start" {
		before = remindToShop
	}
	// A to-do that is only due has no start from which to count.
	remind(todo.AddAlarm(), a, before, &ics.KeyValues{Key: "RELATED", Value: []string{"END"}})
}

func (r revision) describe(c *ics.ComponentBase, a appointment) {
	c.SetDtStampTime(r.stamp)
	c.SetSequence(r.sequence)
	c.SetSummary(a.summary)
	c.SetDescription(a.description)
}

func remind(alarm *ics.VAlarm, a appointment, before string, params ...ics.PropertyParameter) {
	alarm.SetAction(ics.ActionDisplay)
	alarm.SetTrigger(before, params...)
	alarm.SetDescription(a.summary)
}

// breaks are all ways to begin a new line, those included that only some
// readers take for one.
var breaks = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\v", "\n", "\f", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n")

// calendarText makes a text safe for a calendar, whoever typed it: valid
// UTF-8, line feeds alone, no other control signs, and no two blanks in a row,
// since a line folded within them is taken for an empty one by some readers.
// A backslash becomes a slash: the standard can carry one, but readers in wide
// use take a comma or an n after it for an escape.
func calendarText(s string) string {
	lines := strings.Split(breaks.Replace(strings.ReplaceAll(s, `\`, "/")), "\n")
	for i, l := range lines {
		lines[i] = strings.Join(strings.Fields(Clean(l)), " ")
	}
	return strings.TrimSpace(strings.Join(lines, "\n"))
}

// calendarName names the calendar after the yard. It stands in a property that
// is no standard's, which some readers unescape and others show as it is: so
// nothing stands in it that wants escaping.
func calendarName(yard string) string {
	plain := calendarText(strings.NewReplacer(";", " ", ",", " ").Replace("Tinctures " + yard))
	return strings.Join(strings.Fields(plain), " ")
}

// appointments are those of the batches bottled within a year, of those that
// stand, and of those that have a day.
func (b *book) appointments() (list []appointment) {
	keys := keysOf(b.State.Batches)
	recorded := map[string]*yard.Batch{}
	for _, put := range b.State.Batches {
		recorded[put.Lot] = put
		if !put.Bottled.IsZero() && put.Bottled.To > b.today().AddMonths(-12) {
			t := tincture.Batch{Lot: put.Lot, Recipe: put.Named(), Start: put.On.Mid()}
			list = append(list, b.daysOf(keys.of(t.Lot), t, doneWith(t, put))...)
		}
	}
	if b.Result.Plan == nil {
		return list
	}
	for _, t := range b.Result.Plan.Standing {
		key := keys.of(t.Lot)
		list = append(list, b.daysOf(key, t, append(doneWith(t, recorded[t.Lot]), comingOf(t)...))...)
		list = append(list, b.shakingOf(key, t, true)...)
	}
	planned := map[string]string{} // keys by lot, in the order of the plan
	for _, t := range b.Result.Plan.Batches {
		planned[t.Lot] = keys.next(t.Recipe)
	}
	for _, t := range byStart(b.Result.Plan.Batches) {
		if key := planned[t.Lot]; t.Start != 0 {
			list = append(list, b.daysOf(key, t, append([]batchDay{{day: t.Start, step: "start", verb: "put up"}}, comingOf(t)...))...)
			list = append(list, b.shakingOf(key, t, false)...)
		}
	}
	return list
}

// batchDay is a step of a batch with its day.
type batchDay struct {
	day        yard.Date
	step, verb string
	done       bool
}

// comingOf are the steps of a batch that are still to do once it is put up.
func comingOf(t tincture.Batch) []batchDay {
	return dated([]batchDay{{t.Strain, "strain", "strain", false}, {t.Decoct, "decoct", "decoct", false},
		{t.Blend, "blend", "blend", false}, {t.Bottled, "bottle", "bottle", false}})
}

// doneWith are the steps of a batch that are on record; put may be nil.
func doneWith(t tincture.Batch, put *yard.Batch) []batchDay {
	days := []batchDay{{t.Start, "start", "put up", true}}
	if put != nil {
		if put.JarsStanding() == 0 || !put.Bottled.IsZero() {
			days = append(days, batchDay{put.Strained.To, "strain", "strain", true})
		}
		days = append(days, batchDay{put.Decocted.To, "decoct", "decoct", true}, batchDay{put.Bottled.To, "bottle", "bottle", true})
	}
	return dated(days)
}

func dated(days []batchDay) []batchDay {
	return slices.DeleteFunc(days, func(d batchDay) bool { return d.day == 0 })
}

// daysOf puts together what is done with a batch on one day.
func (b *book) daysOf(key string, t tincture.Batch, steps []batchDay) (list []appointment) {
	slices.SortStableFunc(steps, func(x, y batchDay) int { return cmp.Compare(x.day, y.day) })
	for len(steps) > 0 {
		n := 1
		for n < len(steps) && steps[n].day == steps[0].day && steps[n].done == steps[0].done {
			n++
		}
		list = append(list, b.appointmentOf(key, t, steps[:n]))
		steps = steps[n:]
	}
	return list
}

func (b *book) appointmentOf(key string, t tincture.Batch, steps []batchDay) appointment {
	var verbs []string
	for _, s := range steps {
		verbs = append(verbs, s.verb)
	}
	first := steps[0]
	return appointment{
		key: key, step: first.step, from: first.day, to: first.day, done: first.done,
		summary:     calendarText(Clean(capital(listing(verbs)) + " " + named(t))),
		description: calendarText(b.dayWords(t, steps)),
	}
}

// shakingOf is the days on which a batch is shaken, the one of putting it up
// not among them.
func (b *book) shakingOf(key string, t tincture.Batch, stands bool) []appointment {
	if t.ShakeUntil <= t.Start || t.Start == 0 {
		return nil
	}
	words := []string{"Once a day until " + fullDay(t.ShakeUntil) + "."}
	if !stands {
		words = append(words, ifItStarts(t))
	}
	return []appointment{{
		key: key, step: shakeStep, from: t.Start + 1, to: t.ShakeUntil,
		summary:     calendarText(Clean("Shake " + named(t))),
		description: calendarText(strings.Join(append(words, b.asOfWords()), "\n")),
	}}
}

func named(t tincture.Batch) string { return t.Lot + " (" + t.Recipe + ")" }
