package charts

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"hodaba/yard"
)

// The papers of a season, by the names under which they are printed.
const (
	PrintTally = "tally" // a sheet on which helpers keep count
	PrintTags  = "tags"  // a tag for each pile
)

// SeasonPaper renders a paper of what is planned and stands; what is
// PrintTally or PrintTags. The file stands alone, and the same input gives the
// same bytes.
func SeasonPaper(in Input, what string) (File, error) {
	b := newBook(in)
	p := paper{Hint: "Print on A4 or Letter at actual size (100 %), with the margins of the page."}
	switch what {
	case PrintTally:
		p.Title, p.Main = "Tally of the inoculation", b.tallySheet()
	case PrintTags:
		p.Title, p.Main = "Tags of the piles", b.tagSheet()
	default:
		return File{}, fmt.Errorf("no paper is called %q", what)
	}
	var out bytes.Buffer
	if err := papers[what].ExecuteTemplate(&out, "paper.html", p); err != nil {
		return File{}, fmt.Errorf("rendering the %s: %w", what, err)
	}
	return File{"print-" + what + ".html", out.Bytes()}, nil
}

// tallySheet is the sheet for helpers: a row for each pile, with boxes of so
// many logs to cross off.
type tallySheet struct {
	Maker    string
	Lines    []tallyLine
	Logs     int
	Takes    string
	InBox    int
	Blank    []int // rows for what nobody planned
	Cautions []string
	Evening  []string
}

type tallyLine struct {
	Pile, Code, What, How, Month string
	Logs                         int
	Boxes                        []tallyBox
}

// tallyBox is a box for logs: how many of them it stands for.
type tallyBox struct{ Logs int }

// How much of a sheet there is: rows left blank, commands, and boxes of a row.
const (
	blankTally   = 2
	eveningTally = 4
	mostTally    = 200 // boxes of a row
)

func (b *book) tallySheet() tallySheet {
	kept := b.Season
	b.Season = nil
	s := b.seasonBook(percent)
	b.Season = kept
	p := tallySheet{Maker: b.maker(), Blank: make([]int, blankTally), Cautions: s.cautious(), InBox: int(b.Data.Inoculating.Shop.TallyBox.Value)}
	codes := b.codesFor(s.open)
	for i, k := range s.open {
		l := tallyLine{Pile: cut(pileOr(k.Pile), mostName), Code: codes[i], What: cut(strings.Join(wordsOf(k.Species, k.Strain), ", "), mostName), Logs: k.Left,
			How: s.tallyHow(i, k), Month: whenPlanned(k)}
		left := k.Left
		for range min(mostTally, (left+max(p.InBox, 1)-1)/max(p.InBox, 1)) {
			n := min(max(p.InBox, 1), left)
			l.Boxes, left = append(l.Boxes, tallyBox{n}), left-n
		}
		p.Lines, p.Logs = append(p.Lines, l), p.Logs+k.Left
		if len(p.Evening) < eveningTally && k.Pile != "" {
			p.Evening = append(p.Evening, fmt.Sprintf("hodaba record inoculated %s logs=%d hours=%s", shell(Clean(k.Pile)), max(k.Left, 1), figure(max(1, s.hoursAt(i)))))
		}
	}
	a := &s.takes.Total
	p.Takes = strings.Join(wordsOf(countHoles(a.Holes), spawnTaken(s.spawnWords(*a)), amountOrBlank(a.WaxKG*1000, func(g float64) string { return s.units.g(g) + " of wax" }),
		amountOrBlank(a.Hours.Start(), func(h float64) string { return workHours(h) + " of work, felling counted in" })), ", ")
	return p
}

func spawnTaken(amount string) string {
	if amount == "" {
		return ""
	}
	return amount + " of spawn"
}

func countHoles(n int) string {
	if n <= 0 {
		return ""
	}
	return count(n, "hole", "holes")
}

func (s *seasonBook) hoursAt(i int) float64 {
	if i >= len(s.takes.Lines) {
		return 0
	}
	h := s.takes.Lines[i].All.Hours
	return h.Bench() + h.Stacking
}

// tallyHow is the wood, the spawn and the holes of a row.
func (s *seasonBook) tallyHow(i int, k *yard.Planning) string {
	holes := ""
	if i < len(s.takes.Lines) && s.takes.Lines[i].PerLog.Holes > 0 {
		holes = strconv.Itoa(s.takes.Lines[i].PerLog.Holes) + " holes a log"
	}
	method := k.Method
	if method == "holes" {
		method = ""
	}
	return cut(strings.Join(wordsOf(k.Wood, s.size(k.Diameter, k.Length), k.Spawn, method, holes), ", "), mostOf)
}

// whenPlanned is the month of a plan in words.
func whenPlanned(k *yard.Planning) string {
	switch {
	case k.Month.IsZero():
		return ""
	case k.Month.From == k.Month.From.MonthStart() && k.Month.To == k.Month.From.AddMonths(1)-1:
		return monthYear(k.Month.From)
	}
	return k.Month.String()
}
