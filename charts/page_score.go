package charts

import (
	"fmt"
	"math"

	"hodaba/forecast/score"
	"hodaba/yard"
)

// scoreFile is the page that says how right we were.
const scoreFile = "score.html"

// scorePage is the main part of the page that says how right we were.
type scorePage struct {
	Lead   []string
	Kinds  []scoreKind
	Where  *drawing
	Tables []grid
	Trust  []string
}

// scoreKind is all that was seen of one kind.
type scoreKind struct {
	ID, Name string
	Said     []string
	Drawing  *drawing
}

func (b *book) scoreSheet() sheet {
	w := scoreWords{b.Score, b.units}
	p := scorePage{Lead: w.lead(), Trust: w.trust()}
	s := sheet{kind: "score", file: scoreFile, title: "How right were we", main: &p}
	if w.nothing() {
		return s
	}
	for i, k := range score.Kinds {
		sum := b.Score.SumOf(score.Of(k), nil)
		if sum.Outcomes == 0 {
			continue
		}
		said := w.kind(k, sum)
		p.Kinds = append(p.Kinds, scoreKind{ID: fmt.Sprintf("k%d", i+1), Name: kindNames[k], Said: said[1:], Drawing: b.saidAgainst(k, said[0])})
	}
	p.Where = b.whereTheyFell()
	p.Tables = []grid{w.all(), w.leads()}
	if g := w.groups(); len(g.Rows) > 0 {
		p.Tables = append(p.Tables, g)
	}
	for _, k := range p.Kinds {
		s.charts = append(s.charts, *k.Drawing)
	}
	s.charts = append(s.charts, *p.Where)
	return s
}

// kindNames are the headings of the kinds of outcome.
var kindNames = map[score.Kind]string{
	score.FirstHarvest: "First harvests", score.Look: "Looks at log ends", score.Kilograms: "Kilograms in a year",
}

// scoreWords puts a report into sentences and tables, for pages and terminal.
type scoreWords struct {
	*score.Report
	units units
}

// nothing reports whether nothing could be scored.
func (w scoreWords) nothing() bool { return w.Report == nil || len(w.Outcomes) == 0 }

// lead is the first sentences: whether it can be judged, how often the range
// held, and how far off we were.
func (w scoreWords) lead() []string {
	if w.nothing() {
		return []string{"Nothing that was forecast has come yet, so there is nothing to judge. What counts are looks at log ends, first harvests and kilograms weighed, written down; rounds on which nothing was up count as much."}
	}
	sum := w.SumOf(nil, nil)
	said := []string{fmt.Sprintf("Of %s that we forecast and that have come since, %s fell into the range that we said 8 times in 10%s.",
		count(sum.Outcomes, "thing", "things"), hits(sum), judged(sum))}
	for _, k := range score.Kinds {
		if s := w.SumOf(score.Of(k), nil); k == score.FirstHarvest && s.Outcomes > 0 {
			said = append(said, fmt.Sprintf("Of first harvests we were %s off on average; the trade's rule of thumb would have been %s off, and thermal time on monthly normals %s: %s.",
				w.off(k, s.Ours), w.off(k, s.Rule), w.off(k, s.Normals), verdicts(s)))
		}
	}
	return said
}

// hits is how many outcomes the range held, to the nearest whole one.
func hits(s *score.Sum) string { return fmt.Sprintf("%.0f", s.Hits) }

// judged says what the hits mean, or that they are too few to mean anything.
func judged(s *score.Sum) string {
	n := fmt.Sprintf("; %d to %d of %d would be as it should be", s.HitsLow, s.HitsHigh, s.Outcomes)
	switch {
	case !s.Judged():
		return ": too few to judge"
	case math.Round(s.Hits) < float64(s.HitsLow):
		return n + ", so our ranges are too narrow"
	case math.Round(s.Hits) > float64(s.HitsHigh):
		return n + ", so our ranges are wider than they need be"
	}
	return n + ", so our ranges are about right"
}

// verdicts says how we stand against the two simple forecasters.
func verdicts(s *score.Sum) string {
	if s.AgainstRule == score.TooFew && s.AgainstNormals == score.TooFew {
		return fmt.Sprintf("%s, too few to judge who is better", count(s.Outcomes, "harvest", "harvests"))
	}
	return "we are " + against1(s.AgainstRule, "the rule of thumb") + ", and " + against1(s.AgainstNormals, "thermal time")
}

func against1(v score.Verdict, whom string) string {
	switch v {
	case score.Better:
		return "better than " + whom
	case score.Worse:
		return "worse than " + whom
	case score.Alike:
		return "no clearly better or worse than " + whom
	}
	return "not to be compared yet with " + whom
}

// off writes a mean score in the words of its kind.
func (w scoreWords) off(k score.Kind, x float64) string {
	switch {
	case math.IsNaN(x):
		return "–"
	case k == score.FirstHarvest:
		return figure(x) + " days"
	case k == score.Look:
		return decimal1(10*x) + " of 10"
	}
	return w.units.kg(x)
}

// kind is what is said of the outcomes of a kind: how often the range held,
// and how far off we were.
func (w scoreWords) kind(k score.Kind, s *score.Sum) []string {
	held := fmt.Sprintf("%s of %d fell into the range that we said 8 times in 10%s.", capital(hits(s)), s.Outcomes, judged(s))
	switch k {
	case score.FirstHarvest:
		out := []string{held}
		if n := w.open(); n > 0 {
			out = append(out, fmt.Sprintf("%s of them had not come when the pile was last visited; it is only known that they did not come earlier.", capital(fmt.Sprint(n))))
		}
		return append(out, "A first harvest is known only to lie between the last visit on which nothing was up and the first picking. Where such visits are not written down, to say too early costs nothing: write them down with hodaba record walked.")
	case score.Look:
		return []string{held, fmt.Sprintf("In ten log ends we were %s off on average, the rule of thumb %s and thermal time on normals %s.",
			decimal1(10*s.Ours), decimal1(10*s.Rule), decimal1(10*s.Normals))}
	}
	out := []string{held, fmt.Sprintf("For a pile's year we were %s off on average, thermal time on normals %s; the trade has no rule of thumb for it.",
		w.units.kg(s.Ours), w.units.kg(s.Normals))}
	if s.SomeOutcomes > 0 {
		some := fmt.Sprintf("In %d of these years something was picked, and given that something was, we were %s off", s.SomeOutcomes, w.units.kg(s.Some))
		if none := s.Outcomes - s.SomeOutcomes; none > 0 {
			some += fmt.Sprintf("; in %d of them nothing was", none)
		}
		out = append(out, some+".")
	}
	return append(out, "Years with a basket from several piles are left out, since nobody knows what came from which; a year without harvest counts only where somebody went round in several weeks of it.")
}

// open is the number of first harvests that had not come.
func (w scoreWords) open() (n int) {
	for i := range w.Outcomes {
		if w.Outcomes[i].Open() {
			n++
		}
	}
	return n
}

// trust is what must be known to read the numbers.
func (w scoreWords) trust() []string {
	if w.nothing() {
		return nil
	}
	when := "on " + fullDay(w.Replays[0])
	if n := len(w.Replays); n > 1 {
		when = fmt.Sprintf("on %d days from %s to %s", n, fullDay(w.Replays[0]), fullDay(w.Replays[n-1]))
	}
	said := []string{
		fmt.Sprintf("Each forecast was made again with only what was written down by then, %s, each from %d possible courses; what came counts once, however often it was forecast.", when, w.Draws),
		fmt.Sprintf("With fewer than %d outcomes nobody can tell a range that holds 8 times in 10 from one that holds 6 or 7 times, so nothing is judged.", score.FewOutcomes),
		"The rule of thumb takes any day of the trade's window, 12 to 18 months for most shiitake, as likely as another. Thermal time adds up the warmth of a mean year until half of the logs are through, and then waits for the season.",
		"Nobody sees the day on which a pile is run through, so that is not scored.",
	}
	if n := w.Odd(); n > 0 {
		said = append(said, fmt.Sprintf("For %s of %d a mean year here is far from that of the place where the rule of thumb comes from, so to beat it is easy there; thermal time on normals is the fairer match.", fmt.Sprint(n), len(w.Outcomes)))
	}
	return said
}

// all is the table of means by kind.
func (w scoreWords) all() grid {
	g := grid{Caption: "How far off on average, and how often the range held", Words: 1,
		Head: []string{"What came", "How many", "We", "Rule of thumb", "Thermal time on normals", "Held, said 8 times in 10", "Would be right"}}
	for _, k := range score.Kinds {
		if s := w.SumOf(score.Of(k), nil); s.Outcomes > 0 {
			g.add(kindNames[k], fmt.Sprint(s.Outcomes), w.off(k, s.Ours), w.off(k, s.Rule), w.off(k, s.Normals),
				hits(s)+" of "+fmt.Sprint(s.Outcomes), rightRange(s))
		}
	}
	return g
}

// rightRange is how many hits would be right, or that they are too few.
func rightRange(s *score.Sum) string {
	if !s.Judged() {
		return string(score.TooFew)
	}
	return fmt.Sprintf("%d to %d", s.HitsLow, s.HitsHigh)
}

// bandWords say how long before a thing came it was forecast.
var bandWords = []string{"up to 3 months", "3 to 6 months", "6 to 12 months", "12 to 18 months"}

// leads is the table by how long before a forecast was made.
func (w scoreWords) leads() grid {
	g := grid{Caption: "How far off, by how long before it was said", Words: 2,
		Head: []string{"What came", "Said before", "How many", "We", "Rule of thumb", "Thermal time on normals"}}
	for _, k := range score.Kinds {
		for i, band := range score.Bands {
			if s := w.SumOf(score.Of(k), band.Holds); s.Outcomes > 0 {
				g.add(kindNames[k], bandWords[i], fmt.Sprint(s.Outcomes), w.off(k, s.Ours), w.off(k, s.Rule), w.off(k, s.Normals))
			}
		}
	}
	return g
}

// groups is the table by season, and by climate where there are several.
func (w scoreWords) groups() grid {
	g := grid{Caption: "How far off, by the season in which it came and by climate", Words: 2,
		Head: []string{"What came", "When or where", "How many", "We", "Rule of thumb", "Thermal time on normals", "Against the rule of thumb"}}
	for _, x := range w.Groups() {
		s := x.Sum
		g.add(kindNames[x.Kind], x.Name, fmt.Sprint(s.Outcomes), w.off(x.Kind, s.Ours), w.off(x.Kind, s.Rule), w.off(x.Kind, s.Normals), string(verdictOf(x.Kind, s)))
	}
	return g
}

// verdictOf is that against the rule of thumb; there is none for kilograms.
func verdictOf(k score.Kind, s *score.Sum) score.Verdict {
	if k == score.Kilograms && s.Judged() {
		return "–"
	}
	return s.AgainstRule
}

// outcomeWords say what came.
func (w scoreWords) outcome(o *score.Scored) string {
	switch {
	case o.Open():
		return "not before " + fullDay(o.From)
	case o.Kind == score.FirstHarvest && o.From < o.To:
		return "after " + fullDay(o.From-1) + ", by " + fullDay(o.To)
	case o.Kind == score.FirstHarvest:
		return "on " + fullDay(o.To)
	case o.Kind == score.Look:
		return fmt.Sprintf("%d of %d", o.With, o.LookedAt)
	case o.LowKG < o.HighKG:
		return w.units.kg(o.LowKG) + " to " + w.units.kg(o.HighKG)
	}
	return w.units.kg(o.LowKG)
}

// value writes one value that was said.
func (w scoreWords) value(o *score.Scored, x float64) string {
	switch {
	case math.IsNaN(x):
		return "beyond sight"
	case o.Kind == score.FirstHarvest:
		return monthYear(yard.Date(x))
	case o.Kind == score.Look:
		return fmt.Sprintf("%.0f", x)
	}
	return w.units.kg(x)
}

// fell says where an outcome fell.
func fell(o *score.Scored, f *score.Forecast) string {
	names := map[score.Kind][3]string{
		score.FirstHarvest: {"earlier", "in the range", "later"},
		score.Look:         {"fewer", "in the range", "more"},
		score.Kilograms:    {"less", "in the range", "more"},
	}
	return names[o.Kind][f.Fell()+1]
}
