package charts

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

// harvestPage is the main part of the page of the harvest.
type harvestPage struct {
	Now      []string
	Species  []speciesPart
	Cautions []string
}

// speciesPart is one species of the harvest.
type speciesPart struct {
	ID, Name string
	Lead     string
	Notes    []string
	Picks    strip
	Months   grid
	OneAxis  *drawing // picked and expected, by month
	Fan      *drawing
	Years    *drawing
	DryFan   *drawing
	Dry      *drawing
}

// monthsListed is how many months ahead the crop is listed one by one.
const monthsListed = 24

func (b *book) harvestSheet() sheet {
	h := harvestPage{Cautions: []string{eatSafely, lawDiffers}}
	for _, t := range b.tasks {
		if t.Kind == "walk" {
			h.Now = append(h.Now, t.Do)
		}
	}
	s := sheet{kind: "harvest", file: "harvest.html", title: "Harvest"}
	for i, f := range slices.Concat(b.Result.Species, b.onlyPast()) {
		part := b.speciesPart(fmt.Sprintf("s%d", i+1), f)
		for _, d := range []*drawing{part.OneAxis, part.Fan, part.Years, part.DryFan, part.Dry} {
			if d != nil {
				s.charts = append(s.charts, *d)
			}
		}
		h.Species = append(h.Species, part)
	}
	s.main = h
	return s
}

// onlyPast are the species that were weighed once and are not forecast any
// more, in alphabetical order, with nothing to come.
func (b *book) onlyPast() (list []forecast.Species) {
	has := map[string]bool{}
	for _, f := range b.Result.Species {
		has[f.Species] = true
	}
	for _, k := range b.State.Picks {
		if k.Weighed && k.Species != "" && !has[k.Species] {
			has[k.Species] = true
			list = append(list, forecast.Species{Species: k.Species})
		}
	}
	slices.SortFunc(list, func(a, b forecast.Species) int { return strings.Compare(a.Species, b.Species) })
	return list
}

// speciesPart shows a species; one with nothing to come has its past only.
func (b *book) speciesPart(id string, f forecast.Species) speciesPart {
	part := speciesPart{ID: id, Name: capital(f.Species), Lead: b.speciesLead(f), Picks: speciesStrip(f),
		Months: b.speciesMonths(f)}
	if f.Unpublished {
		part.Notes = append(part.Notes, "The kilograms are a wide guess: "+f.Wide+".")
	}
	part.OneAxis = b.harvestMonths(id+"months", f)
	var fresh, dry, sum, drySum []yearAmount
	for _, y := range f.Years {
		if b.cutShort(y.Year) {
			continue
		}
		fresh, dry = append(fresh, yearAmount{y.Year, y.Fresh}), append(dry, yearAmount{y.Year, y.Dry})
		sum, drySum = append(sum, yearAmount{y.Year, y.Sum}), append(drySum, yearAmount{y.Year, y.DrySum})
	}
	part.Fan = b.fan(id+"fan", "fresh", "weighed", b.addedUp(b.weighed(f.Species), "picked"), b.weighedOf(f.Species), sum)
	part.DryFan = b.fan(id+"dryfan", "dry", "dried", b.addedUp(b.dried(f.Species), "dried"), b.driedOf(f.Species), drySum)
	ours := func(k *yard.Pick) bool { return k.Species == f.Species }
	if part.Years = b.yearDrawing(id+"fresh", "fresh", b.picked(ours), fresh); part.Years != nil {
		part.Years.Said = "Fresh, by calendar year: what was weighed, and what should come."
		if len(f.Months) == 0 {
			part.Years.Said = "Fresh, by calendar year: what was weighed."
		}
	}
	if part.Dry = b.yearDrawing(id+"dry", "dry", nil, dry); part.Dry != nil {
		part.Dry.Said = "The same dried, were all of it dried: about " + figure(f.DryRatio.P50) + " of fresh make one of dry, " +
			mostly("times", figure(f.DryRatio.P10), figure(f.DryRatio.P90)) + "."
	}
	return part
}

// speciesLead is the sentence over a species.
func (b *book) speciesLead(f forecast.Species) string {
	if len(f.Months) == 0 {
		return "Nothing more is expected: none of its piles has a forecast. This is what was weighed."
	}
	best, at := 0.0, yard.Date(0)
	for _, m := range f.Months[:min(len(f.Months), 12)] {
		if m.HarvestChance > best {
			best, at = m.HarvestChance, m.Month
		}
	}
	if best == 0 {
		return "Nothing is expected in the next twelve months."
	}
	s := fmt.Sprintf("In the next twelve months a picking is most likely in %s (%s)", monthYear(at),
		percent(best))
	for _, y := range f.Years {
		if y.Fresh.P90 > 0 {
			when := fmt.Sprint(y.Year)
			if y.Year == b.today().Year() {
				when = "the rest of " + when
			}
			s += fmt.Sprintf("; %s should bring about %s fresh, %s", when, b.units.kg(y.Fresh.P50),
				yearly(y.Fresh, b.units.kg))
			break
		}
	}
	return s + "."
}

func speciesStrip(f forecast.Species) strip {
	s := strip{Of: "chance of a picking of " + f.Species, Fill: "pick",
		Said: "How likely it is that some are picked, month by month."}
	for _, m := range f.Months {
		s.add(m.Month, m.HarvestChance, false)
	}
	return s
}

func (b *book) speciesMonths(f forecast.Species) grid {
	g := grid{Caption: "The same numbers with the amounts, month by month",
		Head: []string{"Month", "Picking", "Fresh: low", "likely", "high", "on average", "Dry, on average"}}
	for _, m := range f.Months[:min(len(f.Months), monthsListed)] {
		kg := b.units.kg
		g.add(monthYear(m.Month), percent(m.HarvestChance), kg(m.Fresh.P10),
			kg(m.Fresh.P50), kg(m.Fresh.P90),
			kg(m.Fresh.Mean), kg(m.Dry.Mean))
	}
	return g
}

// speciesWords is a species with its strain.
func speciesWords(species, strain string) string {
	if strain == "" {
		return species
	}
	return species + " (" + strings.TrimSpace(strain) + ")"
}
