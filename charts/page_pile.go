package charts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

// pilePage is the main part of the page of a pile.
type pilePage struct {
	Name, Code, Kind string
	Lead             string
	Work             []doorLine // what to do on this pile
	Facts            []fact
	Notes            []string
	Picks            strip // chance of a picking by month
	Through          strip // chance of being run through by month
	Share            *drawing
	Kilograms        *drawing
	RestsOn          []string // what the kilograms rest on
	Why              *whyWords
	WhySeen          string   // caption of what was seen
	Wet              []string // how wet its logs are
	Months           grid     // all numbers by month, under the boxes
	MonthsSaid       string
	Entries          []entryLine
	Older            string // how many entries more there are
	Cautions         []string
	Forecast         bool
	Grown            bool // it had to grow through, so there is a share to show
}

// fact is a line of what is known of a pile, with the way to the entry that
// says it alone.
type fact struct {
	Name, Value string
	Mend        mend
}

// entryLine is one entry of the journal, or what no longer counts alone.
type entryLine struct {
	When, Says, ID, Where string
	Mend                  mend
	Was                   []struck
}

func (b *book) pileSheet(p *yard.Pile) sheet {
	f := b.ahead[p.Name]
	page := pilePage{
		Name: p.Name, Code: p.Code, Kind: p.Kind, Lead: b.pileSaid(p), Facts: b.facts(p, f),
		Entries: b.entryLines(p), Forecast: f != nil, Cautions: b.pileCautions(p),
	}
	if n := len(p.Entries) - entriesOfPile; n > 0 {
		page.Older = count(n, "older entry", "older entries")
	}
	for _, w := range b.tasks {
		if w.Page == b.slugs[p.Name] {
			page.Work = append(page.Work, b.doorLine(w))
		}
	}
	s := sheet{kind: "pile", file: b.slugs[p.Name], title: capital(p.Name)}
	if f != nil {
		b.pileAhead(&page, p, f)
		for _, d := range []*drawing{page.Share, page.Kilograms} {
			if d != nil {
				s.charts = append(s.charts, *d)
			}
		}
	}
	s.main = page
	return s
}

// pileAhead fills in what the forecast says.
func (b *book) pileAhead(page *pilePage, p *yard.Pile, f *forecast.Pile) {
	page.Grown = f.Colonised != nil
	for _, n := range f.Notes {
		page.Notes = append(page.Notes, n.Text)
	}
	page.RestsOn = restsOn(f.Yield, b.units.kg)
	page.Picks = b.pickStrip(f)
	if page.Grown {
		if f.Colonised.ChanceNow <= sureThrough {
			page.Through = b.throughStrip(f)
		}
		page.Share = b.shareDrawing(p, f)
	}
	why := b.whyOf(f, p)
	page.Why, page.WhySeen = &why, seenCaption
	page.Wet = b.wetWords(f.Moisture)
	page.Months = b.pileMonths(f)
	page.Kilograms = b.pileKilograms(p, f)
}

func (b *book) pickStrip(f *forecast.Pile) strip {
	s := strip{Of: "chance of a picking", Fill: "pick"}
	best, at := 0.0, yard.Date(0)
	for i, m := range f.Months {
		s.add(m.Month, m.HarvestChance, m.Winter)
		if i < 12 && m.HarvestChance > best {
			best, at = m.HarvestChance, m.Month
		}
	}
	s.Said = "How likely it is that something is picked, month by month: in the next twelve not at all."
	if best > 0 {
		s.Said = fmt.Sprintf("How likely it is that something is picked, month by month: in the next twelve most of all in %s (%s).", monthYear(at), percent(best))
	}
	return s
}

// throughStrip ends with the year in which all but certainty is reached.
func (b *book) throughStrip(f *forecast.Pile) strip {
	s := strip{Of: "chance of being run through", Fill: "through",
		Said: "How likely it is that half of the logs are run through by the end of the month."}
	for _, m := range untilSettled(f.Months) {
		s.add(m.Month, m.ColonisedChance, m.Winter)
	}
	return s
}

// sureThrough is the chance from which a pile counts as run through for sure.
const sureThrough = 0.995

// untilSettled are the months to the end of the year in which it is all but
// certain that the pile is run through.
func untilSettled(months []forecast.Month) []forecast.Month {
	settled := 0
	for i, m := range months {
		if settled != 0 && m.Month.Year() > settled {
			return months[:i]
		}
		if m.ColonisedChance > sureThrough && settled == 0 {
			settled = m.Month.Year()
		}
	}
	return months
}

func (b *book) pileMonths(f *forecast.Pile) grid {
	g := grid{Caption: "The same numbers, month by month, with the kilograms",
		Head: []string{"Month", "Picking", "Fresh, on average", "9 times in 10 below"}}
	if f.Colonised != nil {
		g.Head = append(g.Head, "Half run through", "Logs through")
	}
	for _, m := range f.Months {
		name := monthYear(m.Month)
		if m.Winter {
			name += ", winter"
		}
		r := []string{name, percent(m.HarvestChance), b.units.kg(m.Fresh.Mean), b.units.kg(m.Fresh.P90)}
		if f.Colonised != nil {
			r = append(r, percent(m.ColonisedChance), percent(m.ShareThrough))
		}
		g.add(r...)
	}
	return g
}

// facts is what is known of a pile, as it was written.
func (b *book) facts(p *yard.Pile, f *forecast.Pile) []fact {
	list := []fact{{Name: "Species", Value: speciesWords(p.Species, p.Strain)}}
	add := func(name, value string) {
		if value != "" {
			list = append(list, fact{Name: name, Value: value})
		}
	}
	if p.Like != p.Species {
		add("Forecast as", p.Like)
	}
	list = append(list, fact{sinceName(p), sinceWords(p.Since), b.mendOf(first(p.Entries))})
	if !p.Arrived.IsZero() {
		list = append(list, fact{"Arrived", sinceWords(p.Arrived), b.mendOf(first(p.Entries))})
	}
	add("Logs", b.logWords(p))
	add("Log book", logBookWords(p))
	add("Wood", p.Wood)
	if p.Diameter.Known() {
		thick := b.units.cm(p.Diameter)
		if p.UnderBark {
			thick += " under the bark"
		}
		add("Thickness", thick)
	}
	if p.Length.Known() {
		add("Length", b.units.cm(p.Length))
	}
	if p.Depth.Known() {
		add("Soil over it", b.units.cm(p.Depth))
	}
	add("Spawn", p.Spawn)
	add("Spawn lot", p.SpawnLot)
	add("Place", p.Place)
	if f != nil && f.Colonised != nil {
		add("Growing days", fmt.Sprintf("%s so far; half of its logs need %s", figure(f.GrowingDays.P50),
			mostly("times", figure(f.NeedDays.P10), figure(f.NeedDays.P90))))
	}
	if f != nil && f.Yield.DryWoodKG.P50 > 0 {
		add("Dry wood of a log", between(f.Yield.DryWoodKG, b.units.kg))
	}
	return list
}

func sinceName(p *yard.Pile) string {
	if p.Origin == "buried" {
		return "Buried"
	}
	return "Inoculated"
}

func (b *book) logWords(p *yard.Pile) string {
	if !p.LogsKnown {
		return "nobody counted them"
	}
	s := strconv.Itoa(p.Logs)
	if p.Started > p.Logs {
		s += " of " + strconv.Itoa(p.Started) + " at the start"
	}
	return s
}

// logBookWords is the book of a pile's logs in one line: what came is what
// stands and what went; "" where none ever went or nobody counted them.
func logBookWords(p *yard.Pile) string {
	t := p.LogTerms()
	if !t.Known || t.Lost == 0 && t.Retired == 0 && t.MovedOut == 0 && t.Unexplained == 0 {
		return ""
	}
	s := count(t.Begun+t.Arrived+t.MovedIn, "log", "logs") + " in"
	if t.Unexplained > 0 {
		s += ", and " + strconv.Itoa(t.Unexplained) + " more counted than the book had"
	}
	each := []string{strconv.Itoa(t.Standing) + " standing"}
	for _, went := range []struct {
		logs int
		how  string
	}{{t.Lost, "lost"}, {t.Retired, "retired"}, {t.MovedOut, "moved to other piles"}, {-t.Unexplained, "missing when counted, unexplained"}} {
		if went.logs > 0 {
			each = append(each, strconv.Itoa(went.logs)+" "+went.how)
		}
	}
	return s + " = " + strings.Join(each, " + ")
}

// entriesOfPile is how many entries the page of a pile shows: some years of
// them.
const entriesOfPile = 100

// entryLines are the newest entries of a pile, newest first, and between them
// what named it and no longer counts.
func (b *book) entryLines(p *yard.Pile) []entryLine {
	shown := map[string]bool{}
	for _, e := range p.Entries {
		shown[e.ID] = true
	}
	alone := b.struckAlone(b.isOf(p), func(id string) bool { return shown[id] })
	alone = alone[max(0, len(alone)-entriesOfPile):]
	var lines []entryLine
	add := func(g *goneEntry) {
		lines = append(lines, entryLine{When: sinceWords(g.On), Was: []struck{b.alone(g)}})
	}
	for _, e := range slices.Backward(p.Entries[max(0, len(p.Entries)-entriesOfPile):]) {
		for ; len(alone) > 0 && alone[len(alone)-1].On.From > e.On.From; alone = alone[:len(alone)-1] {
			add(alone[len(alone)-1])
		}
		l := entryLine{When: sinceWords(e.On), Says: b.saysOf(e), ID: cut(e.ID, idShown), Mend: b.mendOf(e)}
		l.Was = l.Mend.Was
		if e.Line > 0 {
			l.Where = "line " + strconv.Itoa(e.Line)
		}
		lines = append(lines, l)
	}
	for _, g := range slices.Backward(alone) {
		add(g)
	}
	return lines
}

func (b *book) pileCautions(p *yard.Pile) []string {
	list := []string{eatSafely}
	if s, ok := b.Data.FindSpecies(p.Like); ok {
		if len(s.Look) > 0 {
			list = append(list, "Look-alikes of "+s.Name+": "+strings.TrimSuffix(strings.Join(s.Look, "; "),
				".")+".")
		}
		list = append(list, s.Cautions...)
	}
	return list
}
