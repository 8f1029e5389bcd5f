package charts

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Season answers what to inoculate next, from the plan in Input.Season: first
// whether it meets what is wanted, then the plan and what it takes, then how
// sure it is and what would change it.
func (t Terminal) Season(in Input) string {
	s := newBook(in).seasonBook(inTen)
	if s.plan == nil {
		return t.write(wrap("", "", nothingWanted))
	}
	parts := []string{paragraphs(s.lead())}
	if said := s.already(); said != "" {
		parts = append(parts, wrap("", "", said))
	}
	parts = append(parts, t.seasonLines(s), t.seasonMeets(s), t.seasonMonths(s), t.seasonShopping(s), t.seasonIfs(s), t.seasonSways(s))
	if more := s.renewal(); len(more) > 0 {
		parts = append(parts, sentences("For ever", more))
	}
	parts = append(parts, sentences("How sure", append(s.assumed(), s.trust()...)))
	if len(s.plan.Lines) > 0 {
		parts = append(parts, wrap("", "", strings.Join(s.cautious(), " ")))
	}
	return t.write(parts...)
}

// already says that a plan of the same season was written down before.
func (s *seasonBook) already() string {
	n := 0
	for _, k := range s.open {
		if !k.Month.IsZero() && k.Month.From.Year() == s.plan.Year {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("Written down already for %d: %s. They do not stand yet, so this answer does not count on them: it is a new one, not what is left of that.",
		s.plan.Year, count(n, "pile", "piles"))
}

// SeasonAccept says how the plan is written down.
const SeasonAccept = "Take it up: ask the same with --accept. Then hodaba print tally.\n"

func (t Terminal) seasonLines(s *seasonBook) string {
	if len(s.plan.Lines) == 0 {
		return ""
	}
	var rows [][]string
	for i := range s.plan.Lines {
		l := &s.plan.Lines[i]
		if l.Kind == "buy" {
			rows = append(rows, []string{"(buy)", "dried " + l.Species, "", "", t.grams(l.BuyG), strconv.Itoa(l.Month.Year()), "", moneyFigure(l.Cost)})
			continue
		}
		spawn := l.Spawn
		if l.Kind == "bed" {
			spawn = "bed"
		} else if l.Method == "totem" || l.Method == "wedge" {
			spawn = l.Method
		}
		strain := l.Strain
		if strain == "" {
			strain = l.Species
		}
		rows = append(rows, []string{l.Pile, strain, l.Wood, spawn, strconv.Itoa(l.Logs), l.Month.Time().Format("Jan"), shortMonth(l.First.P50), moneyFigure(l.Cost)})
	}
	return fmt.Sprintf("The plan of %d\n", s.plan.Year) + table([]column{{head: "pile", most: 16}, {head: "strain", most: 13}, {head: "wood", most: 12}, {head: "spawn", most: 8},
		{head: "logs", right: true}, {head: "in"}, {head: "picked"}, {head: "costs", right: true}}, rows)
}

func (t Terminal) seasonMeets(s *seasonBook) string {
	g := s.meetGrid()
	if g == nil {
		return ""
	}
	return "What is wanted, and how likely it is\n" + table([]column{{head: "wanted", most: 37}, {head: "asked", right: true}, {head: "planned", right: true},
		{head: "as it is", right: true}, {head: "1/5 less", right: true}}, g.Rows) +
		wrap("", "", "As it is: with nothing inoculated. 1/5 less: if every log bears a fifth less than believed.")
}

func (t Terminal) seasonMonths(s *seasonBook) string {
	var rows [][]string
	for _, m := range s.months() {
		room, logs, holes := "", "", ""
		if !math.IsNaN(m.room) {
			room = figure(m.room)
		}
		if m.logs > 0 {
			logs, holes = strconv.Itoa(m.logs), countOrBlank(m.holes)
		}
		rows = append(rows, []string{m.month.Time().Format("Jan 2006"), logs, holes, amountOrBlank(m.spawnKG, t.fresh), countOrBlank(int(math.Ceil(m.pieces - hair))),
			hoursOr(m.felling), hoursOr(m.inoculating), hoursOr(m.tank), room})
	}
	if len(rows) == 0 {
		return ""
	}
	text := "What it takes by month: spawn, and hours\n" + table([]column{{head: "month"}, {head: "logs", right: true}, {head: "holes", right: true},
		{head: "spawn " + t.heavy(), right: true}, {head: "plugs", right: true}, {head: "felling", right: true}, {head: "inoculating", right: true},
		{head: "tank", right: true}, {head: "there are", right: true}}, rows)
	for _, c := range s.collisions() {
		text += wrap("", "", c)
	}
	return text
}

func (t Terminal) seasonShopping(s *seasonBook) string {
	g := s.shoppingGrid()
	if g == nil {
		return ""
	}
	rows := make([][]string, len(g.Rows))
	for i, r := range g.Rows {
		x := s.buying()[i]
		by := ""
		if x.OrderBy != 0 {
			by = x.OrderBy.String()
		}
		amount := r[2]
		if r[3] != "" {
			amount += " (" + r[3] + ")"
		}
		rows[i] = []string{by, r[1], amount}
	}
	return "Shopping list\n" + table([]column{{head: "order by"}, {head: "what", most: 38}, {head: "how much", most: 28}}, rows)
}

func (t Terminal) seasonIfs(s *seasonBook) string {
	g := s.ifGrid()
	if g == nil {
		return ""
	}
	var said []string
	for _, r := range g.Rows {
		text := r[0] + ": all of it " + r[1]
		if len(s.plan.Meets) > 1 {
			text += "; weakest " + r[2] + ", " + r[3]
		}
		said = append(said, text+".")
	}
	return sentences("If things go otherwise", said)
}

func (t Terminal) seasonSways(s *seasonBook) string {
	g := s.swayGrid()
	if g == nil {
		return ""
	}
	var b strings.Builder
	b.WriteString("One log more, or ten fewer (or all)\n")
	for _, r := range g.Rows {
		if r[2] == r[4] {
			b.WriteString(wrap(Clean(r[0])+": ", "  ", fmt.Sprintf("one more %s, ten fewer %s; %s either way.", r[1], r[3], r[2])))
			continue
		}
		b.WriteString(wrap(Clean(r[0])+": ", "  ", fmt.Sprintf("one log more %s and %s; ten fewer %s and %s.", r[1], swayed("does most for ", r[2]), r[3], swayed("harm most ", r[4]))))
	}
	return b.String()
}

// SeasonAccepted says which entries a plan was written down in. What was left
// out of it is named.
func (t Terminal) SeasonAccepted(year int, entries, piles []string, left []string) string {
	var b strings.Builder
	if len(entries) == 0 {
		for _, l := range left {
			b.WriteString(wrap("", "", l))
		}
		return t.write(b.String())
	}
	b.WriteString(wrap("", "", fmt.Sprintf("The plan of %d is written down: %s in the journal.", year, count(len(entries), "entry", "entries"))))
	for i := range entries {
		b.WriteString(wrap("  "+entries[i]+"  ", "    ", piles[i]))
	}
	for _, l := range left {
		b.WriteString(wrap("", "", l))
	}
	b.WriteString(wrap("", "", fmt.Sprintf("Done? Record it as it is done: hodaba record inoculated %s. Changed your mind? hodaba next-season --year %d --take-back", namedPile(piles), year)))
	return t.write(b.String())
}

func namedPile(piles []string) string {
	if len(piles) == 0 {
		return "PILE"
	}
	name, _, _ := strings.Cut(piles[0], ":")
	return shell(name)
}

// swayed says what a change does most for or to; "" is nothing that shows.
func swayed(says, what string) string {
	if what == "" {
		return "nothing changes that shows"
	}
	return says + what
}
