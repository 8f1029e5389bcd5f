package charts

import (
	"fmt"
	"strings"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// RecordOf is what a batch's record says beyond its story.
type RecordOf struct {
	Measured  [][]string // what came out, against what, and the share
	Otherwise []LotLine  // what went otherwise, and notes
	Mind      []string   // cautions that its own record calls for
}

// LotOf is the story of a lot, of a batch with its record; see Lot. What a
// batch was to yield is taken from the plan of the input.
func LotOf(in Input, lot string) (LotStory, bool) {
	story, ok := Lot(in.State, lot)
	b := newBook(in)
	if t := Batch(b.State, lot); ok && t != nil {
		r := RecordOf{Otherwise: otherwise(t), Mind: b.batchMind(t)}
		if g := b.measured(t); g != nil {
			r.Measured = g.Rows
		}
		story.Record = &r
	}
	return story, ok
}

// otherwise is what went otherwise with a batch, and what was noted.
func otherwise(t *yard.Batch) (lines []LotLine) {
	for _, d := range t.Deviations {
		says := d.Text
		if !d.Note {
			says = "Went otherwise: " + says
		}
		lines = append(lines, LotLine{d.On, says, entryID(d.Entry), d.By})
	}
	return lines
}

// made is how a step of a batch came out against what was to be expected.
func (b *book) made(t *yard.Batch, step string) (y tincture.Yield, ok bool) {
	if b.Result.Plan == nil {
		return y, false
	}
	for _, m := range b.Result.Plan.Made {
		for _, y := range m.Yields {
			if m.Lot == t.Lot && y.Step == step {
				return y, true
			}
		}
	}
	return y, false
}

// strengthOf is the strength of a batch, % by volume: measured, else worked out;
// 0 where neither is known.
func (b *book) strengthOf(t *yard.Batch) (abv float64, measured bool) {
	if t.ABV > 0 || b.Result.Plan == nil {
		return t.ABV, t.ABV > 0
	}
	for _, w := range b.Result.Plan.Worked {
		if w.Lot == t.Lot {
			return w.ABV, false
		}
	}
	return 0, false
}

// cooled is what the cooling log of a pot shows, in a word or two, and what is
// wrong with it.
func (b *book) cooled(x yard.Decoction) (shows, why string) {
	is, why := x.Cooled.Check(b.Data.Practice.Cooling)
	return map[yard.Cooled]string{yard.CoolInTime: "in time", yard.CoolLate: "too slow", yard.CoolUnfinished: "not shown"}[is], why
}

// coolingLimits are the limits of a decoction that cools from 57 °C, in words.
func (b *book) coolingLimits() string {
	c := b.Data.Practice.Cooling
	return fmt.Sprintf("%s °C in %s h, %s °C in %s h in all", exact(c.Cool.Value, 1), exact(c.CoolHours.Value, 1), exact(c.Cold.Value, 1), exact(c.ColdHours.Value, 1))
}

// batchMind are the cautions that the record of a batch calls for.
func (b *book) batchMind(t *yard.Batch) (list []string) {
	for _, x := range t.Decoctions {
		switch shows, why := b.cooled(x); shows {
		case "too slow":
			list = append(list, "The decoction of "+sinceWords(x.On)+" cooled too slowly: "+why+
				" (FDA Food Code 3-501.14). It is a low-acid food: what was not heated up and cooled again at once is to be discarded.")
		case "not shown":
			list = append(list, "Whether the decoction of "+sinceWords(x.On)+" cooled in time is not shown: "+why+" (FDA Food Code 3-501.14).")
		}
	}
	if abv, measured := b.strengthOf(t); abv > 0 {
		c := tincture.KeepingCaution(abv, b.Data.Practice.Keeping)
		if measured {
			c = strings.Replace(c, "Worked out", "Measured", 1)
		}
		if c != "" {
			list = append(list, c)
		}
	}
	return list
}

// stepSays is when a step was done and how warm it was: ", at 14:05, 18 C".
func stepSays(s yard.Step) string {
	words := ""
	if s.At.Text != "" {
		words += ", at " + s.At.String()
	}
	if s.Temperature.Text != "" {
		words += ", at " + s.Temperature.Text
	}
	return words
}

// simmered is from when to when a pot simmered, and how it cooled.
func simmered(x yard.Decoction) string {
	words := ""
	if x.From.Text != "" {
		words += " from " + x.From.String()
	}
	if x.To.Text != "" {
		words += " until " + x.To.String()
	}
	if words != "" {
		words = ", simmering" + words
	}
	if x.Cooled.Text != "" {
		words += ", cooled: " + x.Cooled.Text
	}
	return words
}
