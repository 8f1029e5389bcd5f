package charts

import (
	"fmt"
	"math"
	"strings"

	"hodaba/forecast/tincture"
)

// Back is the answer to an order of bottles by a day.
func (t Terminal) Back(a *tincture.Back) string {
	parts := []string{backHead(a), t.backShelf(a)}
	if a.Bottles > 0 {
		parts = append(parts, t.backPlan(a), t.backNeeds(a), withoutWords(a.Without))
	}
	parts = append(parts, promiseWords(a))
	for _, n := range a.Notes {
		parts = append(parts, wrap("", "", n))
	}
	var some []string
	for _, p := range parts {
		if p != "" {
			some = append(some, p)
		}
	}
	return t.write(some...)
}

func backHead(a *tincture.Back) string {
	if a.Bottles > 0 {
		return wrap("", "", fmt.Sprintf("%d bottles of %s by %s", a.Bottles, a.Recipe, shortDay(a.By)))
	}
	return wrap("", "", fmt.Sprintf("%s by %s: what can be promised", capital(a.Recipe), shortDay(a.By)))
}

// backShelf is what is there without a new batch.
func (t Terminal) backShelf(a *tincture.Back) string {
	var words []string
	if a.OnShelf > 0 {
		words = append(words, count(a.OnShelf, "bottle is on the shelf", "bottles are on the shelf"))
	}
	if a.Standing.P90 > 0 {
		words = append(words, fmt.Sprintf("%.0f to %.0f more come from batches in jars", a.Standing.P10, a.Standing.P90))
	}
	if a.Promised > 0 {
		words = append(words, count(a.Promised, "is promised already", "are promised already"))
	}
	if len(words) == 0 {
		return ""
	}
	return wrap("", "  ", capital(strings.Join(words, ", "))+".")
}

func (t Terminal) backPlan(a *tincture.Back) string {
	var s strings.Builder
	if a.LatestStart != 0 {
		s.WriteString(wrap("", "  ", fmt.Sprintf("Start at the latest on %s. That all of it comes out in time: %s.", shortDay(a.LatestStart), inTen(a.Chance))))
		for i, b := range a.Batches {
			jars := ""
			if b.Jars > 0 {
				jars = " in " + count(b.Jars, "jar", "jars")
			}
			s.WriteString(wrap("  ", "  ", fmt.Sprintf("Batch %d of %d, %.2g times the recipe%s: start %s, strain %s, bottle %s, each at the latest.",
				i+1, len(a.Batches), a.Scaled, jars, shortDay(b.Start), shortDay(b.Strain), shortDay(b.Bottled))))
		}
	}
	if a.Why != "" {
		s.WriteString(wrap("", "  ", capital(a.Why)+fmt.Sprintf(". That the bottles are there on the day: %s.", inTen(a.Chance))))
	}
	return s.String()
}

func (t Terminal) backNeeds(a *tincture.Back) string {
	if len(a.Needs) == 0 {
		return ""
	}
	rows := [][]string{}
	for _, n := range a.Needs {
		name := needName(n.Need)
		if len(n.Or) > 0 {
			name += " or " + strings.Join(n.Or, " or ")
		}
		if n.Optional {
			name += " (may be left out)"
		}
		comes := "on hand"
		if n.Missing > 0 {
			comes = span(n.Early, n.Likely, n.Late)
			if n.Early != 0 && n.Late != 0 {
				comes = shortMonth(n.Early) + " to " + shortMonth(n.Late) // three months take more than 80 columns
			}
		}
		rows = append(rows, []string{name, t.grams(n.Grams), t.grams(n.OnHand), t.grams(n.Missing), comes, inTen(n.ShortChance)})
	}
	return "What it takes\n" + table([]column{{head: "dried", most: 16}, {head: "needs", right: true}, {head: "on hand", right: true},
		{head: "missing", right: true}, {head: "expected"}, {head: "short"}}, rows)
}

// withoutWords is what leaving ingredients out would bring.
func withoutWords(gains []tincture.Gain) string {
	var s strings.Builder
	for _, g := range gains {
		words := "Without " + strings.Join(g.Species, " and ") + ": "
		switch {
		case g.Days >= 14:
			words += fmt.Sprintf("%d weeks earlier", g.Days/7)
		case g.Days >= 7:
			words += "a week earlier"
		case g.Start != 0:
			words += "it could start by " + shortDay(g.Start)
		default:
			words += "surer"
		}
		if g.Chance > 0 {
			words += ", in time " + inTen(g.Chance)
		}
		s.WriteString(wrap("", "  ", words+"."))
	}
	return s.String()
}

// certainty is how sure a promise is, in words.
func certainty(p float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", 10*p), ".0") + " in 10"
}

func promiseWords(a *tincture.Back) string {
	if len(a.CanPromise) == 0 {
		if a.Bottles == 0 && a.Why != "" {
			return wrap("", "  ", capital(a.Why)+".")
		}
		return ""
	}
	var rows [][]string
	for _, c := range a.CanPromise {
		rows = append(rows, []string{certainty(c.Chance), fmt.Sprint(c.Bottles)})
	}
	return fmt.Sprintf("Bottles that can be promised by %s, were all done for this recipe\n", shortDay(a.By)) +
		table([]column{{head: "sure"}, {head: "bottles", right: true}}, rows)
}

// Scaled is a recipe for other amounts.
func (t Terminal) Scaled(z *tincture.Size) string {
	b := z.Batch
	var s strings.Builder
	s.WriteString(wrap("", "", fmt.Sprintf("%s, %.3g times the recipe", capital(z.Recipe.Name), z.By)))
	if z.Short != "" {
		s.WriteString(wrap("  ", "  ", "All that the stock gives: "+z.Short+" sets the limit."))
	}
	if b.JarCount > 0 {
		s.WriteString(wrap("  ", "  ", fmt.Sprintf("%s, each %s of spirit of %g %%.", count(b.JarCount, "jar", "jars"), t.liquid(z.Recipe.SpiritMLJar), b.SpiritABV)))
	}
	for _, in := range z.Recipe.Ingredients {
		s.WriteString(wrap("  ", "  ", fmt.Sprintf("%s, %s: %s, %s in all.", in.Species, in.Form, t.grams(in.GramsJar)+" a jar", t.grams(in.GramsJar*float64(z.Recipe.Jars)))))
	}
	if w := b.Pot.Water.VolumeML(); w > 0 {
		s.WriteString(wrap("  ", "  ", fmt.Sprintf("Water into the pot: about %s, for %s of decoction.", t.liquid(10*math.Round(w/10)), t.liquid(math.Round(b.Pot.Free.VolumeML())))))
	}
	s.WriteString(wrap("  ", "  ", t.bottleWords(b)))
	if needs := t.needWords(b.Needs); needs != "" {
		s.WriteString(wrap("  ", "  ", needs))
	}
	for _, n := range b.Notes {
		s.WriteString(wrap("  ", "  ", n))
	}
	return t.write(s.String())
}

// promised is how surely bottles that were promised are there.
func (t Terminal) promised(p *tincture.Plan) string {
	if len(p.Promises) == 0 {
		return ""
	}
	var rows [][]string
	for _, k := range p.Promises {
		rows = append(rows, []string{dayCell(k.By), k.To, fmt.Sprint(k.Bottles), k.Recipe, inTen(k.Chance)})
	}
	return "Promised bottles\n" + table([]column{{head: "by"}, {head: "to", most: 16}, {head: "bottles", right: true}, {head: "recipe", most: 20}, {head: "sure"}}, rows) +
		wrap("", "  ", "That all of them are there, all together: "+inTen(p.Keeps)+".")
}

// mostMade is how many batches on record are shown, the newest.
const mostMade = 4

// made is how the last batches came out.
func (t Terminal) made(p *tincture.Plan) string {
	var s strings.Builder
	for _, m := range p.Made[max(len(p.Made)-mostMade, 0):] {
		var words []string
		for _, y := range m.Yields {
			words = append(words, fmt.Sprintf("%s %.0f of %.0f ml (%.0f %%)", y.Step, y.ActualML, y.Theoretical, y.Percent()))
		}
		s.WriteString(wrap("", "  ", "Yield of "+m.Lot+", actual of theoretical: "+strings.Join(words, ", ")+"."))
	}
	return s.String()
}
