package tincture

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/yard"
)

// knownRecipes are all recipes of a calendar.
func knownRecipes(wishes []Wish, terms Terms) []yard.Recipe {
	known := slices.Clone(terms.Recipes)
	for _, w := range wishes {
		known = append(known, w.Recipe)
	}
	return known
}

// stand enters the batches that are put up already and not bottled yet, each
// with its remaining steps, and books their jars and the pot in every draw.
func (s *scheduler) stand(known []yard.Recipe) error {
	standing := slices.DeleteFunc(slices.Clone(s.terms.Standing), func(b *yard.Batch) bool { return !b.Bottled.IsZero() })
	slices.SortStableFunc(standing, func(a, b *yard.Batch) int { return cmp.Compare(a.On.From, b.On.From) })
	for _, b := range standing {
		if err := s.standOne(b, known); err != nil {
			return fmt.Errorf("batch %s, which stands already: %w", b.Lot, err)
		}
	}
	s.stood = book{stands: slices.Clone(s.printed.stands), pot: slices.Clone(s.printed.pot)}
	for d := range s.soonest {
		s.soonest[d] = book{stands: slices.Clone(s.printed.stands), pot: slices.Clone(s.printed.pot)}
		s.follow[d] = book{stands: slices.Clone(s.printed.stands), pot: slices.Clone(s.printed.pot)}
	}
	return nil
}

func (s *scheduler) standOne(put *yard.Batch, known []yard.Recipe) error {
	b := Batch{
		Lot: put.Lot, Recipe: put.Named(), Start: put.On.Mid(), StartChance: 1, Reached: 1,
		Early: put.On.From, Late: put.On.To,
	}
	if isBlended(put) {
		if err := s.standBlended(&b, put, known); err != nil {
			return err
		}
		s.plan.Standing = append(s.plan.Standing, b)
		return nil
	}
	i := slices.IndexFunc(known, func(r yard.Recipe) bool { return r.Name == put.Recipe })
	if i < 0 || unfit(known[i]) != "" || put.On.IsZero() {
		s.standUnknown(put, b, known)
		return nil
	}
	r := asPutUp(known[i], put)
	b.BottleML, b.SpiritML, b.SpiritABV = r.BottleML, r.SpiritMLJar*float64(r.Jars), r.SpiritABV
	if ranOff(put, r.Method) {
		s.afterStraining(&b, r, put)
	} else {
		s.beforeStraining(&b, r, put)
	}
	b.Needs = Needs(r)
	marc := s.marc
	if held, ok := Held(put, r.Method, s.set); ok {
		marc.Low, marc.Typical, marc.High = held, held, held // measured: nothing left to guess
	}
	if err := s.describe(&b, r, b.Needs, marc, !put.Decocted.IsZero()); err != nil {
		return err
	}
	s.plan.Standing = append(s.plan.Standing, b)
	return nil
}

// ranOff reports whether all jars of a batch are strained, or there never were
// any and its pot is boiled. Marc is boiled only after straining, whether
// somebody wrote that down or not.
func ranOff(put *yard.Batch, method string) bool {
	if !put.Strained.IsZero() && put.JarsStanding() == 0 {
		return true
	}
	return !put.Decocted.IsZero() && (method == MarcDecocted || method == DecoctionOnly)
}

// beforeStraining enters the steps of a batch that stands in jars, or in those
// of them that nobody has strained yet.
func (s *scheduler) beforeStraining(b *Batch, r yard.Recipe, put *yard.Batch) {
	p := paceOf(r)
	if !put.Strained.IsZero() && p.jars > 0 {
		p.jars = put.JarsStanding()
	}
	p.pot = p.pot && put.Decocted.IsZero()
	strain, why := s.strainStanding(put.On, p)
	b.JarCount, b.Why = p.jars, why
	b.StrainFrom, b.StrainTo = s.diary.window(put.On, p)
	s.diary.steps(b, r, b.Start, strain)
	if !put.Decocted.IsZero() {
		b.Decoct = 0
	}
	if b.ShakeUntil < s.terms.AsOf {
		b.ShakeUntil = 0
	}
	enter(&s.printed, p, begin{start: put.On.From, strain: strain})
}

// afterStraining enters what is left to do with a batch that is in no jar any
// more: boil, on the first open day on which the pot is free, blend and bottle.
func (s *scheduler) afterStraining(b *Batch, r yard.Recipe, put *yard.Batch) {
	b.StrainedOn = cmp.Or(put.Strained.To, put.Decocted.To)
	p := pace{last: lookAhead, pot: decocts(r) && macerates(r) && put.Decocted.IsZero()}
	day := s.diary.strainOn(&s.printed, s.terms.AsOf, p)
	if day == 0 {
		b.Why = "no open day is in sight on which to go on with it"
		return
	}
	s.diary.steps(b, r, b.Start, day)
	b.Strain, b.ShakeUntil = 0, 0
	if !p.pot {
		b.Decoct, b.Bottled = 0, s.diary.onOrAfter(max(day, put.Decocted.To+1))
	}
	enter(&s.printed, p, begin{start: day, strain: day})
}

// strainStanding is the day on which a standing batch is strained: the first
// one, today or later, on which the shortest time is surely over, the longest
// not yet, and the pot is free; past the longest, the next open day there is.
func (s *scheduler) strainStanding(on yard.When, p pace) (strain yard.Date, why string) {
	first := max(on.To+yard.Date(p.first), s.terms.AsOf)
	last := on.From + yard.Date(p.last)
	window := pace{first: 0, last: int(last - first), pot: p.pot, jars: p.jars}
	if day := s.diary.strainOn(&s.printed, first, window); day != 0 {
		return day, ""
	}
	window.last = lookAhead
	switch strain = s.diary.strainOn(&s.printed, first, window); {
	case strain == 0:
		return first, "no open day is in sight on which to strain it"
	case strain > on.To+yard.Date(p.last):
		return strain, fmt.Sprintf("overdue: it will have stood %d days, and the recipe says %d at most", strain-on.To, p.last)
	}
	return strain, fmt.Sprintf("put up between %v and %v: strained when %d days are surely over", on.From, on.To, p.first)
}

// asPutUp is a recipe as a batch was really put up: its jars, spirit and
// goods, as far as they were written down; water for as many jars, and of what
// is boiled already what came out.
func asPutUp(r yard.Recipe, put *yard.Batch) yard.Recipe {
	if put.Jars > 0 {
		scale := float64(put.Jars) / float64(r.Jars)
		r.WaterML, r.DecoctToML = r.WaterML*scale, r.DecoctToML*scale
		r.Jars = put.Jars
	}
	if put.SpiritML > 0 {
		r.SpiritMLJar = put.SpiritML / float64(r.Jars)
	}
	if put.SpiritABV > 0 {
		r.SpiritABV = put.SpiritABV
	}
	if in := perJar(put.Ingredients, r.Jars); len(in) > 0 {
		r.Ingredients = in
	}
	if !put.Decocted.IsZero() {
		r.WaterML = 0
		if put.DecoctionML > 0 {
			r.DecoctToML = put.DecoctionML
		}
	}
	return r
}

// perJar is what went into each of so many jars, as far as it was weighed: of a
// batch put up in no jars that is nothing.
func perJar(taken []yard.Taken, jars int) (in []yard.Ingredient) {
	for _, t := range taken {
		if g := t.Grams / float64(jars); g > 0 {
			in = append(in, yard.Ingredient{Species: t.Species, GramsJar: g})
		}
	}
	return in
}

// standUnknown enters a batch whose recipe cannot be followed. Its jars count
// as in use as long as the longest recipe stands, or until they are strained.
func (s *scheduler) standUnknown(put *yard.Batch, b Batch, known []yard.Recipe) {
	longest := 0
	for _, r := range known {
		longest = max(longest, r.MacerateMax)
	}
	b.JarCount = max(put.Jars, 1)
	b.SpiritML, b.SpiritABV = put.SpiritML, put.SpiritABV
	b.Why = fmt.Sprintf("recipe %q cannot be followed, so its steps are not known: write it in full in recipes.toml, or record the batch as bottled", put.Recipe)
	if ranOff(put, "") {
		b.JarCount, b.StrainedOn = 0, put.Strained.To
		s.plan.Standing = append(s.plan.Standing, b)
		return
	}
	to := max(put.On.To+yard.Date(longest), s.terms.AsOf)
	s.printed.stands = append(s.printed.stands, stand{put.On.From, to, b.JarCount})
	s.plan.Standing = append(s.plan.Standing, b)
}
