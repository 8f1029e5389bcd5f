package forecast

import (
	"fmt"

	"hodaba/data"
	"hodaba/forecast/harvest"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// workdays are the yard's, and a note where its holidays are not known: a
// calendar without holidays is worth more than none.
func (r *run) workdays() (days tincture.Workdays, note []string, err error) {
	working := r.state.Config.Working
	if days, err = tincture.NewWorkdays(working); err != nil {
		note = append(note, fmt.Sprintf("No holidays are kept free: %v.", err))
		working.Country = ""
		days, err = tincture.NewWorkdays(working)
	}
	return days, note, err
}

// calendar sets the tincture calendar against the stock, and answers an order.
func (r *run) calendar(stock *harvest.Stock, order Order) (*tincture.Plan, error) {
	cfg := &r.state.Config
	days, note, err := r.workdays()
	if err != nil {
		return nil, err
	}
	recipes := r.resolved()
	var taken []string
	var standing []*yard.Batch
	for _, b := range r.state.Batches {
		taken = append(taken, b.Lot)
		if b.Bottled.IsZero() {
			standing = append(standing, b)
		}
	}
	wishes := tincture.Wishes(recipes, cfg.Kitchen, r.asOf, r.horizon, taken...)
	onHand := r.onHand()
	for i := range wishes {
		wishes[i].OnHand = onHand
	}
	asked, err := r.order(order, recipes)
	if err != nil {
		return nil, err
	}
	if asked != nil {
		asked.OnHand = onHand
	}
	plan, err := tincture.Schedule(stock, wishes, days, tincture.Terms{
		AsOf: r.asOf, Until: r.horizon, Confidence: cfg.Confidence, Kitchen: cfg.Kitchen,
		Standing: standing, Record: r.state.Batches, Seed: r.seed, Recipes: recipes,
		Shelf: r.state.Bottles, Lots: r.lots(), Promised: cfg.Promised, Order: asked,
	}, r.data)
	if err != nil {
		return nil, err
	}
	plan.Notes = append(note, plan.Notes...)
	return plan, nil
}

// order is an order with its recipe; nil where none is asked.
func (r *run) order(o Order, recipes []yard.Recipe) (*tincture.Order, error) {
	if o == (Order{}) {
		return nil, nil
	}
	for _, recipe := range recipes {
		if recipe.Name == o.Recipe {
			return &tincture.Order{Recipe: recipe, By: o.By, Bottles: o.Bottles}, nil
		}
	}
	return nil, fmt.Errorf("there is no recipe %q", o.Recipe)
}

// resolved is the recipes with their species under the names of the data set,
// as the stock has them.
func (r *run) resolved() []yard.Recipe {
	out := make([]yard.Recipe, len(r.state.Recipes))
	for i, rec := range r.state.Recipes {
		rec.Ingredients = append([]yard.Ingredient(nil), rec.Ingredients...)
		for j, ing := range rec.Ingredients {
			ing.Species = r.like(ing.Species)
			ing.Or = append([]string(nil), ing.Or...)
			for k, o := range ing.Or {
				ing.Or[k] = r.like(o)
			}
			rec.Ingredients[j] = ing
		}
		out[i] = rec
	}
	return out
}

// lots are those of dried goods that hold something, oldest first.
func (r *run) lots() (lots []tincture.DryLot) {
	for _, l := range r.state.Dry {
		if l.LeftG > 0 {
			lots = append(lots, tincture.DryLot{Lot: l.Lot, Species: r.like(l.Species), Form: l.Form, Grams: l.LeftG})
		}
	}
	return lots
}

// onHand is what is on hand of a species that can be had in a form, g: fresh
// what is in the cold, as pieces what was not ground, as powder all that is dry.
func (r *run) onHand() func(species, form string) float64 {
	g := map[[2]string]float64{}
	for _, l := range r.lots() {
		g[[2]string{l.Species, harvest.Powder}] += l.Grams
		if l.Form != harvest.Powder {
			g[[2]string{l.Species, harvest.Pieces}] += l.Grams
		}
	}
	cold, _ := InTheCold(r.state, r.data)
	for _, w := range cold {
		g[[2]string{r.like(w.Species), harvest.Fresh}] += gramsPerKG * w.KG
	}
	return func(species, form string) float64 {
		if form != harvest.Powder && form != harvest.Fresh {
			form = harvest.Pieces
		}
		return g[[2]string{species, form}]
	}
}

// Size scales a recipe of the yard to a number of bottles, or with 0 to the
// dried goods on hand.
func Size(s *yard.State, recipe string, bottles int, set *data.Set) (*tincture.Size, error) {
	r := &run{state: s, data: set}
	recipes := r.resolved()
	asked, err := r.order(Order{Recipe: recipe}, recipes)
	if err != nil {
		return nil, err
	}
	return tincture.SizeOf(asked.Recipe, bottles, r.onHand(),
		tincture.Terms{Kitchen: s.Config.Kitchen, Record: s.Batches, Recipes: recipes, Seed: DefaultSeed}, set)
}
