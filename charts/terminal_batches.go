package charts

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// Batches is the tincture calendar: what stands in jars, what can start when,
// and what each batch needs.
func (t Terminal) Batches(s *yard.State, p *tincture.Plan) string {
	if p == nil || len(p.Standing)+len(p.Batches) == 0 {
		return t.write(wrap("", "", "No batch stands and none can be planned: "+
			"write a recipe into recipes.toml, and into [kitchen] of yard.toml the jars, the pot, and how long it takes "+
			"to boil down from 1.5 l to 0.5 l, as in boils_down = \"1.5 l to 0.5 l in 2 h\"."))
	}
	parts, said := []string{t.calendar(p)}, map[string]bool{}
	for i, b := range slices.Concat(p.Standing, p.Batches) {
		parts = append(parts, t.batch(b, i < len(p.Standing), said))
	}
	if len(p.Batches) > 0 {
		parts = append(parts, wrap("", "", fmt.Sprintf(
			"Dates are printed at %.0f %% certainty each. That every batch with a date can start on it, all together: %s.",
			100*s.Config.Confidence, inTen(p.Holds))))
	}
	for _, part := range []string{t.promised(p), t.made(p)} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	for _, n := range p.Notes {
		parts = append(parts, wrap("", "", n))
	}
	return t.write(parts...)
}

// Calendar is the table of all batches alone.
func (t Terminal) Calendar(p *tincture.Plan) string {
	if p == nil || len(p.Standing)+len(p.Batches) == 0 {
		return ""
	}
	return t.write(t.calendar(p))
}

func (t Terminal) calendar(p *tincture.Plan) string {
	rows := [][]string{}
	row := func(b tincture.Batch, sure string) {
		rows = append(rows, []string{b.Lot, b.Recipe, dayCell(b.Start), sure, dayInYear(b.Strain),
			dayInYear(b.Decoct), dayCell(b.Bottled), bottleCell(b)})
	}
	for _, b := range p.Standing {
		row(b, "stands")
	}
	for _, b := range byStart(p.Batches) {
		sure := inTen(b.StartChance)
		if b.Start == 0 {
			sure = inTen(b.Reached)
		}
		row(b, sure)
	}
	return "Tincture batches\n" + table([]column{{head: "batch", most: 9}, {head: "recipe", most: 12},
		{head: "start"}, {head: "sure", most: 8}, {head: "strain"}, {head: "decoct"}, {head: "bottled"}, {head: "bottles", right: true}}, rows)
}

// byStart orders batches by their day, those without one last; the plan itself
// is in the order of priority.
func byStart(batches []tincture.Batch) []tincture.Batch {
	out := slices.Clone(batches)
	slices.SortStableFunc(out, func(x, y tincture.Batch) int {
		if (x.Start == 0) != (y.Start == 0) {
			return cmp.Compare(y.Start, x.Start)
		}
		return cmp.Compare(x.Start, y.Start)
	})
	return out
}

// dayCell is a day in nine columns, "9 Jan 27", or a dash.
func dayCell(d yard.Date) string {
	if d == 0 {
		return "–"
	}
	return d.Time().Format("2 Jan 06")
}

// dayInYear is a day in six columns: the year stands beside it.
func dayInYear(d yard.Date) string {
	if d == 0 {
		return "–"
	}
	return d.Time().Format("2 Jan")
}

func bottleCell(b tincture.Batch) string {
	if b.Bottles.P50 <= 0 {
		return "–"
	}
	return fmt.Sprintf("%.0f", math.Floor(b.Bottles.P50))
}

// batch is one batch; of its notes those that were not said of its recipe yet.
func (t Terminal) batch(b tincture.Batch, stands bool, said map[string]bool) string {
	var s strings.Builder
	s.WriteString(wrap("", "  ", fmt.Sprintf("%s, %s: %s", b.Lot, b.Recipe, startWords(b, stands))))
	if steps := stepWords(b); steps != "" {
		s.WriteString(wrap("  ", "  ", steps))
	}
	if b.Bottles.P50 > 0 {
		s.WriteString(wrap("  ", "  ", t.bottleWords(b)))
	}
	if needs := t.needWords(b.Needs); needs != "" && !stands {
		s.WriteString(wrap("  ", "  ", needs))
	}
	if b.Why != "" {
		s.WriteString(wrap("  ", "  ", "Held up by: "+b.Why))
	}
	for _, n := range b.Notes {
		if key := b.Recipe + ": " + n; !said[key] {
			said[key] = true
			s.WriteString(wrap("  ", "  ", n))
		}
	}
	return s.String()
}

func startWords(b tincture.Batch, stands bool) string {
	switch {
	case b.BlendedOn != 0 && b.Start == b.BlendedOn:
		return "blended of other batches " + shortDay(b.BlendedOn) + "."
	case b.BlendedOn != 0:
		return "put up " + shortDay(b.Start) + ", blended " + shortDay(b.BlendedOn) + "."
	case b.StrainedOn != 0:
		return "put up " + shortDay(b.Start) + ", strained " + shortDay(b.StrainedOn) + "."
	case stands:
		return "stands since " + shortDay(b.Start) + "."
	case b.Start == 0 && b.Reached < 0.005:
		return "cannot start within sight."
	case b.Start == 0:
		return fmt.Sprintf("no date that is sure enough; it can start at all in %s (early %s).", inTen(b.Reached), shortDay(b.Early))
	}
	return fmt.Sprintf("start %s, %s sure; early %s, late %s.", shortDay(b.Start), inTen(b.StartChance), shortDay(b.Early), shortDay(b.Late))
}

func stepWords(b tincture.Batch) string {
	var steps []string
	add := func(what string, d yard.Date) {
		if d != 0 {
			steps = append(steps, what+" "+shortDay(d))
		}
	}
	add("shake daily until", b.ShakeUntil)
	if b.Strain == b.Decoct && b.Decoct != 0 {
		add("strain and decoct", b.Strain)
	} else {
		add("strain", b.Strain)
		add("decoct", b.Decoct)
	}
	if b.Blend != b.Decoct {
		add("blend", b.Blend)
	}
	add("bottle", b.Bottled)
	if len(steps) == 0 {
		return ""
	}
	return capital(strings.Join(steps, "; ")) + "."
}

func (t Terminal) bottleWords(b tincture.Batch) string {
	strength := fmt.Sprintf("%.0f %% by volume (%.0f to %.0f)", b.ABV.P50, b.ABV.P10, b.ABV.P90)
	if b.MeasuredABV {
		strength = "measured at " + tenth(b.ABV.P50) + " % by volume"
	}
	return fmt.Sprintf("About %s, %s", bottlesOf(b, t.liquid), strength) + ratioWords(b) + "."
}

// ratioWords is the ratio of dried goods to finished liquid; "" without goods.
func ratioWords(b tincture.Batch) string {
	if b.Ratio.P50 <= 0 {
		return ""
	}
	if b.Ratio.P10 == b.Ratio.P90 {
		return fmt.Sprintf(", 1 g dried to %.1f ml", b.Ratio.P50)
	}
	return fmt.Sprintf(", 1 g dried to %.1f ml (%.1f to %.1f)", b.Ratio.P50, b.Ratio.P10, b.Ratio.P90)
}

func (t Terminal) needWords(needs []tincture.Need) string {
	var words []string
	for _, n := range needs {
		w := fmt.Sprintf("%s %s (on hand %s", needName(n), t.grams(n.Grams), t.grams(n.OnHand))
		if n.ShortChance >= leastShown {
			w += ", short " + inTen(n.ShortChance)
		}
		if n.Optional {
			w += ", may be left out"
		}
		words = append(words, w+")")
	}
	if len(words) == 0 {
		return ""
	}
	return "Needs " + strings.Join(words, ", ") + "."
}

// Cautions lists cautions, each once.
func (t Terminal) Cautions(cautions []string) string {
	var b strings.Builder
	seen := map[string]bool{}
	for _, c := range cautions {
		if !seen[c] {
			seen[c] = true
			b.WriteString(wrap("- ", "  ", c))
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return t.write("Cautions\n" + b.String())
}
