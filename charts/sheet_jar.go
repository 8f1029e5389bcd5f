package charts

import (
	"fmt"
	"strconv"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// jarLabels are the labels of the jars of a batch, in pages.
type jarLabels struct{ Pages [][]jarLabel }

// jarLabel is the label of one jar.
type jarLabel struct {
	Lot, Recipe, Maker string
	Jar                string
	Goods              []string
	Spirit             string
	PutUp              string
	Boxes              []string // of the days of shaking
	More               string   // days beyond the boxes
	Strain             string   // the planned working day, else what the recipe says
	Between            string   // working days between which it may be strained
	Fit                string   // class by the length of the text
}

// The labels of a page: two columns of three fit A4 and Letter.
const (
	jarsOnPage = 6
	boxesInRow = 14
	mostBoxes  = 3 * boxesInRow
	mostJars   = 60 // that are printed in one go
	mostGoods  = 8  // lines of goods on a label
	roomyGoods = 6  // up to which the letters are large
)

func (b *book) jarLabels(t *yard.Batch) jarLabels {
	r := b.recipeOf(t)
	n := t.JarsPutUp()
	if n == 0 && r != nil {
		n = r.Jars
	}
	n = min(max(n, 1), mostJars)
	var all jarLabels
	for i := range n {
		if i%jarsOnPage == 0 {
			all.Pages = append(all.Pages, nil)
		}
		page := &all.Pages[len(all.Pages)-1]
		*page = append(*page, b.jarLabel(t, r, i+1, n))
	}
	return all
}

func (b *book) jarLabel(t *yard.Batch, r *yard.Recipe, jar, of int) jarLabel {
	l := jarLabel{Lot: cut(t.Lot, longestLot), Recipe: cut(t.Named(), 44), Maker: cut(b.maker(), 44), Jar: fmt.Sprintf("jar %d of %d", jar, of), PutUp: dayOrBlank(t.On)}
	for _, g := range b.goodsLines(t) {
		if g.What != "" {
			l.Goods = append(l.Goods, cut(g.What, 34)+b.inJar(t, r, g, of))
		}
	}
	if n := len(l.Goods) - mostGoods; n > 0 {
		l.Goods = append(l.Goods[:mostGoods], count(n, "thing", "things")+" more: see the record of the batch")
	}
	ml, abv := t.SpiritPutUpML()/float64(of), t.SpiritABV
	if t.On.IsZero() && r != nil {
		ml, abv = r.SpiritMLJar, r.SpiritABV
	}
	l.Spirit = "spirit"
	if ml > 0 {
		l.Spirit += " " + b.units.poured(ml)
	}
	if abv > 0 {
		l.Spirit += ", " + volumePercent(abv)
	}
	if t.SpiritLot != "" {
		l.Spirit += " (" + cut(t.SpiritLot, longestLot) + ")"
	}
	if r != nil {
		l.Boxes, l.More = boxes(t.On, r.ShakeDays)
		l.Strain = strainWords(t.On, r)
		if s, ok := b.standing(t); ok && s.Strain != 0 {
			l.planned(t, r, s)
		}
	}
	if len(l.Goods) > roomyGoods || len(l.Boxes) > boxesInRow || len([]rune(l.Lot)) > roomyLot {
		l.Fit = "tight"
	}
	return l
}

// planned puts the days of the calendar on a label: when it is strained, and
// until when it is shaken.
func (l *jarLabel) planned(t *yard.Batch, r *yard.Recipe, s tincture.Batch) {
	l.Strain = labelDay(s.Strain)
	if s.StrainFrom != 0 && s.StrainFrom < s.StrainTo {
		l.Between = labelDay(s.StrainFrom) + " and " + labelDay(s.StrainTo)
	}
	if t.On.Exact() && r.ShakeDays > 0 {
		l.Boxes, l.More = boxes(t.On, int(tincture.ShakeUntil(*r, t.On.From, s.Strain)-t.On.From))
	}
}

// labelDay is a day with its weekday, short.
func labelDay(d yard.Date) string { return d.Time().Format("Mon 2 Jan 2006") }

// inJar is what of a lot is in one jar: they are filled alike.
func (b *book) inJar(t *yard.Batch, r *yard.Recipe, g goodsLine, of int) string {
	for _, in := range t.WentIn() {
		if "dried "+Clean(in.Species) == g.What && Clean(in.Lot) == g.Lot {
			s := ", " + b.units.weighed(in.Grams/float64(of))
			if g.Lot != "" {
				s += " (" + cut(g.Lot, longestLot) + ")"
			}
			return s
		}
	}
	if r != nil && g.Wanted != "" {
		for _, in := range r.Ingredients {
			if g.What == "dried "+Clean(in.Species) {
				return ", " + b.units.weighed(in.GramsJar)
			}
		}
	}
	return ""
}

// boxes are the days of shaking, from the one after it was put up: by day of
// the month, or by number where the first day is vague. What does not fit is
// said in words.
func boxes(on yard.When, days int) (list []string, more string) {
	for i := range min(days, mostBoxes) {
		if on.Exact() && !on.IsZero() {
			list = append(list, strconv.Itoa((on.From + 1 + yard.Date(i)).Day()))
		} else {
			list = append(list, strconv.Itoa(i+1))
		}
	}
	if days > mostBoxes {
		more = fmt.Sprintf("and on to the %dth day", days)
		if on.Exact() && !on.IsZero() {
			more = "and daily until " + fullDay(on.From+yard.Date(days))
		}
	}
	return list, more
}

// strainWords say when the recipe has the jar strained.
func strainWords(on yard.When, r *yard.Recipe) string {
	if on.IsZero() {
		return fmt.Sprintf("after %d to %d days", r.MacerateMin, r.MacerateMax)
	}
	from, to := on.To+yard.Date(r.MacerateMin), on.From+yard.Date(r.MacerateMax)
	if to <= from {
		return "about " + fullDay(from)
	}
	return fullDay(from) + " to " + fullDay(to)
}
