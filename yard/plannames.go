package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

// finishPlan brings the species of the plan to their names, once the yard's
// own are known. A row whose species is none is left out.
func (y *yardFile) finishPlan() {
	p := &y.c.Plan
	var species []string
	for _, s := range planRows(p.Species, func(s *string) bool { return y.plannable(s, y.planSpecies, true) }) {
		if !slices.Contains(species, s) {
			species = append(species, s)
		}
	}
	p.Species = species
	p.Wants = planRows(p.Wants, func(w *Want) bool { return y.plannable(&w.Species, w.line, w.HoldG == 0) })
	p.Prices = planRows(p.Prices, func(x *Price) bool { return y.plannable(&x.Species, x.line, false) })
	p.Logs = planRows(p.Logs, func(l *LogsToHave) bool { return y.plannable(&l.Species, l.line, true) })
	p.Buys = planRows(p.Buys, func(x *MayBuy) bool { return y.plannable(&x.Species, x.line, false) })
	y.knownPlaces()
}

// planRows are the rows that can be used, each settled.
func planRows[T any](rows []T, settle func(*T) bool) (out []T) {
	for _, row := range rows {
		if settle(&row) {
			out = append(out, row)
		}
	}
	return out
}

// plannable brings a species to its name. One that is not known, or that is
// not grown on logs where grown asks for it, cannot be planned with.
func (y *yardFile) plannable(species *string, line int, grown bool) bool {
	if *species == "" || y.data == nil {
		return true
	}
	name, like, known := resolveSpecies(*species, y.c.Own, y.data)
	say := func(text, remedy string) bool {
		y.problems = append(y.problems, Problem{File: YardFile, Line: line, Grade: Aside, Text: text, Remedy: withRowLeftOut(remedy)})
		return false
	}
	switch {
	case !known:
		names := y.data.SpeciesNames()
		for _, o := range y.c.Own {
			names = append(names, o.Name)
		}
		return say(fmt.Sprintf("no species is called %s", shown(*species)), nearestKey(*species, names))
	case grown && like == "":
		return say(fmt.Sprintf("%s is not grown on logs here, and no crop of it can be planned", name),
			"name one that is grown, or give it [[species]] with like")
	}
	*species = name
	return true
}

// knownPlaces points at room in a place that is none of the yard's: it counts
// all the same.
func (y *yardFile) knownPlaces() {
	var names []string
	for _, p := range y.c.Places {
		names = append(names, p.Name)
	}
	for i := range y.c.Plan.Room {
		r := &y.c.Plan.Room[i]
		at := slices.IndexFunc(names, func(n string) bool { return folded(n) == folded(r.Place) })
		switch {
		case at >= 0:
			r.Place = names[at]
		case r.Place != "" && len(names) > 0:
			remedy := fmt.Sprintf("add [[place]] with name = %s, or leave it", quote(r.Place))
			if near, ok := data.Nearest(r.Place, names); ok {
				remedy = fmt.Sprintf("did you mean %s? If not, %s", near, remedy)
			}
			y.problems = append(y.problems, Problem{File: YardFile, Line: r.line, Grade: Odd,
				Text: fmt.Sprintf("no [[place]] is called %s: its shade is taken to be that of the site", shown(r.Place)), Remedy: remedy})
		}
	}
}

// knownRecipes brings the recipes of the plan to the names in recipes.toml. A
// row whose recipe stands nowhere is left out.
func (p *Plan) knownRecipes(recipes []Recipe) (problems []Problem) {
	names := make([]string, len(recipes))
	for i := range recipes {
		names[i] = recipes[i].Name
	}
	known := func(recipe *string, line int) bool {
		if *recipe == "" {
			return true
		}
		if at := slices.IndexFunc(names, func(n string) bool { return folded(n) == folded(*recipe) }); at >= 0 {
			*recipe = names[at]
			return true
		}
		remedy := "write it in " + RecipesFile
		if len(names) > 0 {
			remedy = nearestKey(*recipe, names)
		}
		problems = append(problems, Problem{File: YardFile, Line: line, Grade: Aside,
			Text: fmt.Sprintf("no recipe is called %s", shown(*recipe)), Remedy: withRowLeftOut(remedy)})
		return false
	}
	p.Wants = planRows(p.Wants, func(w *Want) bool { return known(&w.Recipe, w.line) })
	p.Prices = planRows(p.Prices, func(x *Price) bool { return known(&x.Recipe, x.line) })
	return problems
}
