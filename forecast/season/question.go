package season

import (
	"fmt"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// Question is what the grower wants planned.
type Question struct {
	Plan yard.Plan // wants and means; of yard.toml, with what was said on the command line laid over
	// Year is the calendar year in whose months the logs are inoculated; 0: the
	// next that has one.
	Year       int
	Confidence float64 // fraction, of wants without one of their own; 0: that of the yard
	// Windfall turns the question round: Plan.Logs lie there and wait, what is to
	// be done with them?
	Windfall bool
	Margin   bool // earn most by the grower's prices, rather than spend least
	Draws    int  // to plan on; 0: DefaultDraws
	Fresh    int  // to judge on; 0: DefaultFresh
}

// The defaults of Question.
const (
	DefaultDraws = 4000
	DefaultFresh = 10000
	chunk        = 2000 // draws that are walked at a time, for the memory's sake
)

// The kinds of targets.
const (
	Bottles = "bottles" // of a recipe, made in the year
	Fresh   = "fresh"   // kg a week in each month of a season
	Hold    = "hold"    // g dried that are over at the year's end
	Crop    = "crop"    // kg fresh in the year
)

// Target is one want in one year.
type Target struct {
	Kind       string
	Year       int
	What       string  // recipe or species; "" all species
	Amount     float64 // bottles, kg a week, g dried, kg
	First      int     // months of a season, 1 to 12
	Last       int
	Confidence float64 // fraction
}

// targets lays the wants out by year.
func targets(plan *yard.Plan, confidence float64, from yard.Date, to yard.Date) (out []Target, notes []string, err error) {
	if len(plan.Wants) == 0 {
		return nil, nil, nil
	}
	for _, w := range plan.Wants {
		t := Target{Confidence: w.Confidence, What: w.Species, First: 1, Last: 12}
		if t.Confidence == 0 {
			t.Confidence = confidence
		}
		if t.Confidence <= 0 || t.Confidence >= 1 {
			return nil, nil, fmt.Errorf("a confidence of %g %% is none: write one between 50 and 99", 100*t.Confidence)
		}
		switch {
		case w.Recipe != "":
			t.Kind, t.What, t.Amount = Bottles, w.Recipe, float64(w.Bottles)
		case w.FreshKG != 0:
			t.Kind, t.Amount = Fresh, w.FreshKG
			if w.FirstMonth > 0 {
				t.First, t.Last = w.FirstMonth, w.LastMonth
			}
		case w.HoldG != 0:
			t.Kind, t.Amount = Hold, w.HoldG
		case w.CropKG != 0:
			t.Kind, t.Amount = Crop, w.CropKG
		}
		switch {
		case t.Amount < 0:
			return nil, nil, fmt.Errorf("%g of %s is less than nothing", t.Amount, t.What)
		case t.Amount == 0:
			continue
		}
		for year := max(w.From, from.Year()); year <= w.To; year++ {
			if year > to.Year() {
				notes = append(notes, fmt.Sprintf("What is wanted of %s after %d lies beyond what is forecast, and is left for later plans.", t.What, to.Year()))
				break
			}
			t.Year = year
			out = append(out, t)
		}
		if w.To < from.Year() {
			notes = append(notes, fmt.Sprintf("What was wanted of %s up to %d is past.", t.What, w.To))
		}
	}
	return out, notes, nil
}

// seasonYear is the calendar year of the next season: the first in which a
// month of inoculation has not passed.
func seasonYear(asOf yard.Date, months []int) int {
	for _, m := range months {
		if m >= int(asOf.Month()) {
			return asOf.Year()
		}
	}
	return asOf.Year() + 1
}

// resolveRecipe finds a recipe of the yard.
func resolveRecipe(s *yard.State, name string) (*yard.Recipe, error) {
	for i := range s.Recipes {
		if s.Recipes[i].Name == name {
			return &s.Recipes[i], nil
		}
	}
	remedy := "there is none in recipes.toml"
	var names []string
	for i := range s.Recipes {
		names = append(names, s.Recipes[i].Name)
	}
	if near, ok := data.Nearest(name, names); ok {
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	return nil, fmt.Errorf("there is no recipe %q: %s", name, remedy)
}

// perBottle is grams of each ingredient that a bottle of a recipe takes, in
// the order of the recipe, optional ones left out.
func perBottle(s *yard.State, recipe string, bottles int, set *data.Set) ([]ingredient, error) {
	size, err := forecast.Size(s, recipe, max(bottles, 1), set)
	if err != nil {
		return nil, fmt.Errorf("recipe %q: %w", recipe, err)
	}
	var out []ingredient
	for _, n := range size.Batch.Needs {
		if n.Optional {
			continue
		}
		out = append(out, ingredient{species: append([]string{n.Species}, n.Or...), grams: n.Grams / float64(max(bottles, 1)), form: n.Form})
	}
	return out, nil
}

// ingredient is what one bottle takes of a species, or of those that can stand
// in for it.
type ingredient struct {
	species []string
	grams   float64
	form    string
}
