package forecast

import (
	"fmt"

	"hodaba/forecast/harvest"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// calendar sets the tincture calendar against the stock.
func (r *run) calendar(stock *harvest.Stock) (*tincture.Plan, error) {
	cfg := &r.state.Config
	working := cfg.Working
	var note []string
	days, err := tincture.NewWorkdays(working)
	if err != nil {
		// A calendar without holidays is worth more than none.
		note = append(note, fmt.Sprintf("No holidays are kept free: %v.", err))
		working.Country = ""
		if days, err = tincture.NewWorkdays(working); err != nil {
			return nil, err
		}
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
	for i := range wishes {
		wishes[i].OnHand = func(species string) float64 { return stock.OnHand(species, 0, 0) }
	}
	plan, err := tincture.Schedule(stock, wishes, days, tincture.Terms{
		AsOf: r.asOf, Until: r.horizon, Confidence: cfg.Confidence, Kitchen: cfg.Kitchen,
		Standing: standing, Record: r.state.Batches, Seed: r.seed, Recipes: recipes,
	}, r.data)
	if err != nil {
		return nil, err
	}
	plan.Notes = append(note, plan.Notes...)
	return plan, nil
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
