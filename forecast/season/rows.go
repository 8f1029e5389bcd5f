package season

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/season/linear"
	"hodaba/yard"
)

// row is one condition of a target, as sums over a crop book.
//
// Purpose: what a target asks of the crops in one draw. Equation: fresh rows
// are kg in some months, at least what is wanted. Dried rows are the stock
// after the season's own year, plus what dries from then on, at least what is
// wanted from then on: crop of too late a month to be macerated in its year
// counts for the next. What the season's logs cannot reach yet is followed year
// by year: the stock takes up 1000·d·(share·fresh − what is sold fresh), d kg
// dry per kg fresh in the draw, and what is expected from elsewhere; it gives
// what is wanted, as far as it goes, so that what an early year lacks is not
// owed by the later ones. From then on all that is wanted must be there, which
// is the stricter. Parameters: [drier] share, the recipes. State: none. Errors:
// none.
type row struct {
	target  int
	name    string
	species []string // those that add up; nil all
	early   []span   // of dried goods: years that the season's logs cannot reach
	span             // what the row itself asks for
	dried   bool
	share   float64 // of the fresh that is dried
}

// span is some months, and what is wanted of them.
type span struct {
	from, to int     // months of the book, to not included
	need     float64 // g dried, or kg fresh
	sold     float64 // kg fresh that is sold rather than dried
}

// needs lays out the rows of all targets.
type needs struct {
	state   *yard.State
	set     *data.Set
	book    *forecast.CropBook // of which only the calendar is read
	year    int                // of the season
	steady  bool               // every year is like another: nothing is carried over
	targets []Target
	rows    []row
	bottled map[bottling][]ingredient // what was worked out of what bottles take
}

// rowsOf lays out the rows of targets.
func rowsOf(s *yard.State, set *data.Set, book *forecast.CropBook, year int, ts []Target) (*needs, error) {
	n := &needs{state: s, set: set, book: book, year: year, targets: ts}
	return n, n.lay()
}

// lay lays out the rows.
func (n *needs) lay() error {
	for i, t := range n.targets {
		var err error
		switch t.Kind {
		case Bottles:
			err = n.bottles(i)
		case Hold:
			err = n.dry(i, []string{n.like(t.What)}, t.Amount)
		case Fresh:
			n.fresh(i)
		case Crop:
			n.crop(i)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// like is the species under the name of the data set.
func (n *needs) like(species string) string {
	if sp, ok := n.set.FindSpecies(species); ok {
		return sp.Name
	}
	return species
}

// monthAfter is the index after a month of a year, within the book.
func (n *needs) monthAfter(year, month int) int {
	first := n.book.Months[0]
	i := (year-first.Year())*12 + month - int(first.Month()) + 1
	return min(max(i, 0), len(n.book.Months))
}

// lastMonth is the last month of a year whose crop, dried, can still be
// bottled in it: what follows is left to stand for as long as the recipe
// macerates at least, and a week to strain, decoct and bottle.
func lastMonth(r *yard.Recipe) int {
	days := max(r.MacerateMin, 0) + 7
	return max(12-int(math.Ceil(float64(days)/30)), 1)
}

// bottles adds the rows of a recipe's bottles, one for each ingredient.
func (n *needs) bottles(i int) error {
	t := n.targets[i]
	if _, err := resolveRecipe(n.state, t.What); err != nil {
		return err
	}
	in, err := n.perBottle(t)
	if err != nil {
		return err
	}
	for _, x := range in {
		group := make([]string, len(x.species))
		for k, s := range x.species {
			group[k] = n.like(s)
		}
		if err := n.dry(i, group, 0); err != nil {
			return err
		}
	}
	return nil
}

// bottling is so many bottles of a recipe.
type bottling struct {
	recipe  string
	bottles int
}

// perBottle is what a bottle of a target takes; scaling a recipe is work, and
// every row and year asks for it.
func (n *needs) perBottle(t Target) ([]ingredient, error) {
	key := bottling{t.What, int(t.Amount)}
	if in, ok := n.bottled[key]; ok {
		return in, nil
	}
	in, err := perBottle(n.state, key.recipe, key.bottles, n.set)
	if err != nil {
		return nil, err
	}
	if n.bottled == nil {
		n.bottled = map[bottling][]ingredient{}
	}
	n.bottled[key] = in
	return in, nil
}

// dry adds a row of dried goods: what is wanted of a group of species up to the
// target's year, and more that is to be over.
func (n *needs) dry(i int, group []string, over float64) error {
	t := n.targets[i]
	r := row{target: i, species: group, dried: true, share: 1,
		name: fmt.Sprintf("dried %s for %d", strings.Join(group, " or "), t.Year)}
	if share := n.state.Config.Drier.Share; share > 0 {
		r.share = share
	}
	left := map[string]float64{} // free bottles, by recipe
	for _, b := range n.state.Bottles {
		for _, c := range b.Bottles {
			left[b.Recipe] += float64(c.Count)
		}
	}
	at, from := 0, n.book.AsOf.Year()
	if n.steady {
		at, from, left = n.monthAfter(t.Year-1, 12), t.Year, map[string]float64{}
	}
	for year := from; year <= t.Year; year++ {
		grams, to, err := n.wanted(group, year, left)
		if err != nil {
			return err
		}
		if n.steady || (t.Kind == Hold && year == t.Year) {
			to = n.monthAfter(year, 12)
		}
		sp := span{from: at, to: to, need: grams, sold: n.sold(group, at, to)}
		at = to
		switch {
		case year < t.Year && year <= n.year:
			r.early = append(r.early, sp)
		case r.to == 0:
			r.span = sp
		default:
			r.to, r.need, r.sold = sp.to, r.need+sp.need, r.sold+sp.sold
		}
	}
	r.need += over
	if n.sellsFresh(group) {
		r.share = 1
	}
	n.rows = append(n.rows, r)
	return nil
}

// wanted is g dried that the bottles wanted in a year take of a group of
// species, free bottles on the shelf counted off, and the month after the last
// whose crop can go into them.
func (n *needs) wanted(group []string, year int, left map[string]float64) (grams float64, to int, err error) {
	to = n.monthAfter(year, 12)
	for _, t := range n.targets {
		if t.Kind != Bottles || t.Year != year {
			continue
		}
		in, err := n.perBottle(t)
		if err != nil {
			return 0, 0, err
		}
		recipe, err := resolveRecipe(n.state, t.What)
		if err != nil {
			return 0, 0, err
		}
		off := math.Min(left[t.What], t.Amount)
		left[t.What] -= off
		for _, x := range in {
			if slices.Contains(group, n.like(x.species[0])) {
				grams += (t.Amount - off) * n.driedOf(x)
				to = min(to, n.monthAfter(year, lastMonth(recipe)))
			}
		}
	}
	return grams, to, nil
}

// driedOf is g dried of an ingredient; of fresh ones what they would weigh.
func (n *needs) driedOf(x ingredient) float64 {
	sp, ok := n.set.FindSpecies(x.species[0])
	if x.form != "fresh" || !ok || sp.Dried.Value <= 0 {
		return x.grams
	}
	return x.grams * (1 - sp.Fresh.Typical) / (1 - sp.Dried.Value)
}

// sellsFresh reports whether any of a group is wanted fresh.
func (n *needs) sellsFresh(group []string) bool {
	return slices.ContainsFunc(n.targets, func(t Target) bool { return t.Kind == Fresh && slices.Contains(group, n.like(t.What)) })
}

// sold is kg fresh of a group that are wanted in some months, and so not dried.
func (n *needs) sold(group []string, from, to int) (kg float64) {
	for _, t := range n.targets {
		if t.Kind != Fresh || !slices.Contains(group, n.like(t.What)) {
			continue
		}
		for _, at := range n.months(t) {
			if at >= from && at < to {
				kg += t.Amount * weeksOf(n.book.Months[at])
			}
		}
	}
	return kg
}

// months are those of a target's season that lie ahead.
func (n *needs) months(t Target) (at []int) {
	for m, month := range n.book.Months {
		in := t.First <= int(month.Month()) && int(month.Month()) <= t.Last
		if t.First > t.Last { // over the turn of the year
			in = int(month.Month()) >= t.First || int(month.Month()) <= t.Last
		}
		if month.Year() == t.Year && in {
			at = append(at, m)
		}
	}
	return at
}

// weeksOf is how many weeks a month has.
func weeksOf(month yard.Date) float64 {
	return float64(month.AddMonths(1)-month) / 7
}

// fresh adds a row for each month of a season.
func (n *needs) fresh(i int) {
	t := n.targets[i]
	for _, at := range n.months(t) {
		month := n.book.Months[at]
		n.rows = append(n.rows, row{target: i, species: []string{n.like(t.What)},
			span: span{from: at, to: at + 1, need: t.Amount * weeksOf(month)},
			name: fmt.Sprintf("fresh %s in %s", t.What, month.Time().Format("January 2006"))})
	}
}

// crop adds the row of a year's crop.
func (n *needs) crop(i int) {
	t := n.targets[i]
	r := row{target: i, span: span{from: n.monthAfter(t.Year-1, 12), to: n.monthAfter(t.Year, 12), need: t.Amount}}
	r.name = fmt.Sprintf("crop of %d", t.Year)
	if t.What != "" {
		r.species, r.name = []string{n.like(t.What)}, fmt.Sprintf("%s of %d", t.What, t.Year)
	}
	n.rows = append(n.rows, r)
}

// sums are what the rows come to in the draws of one crop book or several.
type sums struct {
	factor float64 // on all crops; 0 is 1
	bare   bool    // without what stands and what is on hand
	weight []float64
	have   [][]float64   // by row and draw: from what stands
	gives  [][][]float32 // by row, candidate and draw: of one log; nil nothing
}

// add appends the draws of a book. candidate is the number of a planned pile
// by its name, −1 for one that counts as standing; a candidate's pile stands
// for one log by its number of logs.
func (n *needs) add(s *sums, b *forecast.CropBook, candidates int, candidate func(name string) int) {
	if s.have == nil {
		s.have, s.gives = make([][]float64, len(n.rows)), make([][][]float32, len(n.rows))
		for i := range s.gives {
			s.gives[i] = make([][]float32, candidates)
		}
	}
	s.weight = append(s.weight, b.Weight...)
	for i := range n.rows {
		r := &n.rows[i]
		have, early := make([]float64, b.Draws), make([]float64, b.Draws*len(r.early))
		for _, p := range b.Piles {
			if r.species != nil && !slices.Contains(r.species, n.like(p.Species)) {
				continue
			}
			j := -1
			if p.Planned {
				j = candidate(p.Pile.Name)
			}
			if j < 0 {
				if s.bare {
					continue
				}
				for d := range have {
					have[d] += s.times() * p.Between(d, r.from, r.to)
					for k, e := range r.early {
						early[d*len(r.early)+k] += s.times() * p.Between(d, e.from, e.to)
					}
				}
				continue
			}
			s.gives[i][j] = r.give(s.gives[i][j], len(s.have[i]), b, p, s.times())
		}
		r.stock(b, have, early, s.bare)
		s.have[i] = append(s.have[i], have...)
	}
}

// times is what all crops are multiplied by.
func (s *sums) times() float64 {
	if s.factor == 0 {
		return 1
	}
	return s.factor
}

// give appends what one log of a planned pile adds to the row.
func (r *row) give(g []float32, before int, b *forecast.CropBook, p *forecast.PileCrops, times float64) []float32 {
	for len(g) < before+b.Draws { // several piles of one candidate add up
		g = append(g, 0)
	}
	logs := float64(max(p.Pile.Logs, 1))
	for d := range b.Draws {
		v := times * p.Between(d, r.from, r.to) / logs
		if r.dried {
			v *= gramsPerKG * r.share * b.DryPer[p.Species][d]
		}
		g[before+d] += float32(v)
	}
	return g
}

// stock turns kg fresh of what stands, in the row's months and in the early
// years, into what the row has.
func (r *row) stock(b *forecast.CropBook, have, early []float64, bare bool) {
	if !r.dried {
		return
	}
	hand := 0.0
	for _, s := range r.species {
		if !bare {
			hand += b.OnHand[s]
		}
	}
	for d := range have {
		stock, per := hand, r.dryPer(b, d)
		for k, e := range r.early {
			stock += gramsPerKG*per*r.share*math.Max(early[d*len(r.early)+k]-e.sold, 0) + r.comes(b, d, e)
			stock = math.Max(stock-e.need, 0)
		}
		have[d] = stock + gramsPerKG*per*r.share*(have[d]-r.sold) + r.comes(b, d, r.span)
	}
}

// dryPer is kg dry per kg fresh of the first of the row's species that is grown.
func (r *row) dryPer(b *forecast.CropBook, draw int) float64 {
	for _, s := range r.species {
		if per := b.DryPer[s]; per != nil {
			return per[draw]
		}
	}
	return 0
}

// comes is g dried expected from elsewhere in a span.
func (r *row) comes(b *forecast.CropBook, draw int, s span) (grams float64) {
	for _, sp := range r.species {
		if in := b.Comes[sp]; in != nil {
			for m := s.from; m < s.to; m++ {
				grams += float64(in[draw*len(b.Months)+m])
			}
		}
	}
	return grams
}

const gramsPerKG = 1000

// programme sets the rows into targets.
func (n *needs) programme(s *sums) (ts []linear.Target) {
	for i, t := range n.targets {
		lt := linear.Target{Name: t.String(), Chance: t.Confidence}
		for k, r := range n.rows {
			if r.target == i {
				lt.Rows = append(lt.Rows, linear.Row{Name: r.name, Need: r.need, Have: s.have[k], Gives: s.gives[k]})
			}
		}
		ts = append(ts, lt)
	}
	return ts
}

// String says what is wanted, in plain words.
func (t Target) String() string {
	what := t.What
	switch t.Kind {
	case Bottles:
		return fmt.Sprintf("%.0f bottles of %s in %d", t.Amount, what, t.Year)
	case Fresh:
		return fmt.Sprintf("%.3g kg of %s a week in %d", t.Amount, what, t.Year)
	case Hold:
		return fmt.Sprintf("%.3g kg of dried %s over at the end of %d", t.Amount/gramsPerKG, what, t.Year)
	}
	if what == "" {
		what = "all species"
	}
	return fmt.Sprintf("%.3g kg of %s in %d", t.Amount, what, t.Year)
}

// value is what a row comes to in a draw with so many logs of each candidate.
func (s *sums) value(row, draw int, logs []int) float64 {
	v := s.have[row][draw]
	for j, x := range logs {
		if g := s.gives[row][j]; x > 0 && draw < len(g) {
			v += float64(x) * float64(g[draw])
		}
	}
	return v
}

// met is the chance of each target, and of all of them together, with so many
// logs of each candidate; nil logs is the yard as it stands.
func (n *needs) met(s *sums, logs []int) (chances []float64, joint float64) {
	chances = make([]float64, len(n.targets))
	total := 0.0
	holds := make([]bool, len(n.targets))
	for d, w := range s.weight {
		for i := range holds {
			holds[i] = true
		}
		for k := range n.rows {
			r := &n.rows[k]
			if s.value(k, d, logs) < r.need {
				holds[r.target] = false
			}
		}
		all := true
		for i, ok := range holds {
			if ok {
				chances[i] += w
			}
			all = all && ok
		}
		if all {
			joint += w
		}
		total += w
	}
	for i := range chances {
		chances[i] /= total
	}
	return chances, joint / total
}
