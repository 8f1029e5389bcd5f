package charts

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

// pastWeeks is how far back the tank book tells of soaks.
const pastWeeks = 26

// colourOf is the colour of the tag of a part; "" for what is no part. The
// letter always stands beside.
func colourOf(part string) string {
	n, ok := yard.PartNumber(part)
	if !ok {
		return ""
	}
	return yard.PartColour(n)
}

// tagOf is a part with its colour: "A red"; "" for a whole pile.
func tagOf(part string) string { return strings.TrimSpace(part + " " + colourOf(part)) }

// partOf is a pile or a part of it: "oak-north A red".
func partOf(pile, part string) string { return strings.TrimSpace(pile + " " + tagOf(part)) }

// partSaid is partOf for a sentence: "oak-north (part A, red)".
func partSaid(pile, part string) string {
	switch colour := colourOf(part); {
	case part == "":
		return pile
	case colour == "":
		return pile + " (part " + part + ")"
	default:
		return pile + " (part " + part + ", " + colour + ")"
	}
}

// weekShort is "W20".
func weekShort(d yard.Date) string {
	_, w := d.Week()
	return "W" + strconv.Itoa(w)
}

// bookLine is a ruled line of the tank book: a load, or weeks in which
// nothing goes in.
type bookLine struct {
	First, Last yard.Date // Mondays
	Load        *forecast.Load
	Why         string // why nothing goes in
	outOfSeason bool
}

// Weeks names the weeks of a line.
func (l bookLine) Weeks() string {
	if l.First == l.Last {
		return weekShort(l.First)
	}
	return weekShort(l.First) + "–" + weekShort(l.Last)
}

// bookLines are the loads ahead with the empty weeks between them folded, to
// the end of the season and the first load of the next; more is the number of
// loads beyond.
func (b *book) bookLines() (lines []bookLine, more int) {
	all := foldLoads(b.Result.Loads)
	end, longest := len(all), 0
	for i, l := range all {
		if weeks := int(l.Last-l.First)/7 + 1; l.outOfSeason && i > 0 && weeks > longest {
			end, longest = i, weeks
		}
	}
	for i, l := range all {
		if i > end+1 {
			if l.Load != nil {
				more++
			}
			continue
		}
		lines = append(lines, l)
	}
	return lines, more
}

func foldLoads(loads []forecast.Load) (lines []bookLine) {
	for i := range loads {
		l := &loads[i]
		if l.Skipped == "" {
			lines = append(lines, bookLine{First: l.Week, Last: l.Week, Load: l})
			continue
		}
		out := forecast.OutOfSeason(l.Skipped)
		n := len(lines) - 1
		if n < 0 || lines[n].Load != nil {
			lines = append(lines, bookLine{First: l.Week, Last: l.Week, Why: l.Skipped, outOfSeason: out})
			continue
		}
		at := &lines[n]
		at.Last, at.outOfSeason = l.Week, at.outOfSeason || out
		if !slices.Contains(strings.Split(at.Why, "; then "), l.Skipped) {
			at.Why += "; then " + l.Skipped
		}
	}
	return lines
}

// firstLoad is the next load, or nil.
func (b *book) firstLoad() *forecast.Load {
	for i := range b.Result.Loads {
		if b.Result.Loads[i].Skipped == "" {
			return &b.Result.Loads[i]
		}
	}
	return nil
}

// soakLead is the sentence over the tank book.
func (b *book) soakLead() string {
	l := b.firstLoad()
	switch {
	case b.State.Config.Soak.TankLogs <= 0:
		return "Nobody has said how many logs the tank holds, so no tank book is drawn up yet."
	case l == nil && len(b.Result.Loads) == 0:
		return "No pile stands whose strain a soak can force, so nothing goes into the tank."
	case l == nil:
		return "Nothing goes into the tank in the year ahead: " + b.Result.Loads[0].Skipped + "."
	}
	said := "Next into the tank " + b.on(l.In) + ": " + b.loadWords(l) + "; " + b.bringsWords(l) + "."
	if last := b.lastSafeWords(); last != "" {
		said += " " + last
	}
	return said
}

// loadWords lists what goes in: "14 logs of oak-top (part A, red)".
func (b *book) loadWords(l *forecast.Load) string {
	var parts []string
	for _, p := range l.Parts {
		n := "logs" // nobody said how many
		if p.Logs > 0 {
			n = count(p.Logs, "log", "logs")
		}
		parts = append(parts, n+" of "+partSaid(p.Pile, p.Part))
	}
	return some(parts, namesInLine)
}

// bringsWords says what a load should bring.
func (b *book) bringsWords(l *forecast.Load) string {
	if l.Fresh.P90 <= 0 {
		return "hardly anything is to be expected of it"
	}
	s := "it should bring about " + b.units.kg(l.Fresh.P50) + ", " + mostly("times", b.units.kg(l.Fresh.P10), b.units.kg(l.Fresh.P90))
	if l.PickFrom != 0 {
		s += ", mostly picked " + spanWords(l.PickFrom, l.PickTo)
	}
	return s
}

// spanWords is "from 18 to 24 May".
func spanWords(from, to yard.Date) string {
	if from == to {
		return "on " + dayMonth(from)
	}
	a := from.Time().Format("2 January")
	if from.MonthStart() == to.MonthStart() {
		a = from.Time().Format("2")
	}
	return "from " + a + " to " + to.Time().Format("2 January")
}

// pickSpan is the same as short as it goes: "18–24 May".
func pickSpan(from, to yard.Date) string {
	switch {
	case from == 0:
		return ""
	case from == to:
		return from.Time().Format("2 Jan")
	case from.MonthStart() == to.MonthStart():
		return from.Time().Format("2") + "–" + to.Time().Format("2 Jan")
	}
	return from.Time().Format("2 Jan") + "–" + to.Time().Format("2 Jan")
}

// pastSoaks are those of the last half-year.
func (b *book) pastSoaks() []forecast.PastSoak {
	return forecast.PastSoaks(b.State, b.Data, b.today()-7*pastWeeks)
}

// got says what came of a soak, as far as the record goes.
func (b *book) got(s *forecast.PastSoak) string {
	switch {
	case len(s.Picks) > 0:
		return b.gotPicks(s)
	case s.Blank != 0:
		return "blank: nothing was up on " + s.Blank.Time().Format("2 January")
	case s.Later:
		return "what was picked since counts for a later soak"
	case float64(b.today()-s.In) < b.Data.Practice.SoakAsk.Value:
		return "too soon to tell"
	}
	return "nothing written down: did anything come?"
}

// gotPicks says what was picked: of a basket from several piles nobody knows
// what came from which.
func (b *book) gotPicks(s *forecast.PastSoak) string {
	kg, unweighed := 0.0, 0
	var with []string
	for _, k := range s.Picks {
		if !k.Weighed {
			unweighed++
		}
		kg += k.Fresh.Mid()
		for _, name := range k.Piles {
			if name != s.Pile.Name && !slices.Contains(with, name) {
				with = append(with, name)
			}
		}
	}
	last := s.Picks[len(s.Picks)-1].On.Mid().Time().Format("2 January")
	text := b.units.kg(kg)
	switch n := len(s.Picks); {
	case n == unweighed:
		text = "picked, not weighed,"
	case unweighed > 0:
		text += " and some not weighed"
	}
	if len(s.Picks) == 1 {
		text += " on " + last
	} else {
		text += " by " + last + ", " + strconv.Itoa(len(s.Picks)) + " pickings"
	}
	if len(with) > 0 {
		text += ", in a basket with " + some(with, namesInLine)
	}
	return text
}

// gotKey says how pickings are set against soaks.
func (b *book) gotKey() string {
	return fmt.Sprintf("A picking is set against that soak of its pile whose flush was due nearest to it by the air since, at most %.0f days after it; part= says which part bore, where somebody knows.",
		b.Data.Practice.SoakAnswer.Value)
}

// parting is how a pile is divided for the tank.
type parting struct {
	pile  string
	parts []forecast.LoadPart // each once, by letter
}

// partings are the piles of the tank book that go in in parts.
func (b *book) partings() (all []parting) {
	for _, l := range b.Result.Loads {
		for _, p := range l.Parts {
			if p.Of < 2 {
				continue
			}
			i := slices.IndexFunc(all, func(g parting) bool { return g.pile == p.Pile })
			if i < 0 {
				all, i = append(all, parting{pile: p.Pile}), len(all)
			}
			if !slices.ContainsFunc(all[i].parts, func(o forecast.LoadPart) bool { return o.Part == p.Part }) {
				all[i].parts = append(all[i].parts, p)
			}
		}
	}
	for _, g := range all {
		slices.SortFunc(g.parts, func(a, c forecast.LoadPart) int { return strings.Compare(a.Part, c.Part) })
	}
	return all
}

// words lists the parts of a pile with their tags.
func (g parting) words() string { return g.pile + ": " + g.tags() }

func (g parting) tags() string {
	var each []string
	for _, p := range g.parts {
		each = append(each, fmt.Sprintf("%s %d", tagOf(p.Part), p.Logs))
	}
	return strings.Join(each, ", ") + " logs"
}

// even reports whether the parts are alike.
func (g parting) even() bool {
	return !slices.ContainsFunc(g.parts, func(p forecast.LoadPart) bool { return p.Logs != g.parts[0].Logs })
}

// short writes a number with at most one decimal, and none where it is whole.
func short(x float64) string { return strconv.FormatFloat(math.Round(10*x)/10, 'f', -1, 64) }

// soakCautions stand under the tank book.
var soakCautions = []string{
	"Wet logs are heavy: lift with two, keep fingers clear, and keep children away from the open tank.",
	"In cold water hands go numb before one notices.",
}

// guessedSoaks says what of a load's kilograms nobody has published.
const guessedSoaks = "How many of the rested logs answer a soak is our own judgement: nobody has published it."
