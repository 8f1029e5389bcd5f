package charts

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

// The thresholds of saying why, our own judgement.
const (
	fewDays      = 3    // by so many days a likely day must move to be worth a word
	sameSeason   = 0.03 // a season that differs by less than this share, or by less
	sameGrowth   = 1    // than so many growing days, is as usual
	likelyMonths = 4    // months named in which pickings are most likely
	vagueLook    = 31   // days: a look as vague as that still counts, see the forecast
	weekWords    = 60   // days under which a range is told in weeks
)

// whyWords is why the forecast of a pile is what it is, in the order in which
// it is read. Page and terminal say the same.
type whyWords struct {
	Before []string // what is expected, growing days, the season
	Seen   []seenWords
	After  []string // the other piles, what does not fit, water, the next harvest
	Visit  string   // the visit worth making next
}

// seenWords is one thing that was seen, and what it does to the likely day.
type seenWords struct {
	When, What, Does string
	Mend             mend
}

// seenCaption explains the list of what was seen.
const seenCaption = "What was seen on it, and what each does to the likely day on which half of its logs are through; together they need not add up"

// whyOf explains the forecast of a pile. y may be nil.
func (b *book) whyOf(f *forecast.Pile, y *yard.Pile) whyWords {
	if f.Colonised == nil || !f.GrowthNeeded {
		return whyWords{Before: b.throughWords(f), After: b.harvestWords(f, y), Visit: b.roundWords(f)}
	}
	w := whyWords{Before: []string{b.halfWords(f), b.wantWords(f)}}
	why := f.Why
	if why != nil {
		w.Before = append(w.Before, b.seasonSaid(f)...)
		for _, e := range why.Effects {
			w.Seen = append(w.Seen, seenWords{sinceShort(e.Seen.On), seenOf(&e, why), b.does(&e, why), b.mendOf(e.Seen.Entry)})
		}
		if len(w.Seen) == 0 {
			w.Before = append(w.Before, "Nothing was seen on it yet that tells how far it is.")
		}
		w.After = append(w.After, b.othersWords(why))
		if why.Contradicts {
			w.After = append(w.After, "What was seen on this pile does not fit together, so each of it counts for less: look again, or mend an entry that is wrong.")
		}
	}
	w.After = append(w.After, b.heldWords(f)...)
	if !growing(f) {
		w.After = append(w.After, b.harvestWords(f, y)...)
	}
	w.Visit = b.visitWords(f)
	return w
}

// halfWords is what is expected now.
func (b *book) halfWords(f *forecast.Pile) string {
	c := f.Colonised
	d := c.Dates
	now := "; the chance that they are by today is " + percent(c.ChanceNow) + "."
	switch {
	case d.P10 == 0:
		return "It is not likely that half of its logs are run through within " + b.yearsLooked() + now
	case d.P50 == 0:
		return fmt.Sprintf("It is more likely than not that half of its logs are not run through within %s, though it may be as early as %s%s",
			b.yearsLooked(), monthYear(d.P10), now)
	case d.P50 <= b.today():
		return fmt.Sprintf("Half of its logs were most likely run through in %s, %s%s", monthYear(d.P50), monthsOf("times", d, -1), now)
	}
	return fmt.Sprintf("Half of its logs will most likely be run through in %s, %s%s", monthYear(d.P50), monthsOf("times", d, -1), now)
}

func (b *book) yearsLooked() string {
	if b.Result.Years == 1 {
		return "the year looked at"
	}
	return fmt.Sprintf("the %d years looked at", b.Result.Years)
}

// wantWords sets the growing days that a pile had against those it needs.
func (b *book) wantWords(f *forecast.Pile) string {
	had, need := f.GrowingDays, f.NeedDays
	s := fmt.Sprintf("It has had about %s so far", growingDays(had.P50))
	if grown(had.P10) != grown(had.P90) {
		s += ", " + mostly("times", grown(had.P10), grown(had.P90))
	}
	return s + fmt.Sprintf("; half of its logs need about %s, %s. A growing day is a day at the temperature the species likes best; any other day counts for less.",
		grown(need.P50), mostly("times", grown(need.P10), grown(need.P90)))
}

func growingDays(x float64) string {
	if grown(x) == "1" {
		return "1 growing day"
	}
	return grown(x) + " growing days"
}

// grown writes a number of growing days.
func grown(x float64) string { return strings.TrimSuffix(figure(x), ".0") }

// seasonSaid sets this year's growing days against the usual ones; nothing
// for a pile that is through for all that is known, and where nothing is
// known of the year.
func (b *book) seasonSaid(f *forecast.Pile) []string {
	w := f.Why
	if f.Colonised.ChanceNow > sureThrough || w.Season == (forecast.Amount{}) && w.Usual == (forecast.Amount{}) {
		return nil
	}
	said := fmt.Sprintf("This year has brought it about %s so far", growingDays(w.Season.P50))
	if w.From != yard.NewDate(b.today().Year(), 1, 1) {
		said = fmt.Sprintf("Since its beginning on %s this year has brought it about %s", fullDay(w.From), growingDays(w.Season.P50))
	}
	more := w.Season.P50 - w.Usual.P50
	switch by := grown(math.Abs(more)); {
	case math.Abs(more) < max(sameGrowth, sameSeason*w.Usual.P50):
		said += ", as many as usual by this day"
	case more > 0:
		said += fmt.Sprintf(", %s more than usual by this day (%s)", by, grown(w.Usual.P50))
	default:
		said += fmt.Sprintf(", %s fewer than usual by this day (%s)", by, grown(w.Usual.P50))
	}
	if record := b.Result.Site.Record; record.TempDays == 0 || record.To < w.From {
		said += "; no temperature of this time is written down, so little is known of it"
	}
	return []string{said + "."}
}

// seenOf says what was seen.
func seenOf(e *forecast.Effect, w *forecast.Why) string {
	s := e.Seen
	switch s.Kind {
	case "checked":
		return lookWords(s)
	case "walked":
		before := ""
		if slices.ContainsFunc(w.Effects, func(e forecast.Effect) bool { return e.Seen.Kind == "harvested" || e.Seen.Kind == "pinned" }) {
			before = " before it fruited"
		}
		if e.Count > 1 {
			return fmt.Sprintf("the last of %d rounds%s, nothing up", e.Count, before)
		}
		return "a round" + before + ", nothing up"
	case "harvested":
		return "first picking" + fromLogs(s.Logs, ", from ")
	case "pinned":
		return "first pins" + fromLogs(s.Logs, ", on ")
	case "noticed":
		if what := strings.TrimSpace(s.What); what != "" {
			return what + fromLogs(s.Logs, " on ")
		}
		return "something was noticed" + fromLogs(s.Logs, " on ")
	}
	return s.Kind
}

func fromLogs(n int, joint string) string {
	if n <= 0 {
		return ""
	}
	return joint + count(n, "log", "logs")
}

// lookWords says what a look at log ends found.
func lookWords(s *yard.Seen) string {
	var found []string
	for _, f := range []struct {
		sign string
		n    int
	}{{"white ring", s.With}, {"spots at the rim", s.Spots}, {"bark that gives", s.Springy}, {"dull knock", s.Dull}} {
		if f.n < 0 {
			continue
		}
		n := fmt.Sprint(f.n)
		if f.n == 0 {
			n = "none"
		}
		found = append(found, fmt.Sprintf("%s on %s of %d", f.sign, n, s.LookedAt))
	}
	if s.LookedAt <= 0 || len(found) == 0 {
		return "a look, of which nothing is written"
	}
	return listing(found)
}

// does says what one thing that was seen does to the likely day.
func (b *book) does(e *forecast.Effect, w *forecast.Why) string {
	s := e.Seen
	_, inDays := effectDays(e, w)
	switch {
	case inDays:
		return b.shifts(e.Days, w.Now.P50)
	case e.Told:
		return "cannot be told in days: the day is too far off"
	case s.Kind == "noticed":
		return "says nothing of how far it is"
	case s.Kind == "checked" && (s.LookedAt <= 0 || max(s.With, s.Spots, s.Springy, s.Dull) < 0):
		return "says nothing of how far it is"
	case s.On.To-s.On.From > vagueLook:
		return "says nothing of how far it is: too vague a day"
	}
	return "cannot be told apart from the rest"
}

// effectDays is by how many days something that was seen moves the likely
// day, where that can be told. Where either day lies beyond the years looked
// at, no days can be counted.
func effectDays(e *forecast.Effect, w *forecast.Why) (days int, ok bool) {
	if !e.Told || w.Now.P50 == 0 || e.Days == 0 && w.Others.P50 == 0 {
		return 0, false
	}
	return e.Days, true
}

// shifts says by how much a likely day moves, and to when; a day that is past
// cannot come nearer.
func (b *book) shifts(n int, to yard.Date) string {
	by := count(max(n, -n), "day", "days")
	switch {
	case n > -fewDays && n < fewDays:
		return "fits what was expected: no change"
	case n < 0 && to <= b.today():
		return "puts it " + by + " earlier"
	case n < 0:
		return "brings it " + by + " nearer"
	case to <= b.today():
		return "puts it " + by + " later"
	}
	return "puts it off by " + by
}

// othersWords says what was seen on the other piles does.
func (b *book) othersWords(w *forecast.Why) string {
	before, others := w.Unlearned.P50, w.Others.P50
	start := "Before anything was seen in the yard, " + monthYear(before) + " was most likely"
	switch {
	case w.Unlearned == w.Others:
		return "Nothing that was seen on other piles changes it."
	case before == 0 && others == 0:
		return "Neither before anything was seen in the yard nor with what was seen on the other piles is half likely to be through within " + b.yearsLooked() + "."
	case before == 0:
		return fmt.Sprintf("Before anything was seen in the yard, it was not likely within %s; what was seen on the other piles brings it to %s.",
			b.yearsLooked(), monthYear(others))
	case others == 0:
		return start + "; what was seen on the other piles puts it off beyond " + b.yearsLooked() + "."
	case w.OthersDays > -fewDays && w.OthersDays < fewDays:
		return start + "; what was seen on the other piles fits that."
	}
	return start + "; what was seen on the other piles " + b.shifts(w.OthersDays, others) + "."
}

// heldWords says where want of water counts; nothing where it does not.
func (b *book) heldWords(f *forecast.Pile) (said []string) {
	m, pr := f.Moisture, &b.Data.Practice
	if m == nil {
		return nil
	}
	now := 100 * m.Now.P50
	switch {
	case !growing(f) && now < pr.FruitsFrom.Value:
		said = append(said, fmt.Sprintf("Its logs hold about %s water: too dry for a flush, which needs %.0f %%.", wetness(m.Now.P50), pr.FruitsFrom.Value))
	case growing(f) && now < pr.GrowsFrom.Value:
		said = append(said, fmt.Sprintf("Its logs hold about %s water: too dry to grow, which needs %.0f %%.", wetness(m.Now.P50), pr.GrowsFrom.Value))
	case growing(f) && now < pr.GrowsFully.Value:
		said = append(said, fmt.Sprintf("Its logs hold about %s water: dry enough to hold growth back, which is at its best from %.0f %%.", wetness(m.Now.P50), pr.GrowsFully.Value))
	}
	if m.Lost >= lostWorthWord {
		said = append(said, "The chance that its spawn was lost to drought is "+percent(m.Lost)+".")
	}
	return said
}

// throughWords is of logs that were through when they came.
func (b *book) throughWords(f *forecast.Pile) []string {
	if f.Kind != "bed" {
		return []string{"Its logs were run through when they came, so nothing has to grow: they wait only for their season."}
	}
	settle := "they settle in the soil"
	if r := b.Data.Practice.SettleMonths; r.High > 0 {
		settle += fmt.Sprintf(" for %s to %s months", whole0(r.Low), whole0(r.High))
	}
	return []string{fmt.Sprintf("Its logs were run through when they were buried (%s), so nothing has to grow: %s, and then wait for their season.",
		sinceShort(f.Since), settle)}
}

// harvestWords is of a pile that may fruit: what the next harvest waits for,
// in which months it is likely, and how much comes.
func (b *book) harvestWords(f *forecast.Pile, y *yard.Pile) []string {
	var said []string
	if y != nil {
		said = b.waitsFor(f, y)
	}
	said = append(said, monthsLikely(f)...)
	return append(said, b.yearsWords(f)...)
}

// waitsFor says what sets a flush off.
func (b *book) waitsFor(f *forecast.Pile, y *yard.Pile) []string {
	t := forecast.StrainOf(y, b.Data)
	if t == nil || t.Fruit.BandHigh.Value <= t.Fruit.BandLow.Value {
		return nil
	}
	fr := &t.Fruit
	s := fmt.Sprintf("It waits for a week in which its logs are between %s and %s on average",
		bare(b.units.mark(fr.BandLow.Value)), b.units.mark(fr.BandHigh.Value))
	switch fr.Trigger {
	case "rain":
		s += ", with " + b.units.rain(fr.RainMM.Value) + " of rain to set it off"
	case "cooling":
		s += ", with a drop of " + strings.Replace(b.units.apart(fr.CoolBy.Value), ".0 ", " ", 1) + " to set it off"
	}
	if fr.Season == "falling" {
		s += "; it comes only after the year's warmest weeks"
	}
	if fr.Once {
		s += "; it comes once a season"
	}
	if f.Picked && !fr.Once && fr.RestWeeks.High > 0 {
		s += fmt.Sprintf("; after a picking its logs rest %s to %s weeks of growing weather", whole0(fr.RestWeeks.Low), whole0(fr.RestWeeks.High))
	}
	if len(f.Months) > 0 && f.Months[0].Winter {
		s += "; now it is too cold to grow"
	}
	return []string{s + "."}
}

// monthsLikely are the likeliest months of the coming twelve: those at least
// half as likely as the best.
func monthsLikely(f *forecast.Pile) []string {
	ahead := slices.Clone(f.Months[:min(len(f.Months), 12)])
	slices.SortStableFunc(ahead, func(a, c forecast.Month) int { return cmp.Compare(c.HarvestChance, a.HarvestChance) })
	if len(ahead) == 0 || ahead[0].HarvestChance < leastShown {
		return nil
	}
	least := ahead[0].HarvestChance / 2
	ahead = slices.DeleteFunc(ahead, func(m forecast.Month) bool { return m.HarvestChance < least })
	ahead = ahead[:min(len(ahead), likelyMonths)]
	slices.SortFunc(ahead, func(a, c forecast.Month) int { return cmp.Compare(a.Month, c.Month) })
	var names []string
	for _, m := range ahead {
		names = append(names, fmt.Sprintf("%s (%s)", monthYear(m.Month), percent(m.HarvestChance)))
	}
	return []string{"Of the next twelve months a picking is most likely in " + listing(names) + "."}
}

// yearsWords is how much the rest of this year and the next should bring.
func (b *book) yearsWords(f *forecast.Pile) []string {
	var each []string
	for i, y := range f.YearsAhead[:min(len(f.YearsAhead), 2)] {
		if i == 0 && y.Fresh.P90 < worthSaying {
			continue
		}
		name := fmt.Sprint("in ", y.Year)
		if y.Year == b.today().Year() {
			name = fmt.Sprint("in the rest of ", y.Year)
		}
		if y.Fresh.P50 < worthSaying {
			each = append(each, fmt.Sprintf("%s most likely nothing to speak of (9 years in 10 under %s)", name, b.units.kg(y.Fresh.P90)))
			continue
		}
		each = append(each, fmt.Sprintf("%s about %s (%s)", name, b.units.kg(y.Fresh.P50), yearly(y.Fresh, b.units.kg)))
	}
	if len(each) == 0 {
		return nil
	}
	s := "It should bring, fresh: " + listing(each)
	if !f.LogsKnown {
		s += "; that is for one log, nobody having counted them"
	}
	if f.Yield.Unpublished {
		s += "; a wide guess, since " + f.Yield.Wide
	}
	return []string{s + "."}
}

// visitWords is the visit worth making next.
func (b *book) visitWords(f *forecast.Pile) string {
	switch {
	case f.Why == nil:
		return b.roundWords(f)
	case f.Why.Visit == nil:
		return "No look in the next four months would tell much."
	case f.Why.Visit.Round:
		return b.roundWords(f)
	}
	v := f.Why.Visit
	when := "about " + fullDay(v.On)
	if v.On <= b.today() {
		when = "now"
	}
	now, then := narrowed(v.NowDays, v.Then)
	return fmt.Sprintf("Worth a visit: look at %s %s; it would narrow the range from %s to about %s.",
		count(endsOf(f), "log end", "log ends"), when, now, then)
}

// endsOf is how many ends a visit looks at: no more than logs stand.
func endsOf(f *forecast.Pile) int {
	n := f.Why.Visit.Ends
	if f.LogsKnown && f.Logs > 0 {
		n = min(n, f.Logs)
	}
	return n
}

// narrowed writes two widths so that they can be told apart.
func narrowed(now, then int) (string, string) {
	const week, month = 7, 365.25 / 12
	write := func(per float64, one, many string) (string, string) {
		a, b := int(math.Round(float64(now)/per)), int(math.Round(float64(then)/per))
		return count(a, one, many), fmt.Sprint(b)
	}
	if now >= weekWords {
		if a, b := write(month, "month", "months"); b != "0" && !strings.HasPrefix(a, b+" ") {
			return a, b
		}
	}
	if a, b := write(week, "week", "weeks"); b != "0" && !strings.HasPrefix(a, b+" ") {
		return a, b
	}
	return count(now, "day", "days"), fmt.Sprint(then)
}

// roundWords is the round worth making next, for mushrooms.
func (b *book) roundWords(f *forecast.Pile) string {
	d := f.First.Dates
	likely := ""
	if d.P50 != 0 {
		likely = "; most likely something is up in " + monthYear(d.P50)
	}
	switch {
	case d.P10 == 0:
		return fmt.Sprintf("No round is worth making for it yet: the chance that anything comes before %s is %s.",
			monthYear(b.Result.Horizon), percent(f.First.Chance))
	case d.P10 <= b.fortnight():
		return "Worth a visit: go round for mushrooms from now on" + likely + "."
	}
	return "Worth a visit: go round for mushrooms from " + monthYear(d.P10) + " on" + likely + "."
}

// sinceShort writes the day on which something was.
func sinceShort(w yard.When) string {
	if !w.IsZero() && w.Exact() {
		return w.From.Time().Format("2 Jan 2006")
	}
	return sinceWords(w)
}
