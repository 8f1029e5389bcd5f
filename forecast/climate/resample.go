package climate

import (
	"strconv"

	"hodaba/forecast/chance"
	"hodaba/yard"
)

// resampleYears is how many whole years a record must have before futures are
// put together from them.
const resampleYears = 20

// blockDays is the length of the pieces in which a future is put together: a
// season.
const blockDays = 91

// Resampler puts the future together from seasons of the grower's own
// record, each with the warming since then; the past, and what the record
// lacks, come from a Generator.
type Resampler struct {
	past  *Generator
	from  yard.Date
	days  []Day
	whole []int // years without a gap, followed by another such
}

// NewResampler returns a Resampler, or ok false where the record has fewer
// than twenty years of whole days.
func NewResampler(g *Generator, w *yard.Weather) (r *Resampler, ok bool) {
	if w == nil {
		return nil, false
	}
	r = &Resampler{past: g, from: w.From, days: make([]Day, len(w.Days))}
	full := map[int]int{}
	for i, d := range w.Days {
		r.days[i] = Day{float32(d.TMin), float32(d.TMax), float32(d.Rain)}
		if d.HasTemp && d.HasRain {
			full[(w.From+yard.Date(i)).Year()]++
		}
	}
	for y := w.From.Year(); y < (w.From + yard.Date(len(w.Days))).Year(); y++ {
		if full[y] >= 365 && full[y+1] >= 365 {
			r.whole = append(r.whole, y)
		}
	}
	return r, len(r.whole) >= resampleYears
}

// Fill implements Source.
func (r *Resampler) Fill(dst []Day, known []Known, from yard.Date, draw int, seed uint64) {
	r.past.Fill(dst, known, from, draw, seed)
	first := max(int(r.past.anchor-from), lastKnown(known)+1, 0)
	for block := first; block < len(dst); block += blockDays {
		rnd := chance.NewStreams(seed, "season of the record", strconv.Itoa((block-first)/blockDays)).Draw(draw)
		day := from + yard.Date(block)
		source := yard.NewDate(r.whole[rnd.IntN(len(r.whole))], day.Month(), min(day.Day(), 28))
		warmer := float32(r.past.site.Warmer(day) - r.past.site.Warmer(source))
		for i := block; i < min(block+blockDays, len(dst)); i++ {
			d := r.days[int(source-r.from)+i-block]
			if known == nil || known[i]&Temperature == 0 {
				dst[i].TMin, dst[i].TMax = d.TMin+warmer, d.TMax+warmer
			}
			if known == nil || known[i]&Rain == 0 {
				dst[i].Rain = d.Rain
			}
		}
	}
}
