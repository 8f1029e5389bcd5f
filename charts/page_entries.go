package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hodaba/yard"
)

// entriesFile is the page of the newest entries; older years have pages of
// their own where there are many.
const entriesFile = "entries.html"

// entriesOnPage is how many entries a page holds at most: about half a
// megabyte, which an old phone still scrolls.
const entriesOnPage = 1000

// lettersShown is how much of an entry or its note a page shows: some twenty
// lines; the rest stands in the journal.
const lettersShown = 2000

// clipped is a text cut to what a page shows.
func clipped(s string) string {
	if r := []rune(s); len(r) > lettersShown {
		return string(r[:lettersShown]) + "… (cut; all of it stands in the journal)"
	}
	return s
}

// entriesPage is the main part of a page of entries.
type entriesPage struct {
	Name   string
	Lead   string
	Pages  []link // all pages of entries, where there are several
	Months []entryMonth
}

// entryMonth holds what happened in a month, the newest first.
type entryMonth struct {
	Name, ID string
	Entries  []writtenLine
}

// writtenLine is an entry with the way to mend it.
type writtenLine struct {
	ID, Anchor string
	When       string
	Says, Note string
	By         string
	Where      string // line of the journal
	Gone       string // "corrected 3 May 2026 by AB"; "" while it counts
	Instead    mend   // the entry that replaced it
	Of         mend   // the entry that it replaces itself
	Voids      bool   // the other entry, and says nothing itself
	MendedBy   string // who put it right; By is who did the work
	Right      string // the command that corrects it; "" where it no longer counts
	Void       string // the command that voids it
}

// entryPart is the share of the entries that stands on one page.
type entryPart struct {
	year, nth int // nth page of the year, from 1; year 0: all years
	entries   []*yard.Entry
}

// entrySheets are the pages of what was written down.
func (b *book) entrySheets() []sheet {
	parts := b.written.parts
	gone := 0
	for _, e := range b.written.all {
		if e.Replaced != nil {
			gone++
		}
	}
	var sheets []sheet
	for i, p := range parts {
		page := entriesPage{Name: p.title(), Lead: entriesLead(len(b.written.all), gone), Months: b.entryMonths(p.entries)}
		if len(parts) > 1 {
			for k, other := range parts {
				page.Pages = append(page.Pages, link{Text: other.name(), Href: partFile(parts, k), Here: k == i})
			}
		}
		sheets = append(sheets, sheet{kind: "entries", file: partFile(parts, i), title: page.Name, main: page})
	}
	return sheets
}

func entriesLead(n, gone int) string {
	switch {
	case n == 0:
		return "Nothing is written down yet."
	case gone == 0:
		return count(n, "entry", "entries") + ", the newest first."
	}
	return count(n, "entry", "entries") + ", the newest first; " + strconv.Itoa(gone) + " of them no longer count, and stay readable."
}

func (p entryPart) title() string {
	if p.year == 0 {
		return "What was written down"
	}
	return "What was written down: " + p.name()
}

func (p entryPart) name() string {
	switch {
	case p.year == 0:
		return "all"
	case p.nth > 1:
		return fmt.Sprintf("%d, page %d", p.year, p.nth)
	}
	return strconv.Itoa(p.year)
}

// partFile is the file of a part; the first one is the page that all others
// lead to.
func partFile(parts []entryPart, i int) string {
	switch p := parts[i]; {
	case i == 0:
		return entriesFile
	case p.nth > 1:
		return fmt.Sprintf("entries-%d-%d.html", p.year, p.nth)
	default:
		return fmt.Sprintf("entries-%d.html", p.year)
	}
}

// written is where each entry stands on the pages.
type written struct {
	all   []*yard.Entry // the newest first
	parts []entryPart
	at    map[string]mend // by identifier
	fates fates           // what was corrected or voided
}

// mend leads to the entry that can be mended.
type mend struct {
	ID, Href string
	Was      []struck // what it stands in the place of
}

// idShown is how much of an identifier is written out where it is long.
const idShown = 80

// Name is the identifier as it is shown.
func (m mend) Name() string { return cut(m.ID, idShown) }

// writtenDown sorts the entries up to the day of the pages, shares them out
// over pages, and notes where each stands.
func (b *book) writtenDown() written {
	list := b.Written
	if list == nil {
		list = b.State.Entries
	}
	w := written{at: map[string]mend{}}
	for _, e := range list {
		if _, twice := w.at[e.ID]; !twice && (b.today() == 0 || e.Day().From <= b.today()) {
			w.at[e.ID] = mend{}
			w.all = append(w.all, e)
		}
	}
	slices.Reverse(w.all)
	slices.SortStableFunc(w.all, func(x, y *yard.Entry) int {
		return cmp.Or(cmp.Compare(monthKey(y), monthKey(x)), cmp.Compare(y.Day().To, x.Day().To))
	})
	w.parts = partsOfYears(w.all)
	for i, p := range w.parts {
		for _, e := range p.entries {
			w.at[e.ID] = mend{ID: e.ID, Href: partFile(w.parts, i) + "#" + anchor(e.ID)}
		}
	}
	w.fates = fatesOf(list, func(id string) bool { return w.at[id].ID != "" })
	return w
}

// partsOfYears cuts a list into pages: one, or where there are too many for
// that one for each year, or several.
func partsOfYears(all []*yard.Entry) []entryPart {
	if len(all) <= entriesOnPage {
		return []entryPart{{entries: all}}
	}
	var parts []entryPart
	for rest := all; len(rest) > 0; {
		year, n := yearKey(rest[0]), 1
		for n < len(rest) && n < entriesOnPage && yearKey(rest[n]) == year {
			n++
		}
		p := entryPart{year: year, nth: 1, entries: rest[:n]}
		if k := len(parts); k > 0 && parts[k-1].year == year {
			p.nth = parts[k-1].nth + 1
		}
		parts, rest = append(parts, p), rest[n:]
	}
	return parts
}

func yearKey(e *yard.Entry) int { return e.Day().To.Year() }

// monthKey orders months; what nobody knows the month of stands before the
// months of its year.
func monthKey(e *yard.Entry) int {
	const vague = 13
	from, to := e.Day().From, e.Day().To
	if from.Year() != to.Year() || from.Month() != to.Month() {
		return yearKey(e)*16 + vague
	}
	return yearKey(e)*16 + int(to.Month())
}

func (b *book) entryMonths(entries []*yard.Entry) (months []entryMonth) {
	last := 0
	for _, e := range entries {
		if key := monthKey(e); key != last {
			to := e.Day().To
			m := entryMonth{Name: monthYear(to), ID: fmt.Sprintf("month-%d-%d", to.Year(), to.Month())}
			switch {
			case to == 0:
				m = entryMonth{Name: "No day said", ID: "month-none"}
			case key%16 > 12:
				m = entryMonth{Name: fmt.Sprintf("%d, month not said", to.Year()), ID: fmt.Sprintf("month-%d", to.Year())}
			}
			months, last = append(months, m), key
		}
		m := &months[len(months)-1]
		m.Entries = append(m.Entries, b.writtenLine(e))
	}
	return months
}

func (b *book) writtenLine(e *yard.Entry) writtenLine {
	says, note, values := e.SaysApart()
	l := writtenLine{ID: cut(e.ID, idShown), Anchor: anchor(e.ID), When: sinceWords(e.Day()), Says: clipped(says), Note: clipped(note), By: clipped(e.By)}
	if e.Line > 0 {
		l.Where = "line " + strconv.Itoa(e.Line)
	}
	c, isCorrection := e.Event.(*yard.Corrected)
	if isCorrection {
		l.Of, l.Voids, l.MendedBy = b.mendID(c.Replaces), c.Right == nil, clipped(c.MendedBy)
		l.Says = strings.TrimPrefix(l.Says, "corrected "+c.Replaces+": ")
	}
	if e.Replaced != nil {
		l.Gone, l.Instead = goneFully(e), b.mendOf(e.Replaced)
		return l
	}
	correct := "hodaba correct " + shell(Clean(e.ID))
	if !isCorrection || !c.Void {
		l.Right = correct + mainKeys(e.Kind, values)
	}
	l.Void = correct + " void=true"
	return l
}

// goneWords say when an entry was replaced, and by whom where that is known:
// "corrected 3 May 2026 by AB"; who is "" where it is not. A correction carries the initials of who did
// the work; those of another were meant for who corrected it.
func goneWords(e *yard.Entry) (says, who string) {
	by := e.Replaced
	says = "corrected"
	c, ok := by.Event.(*yard.Corrected)
	switch {
	case ok && c.Void:
		says, who = "voided", cmp.Or(c.MendedBy, by.By)
	case ok && c.MendedBy != "":
		who = c.MendedBy
	case by.By != e.By:
		who = by.By
	}
	if d := by.Written.Day(); d != 0 {
		says += " " + fullDay(d)
	}
	if who != "" {
		says += " by " + cut(who, idShown)
	}
	return says, who
}

// mainShown and mainLetters bound the command that corrects an entry: what is
// longer is changed by its key alone.
const (
	mainShown   = 6
	mainLetters = 60
)

// mainKeys are the day and an entry's own keys with what stands there, as
// `correct` takes them.
func mainKeys(kind string, values map[string]string) string {
	if kind == "corrected" {
		kind = values["kind"]
	}
	var b strings.Builder
	n := 0
	add := func(name string) {
		if v := values[name]; v != "" && len(v) <= mainLetters && n < mainShown {
			b.WriteString(" " + name + "=" + shell(Clean(v)))
			n++
		}
	}
	add("on")
	for _, k := range yard.KeysOf(kind) {
		if !k.Common {
			add(k.Name)
		}
	}
	if n == 0 {
		return " on=2026-04-12"
	}
	return b.String()
}

// mendOf is the way to an entry; without one where it stands on no page.
func (b *book) mendOf(e *yard.Entry) mend { return b.mendID(entryID(e)) }

func (b *book) mendID(id string) mend {
	m := b.written.at[id]
	if m.ID != "" {
		m.Was = b.struckBy(id)
	}
	return m
}

// anchorLetters is the length up to which an identifier names its own place
// on a page.
const anchorLetters = 60

// anchor is an identifier as the name of a place on a page: itself, if it is
// of the form that the program writes, else its bytes in a form that can
// neither be mistaken for one nor for a name that the page uses itself.
func anchor(id string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-'
	}
	if strings.ContainsAny(id, "0123456789") && len(id) <= anchorLetters && !strings.HasPrefix(id, "month-") &&
		!strings.ContainsFunc(id, func(r rune) bool { return !plain(r) }) {
		return id
	}
	if len(id) > anchorLetters {
		return fmt.Sprintf("entry_%s_%d", shortHash(id), len(id))
	}
	return fmt.Sprintf("entry_%x", id)
}
