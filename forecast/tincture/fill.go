package tincture

import (
	"math"

	"hodaba/yard"
)

// scant is the share of a bottle by which the last one may fall short and
// still count: 2 ml of 100, less than a filling line may be out (27 CFR
// 19.356 (b) lets 4.5 % pass). Half a litre of tincture and half a litre of
// decoction make a drop less than a litre, and fill ten bottles of 100 ml.
const scant = 0.02

// Fill is the whole bottles that an amount of liquid fills, ml, by size in the
// order of sizes.
//
// Of several sizes, the next bottle is always of the size that is furthest
// behind its share; where that no longer fits, one of the largest that does
// takes what it can. So more liquid never fills fewer bottles, and no size is
// further from its share than a bottle or two.
func Fill(ml float64, sizes []yard.BottleShare) []yard.BottleCount {
	out := make([]yard.BottleCount, len(sizes))
	for i, s := range sizes {
		out[i].SizeML = s.ML
	}
	if len(sizes) == 1 {
		out[0].Count = whole(ml/sizes[0].ML + scant)
		return out
	}
	used := bulk(ml, sizes, out)
	for {
		next, behind := 0, math.Inf(-1)
		for i, s := range sizes {
			if b := s.Share*used - float64(out[i].Count)*s.ML; b > behind {
				next, behind = i, b
			}
		}
		if !fits(ml-used, sizes[next].ML) {
			break
		}
		out[next].Count++
		used += sizes[next].ML
	}
	last := -1
	for i, s := range sizes {
		if fits(ml-used, s.ML) && (last < 0 || s.ML > sizes[last].ML) {
			last = i
		}
	}
	if last >= 0 {
		out[last].Count++
	}
	return out
}

// fits reports whether what is left fills a bottle.
func fits(ml, bottleML float64) bool { return bottleML > 0 && ml >= bottleML*(1-scant) }

// counted is up to how many bottles are filled one after another.
const counted = 5000

// bulk fills most of very many bottles at once, and returns what they hold.
func bulk(ml float64, sizes []yard.BottleShare, out []yard.BottleCount) (used float64) {
	per := 0.0 // ml of a bottle, by the number of each
	for _, s := range sizes {
		per += s.Share / s.ML
	}
	if !(ml*per > counted) {
		return 0
	}
	for i, s := range sizes {
		out[i].Count = whole((ml - counted/2/per) * s.Share / s.ML)
		used += float64(out[i].Count) * s.ML
	}
	return used
}

// whole is a number of bottles, as far as anyone counts.
func whole(n float64) int { return int(math.Floor(math.Max(0, math.Min(n, 1e9)))) }

// bottlesIn is how many bottles of all sizes an amount fills.
func bottlesIn(ml float64, sizes []yard.BottleShare) float64 {
	n := 0
	for _, c := range Fill(ml, sizes) {
		n += c.Count
	}
	return float64(n)
}

// fillFor is the least amount, ml, that fills so many bottles.
func fillFor(bottles int, sizes []yard.BottleShare) float64 {
	if len(sizes) == 1 {
		return (float64(bottles) - scant + 1e-9) * sizes[0].ML
	}
	low, high := 0.0, 1.0
	for bottlesIn(high, sizes) < float64(bottles) && high < 1e12 {
		high *= 2
	}
	for range 60 {
		if mid := (low + high) / 2; bottlesIn(mid, sizes) < float64(bottles) {
			low = mid
		} else {
			high = mid
		}
	}
	return high * (1 + 1e-12)
}

// bottlesHolding is how many bottles hold an amount altogether, the last one
// perhaps not in full.
func bottlesHolding(ml float64, sizes []yard.BottleShare) int {
	n := 0
	for _, s := range sizes {
		n += whole(ml*s.Share/s.ML + 1 - scant)
	}
	return n
}

// Sized is the bottles of one size.
type Sized struct {
	ML      float64
	Bottles Amount
}

// sizesOf sums up filled bottles by size.
func sizesOf(fills [][]yard.BottleCount) (list []Sized) {
	for i, c := range fills[0] {
		v := make([]float64, len(fills))
		for k := range fills {
			v[k] = float64(fills[k][i].Count)
		}
		list = append(list, Sized{c.SizeML, amount(v)})
	}
	return list
}
