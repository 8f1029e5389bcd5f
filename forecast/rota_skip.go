package forecast

import "math"

// SkipYear is what a calendar year brings of all piles whose strain can be
// forced, with a tank book and with another, in kg fresh on average.
type SkipYear struct {
	Year          int
	With, Without float64
	Error         float64 // standard error of the difference, course by course
	Told          bool    // the difference is beyond chance
}

// surely is by how many standard errors a difference is beyond chance.
const surely = 2

// SkipYears compares two forecasts made on the same possible courses, year by
// year from that of today to the last whole one.
func SkipYears(with, without *CropBook) (years []SkipYear) {
	months := len(with.Months)
	for from := 0; from < months; {
		year, to := with.Months[from].Year(), from
		for to < months && with.Months[to].Year() == year {
			to++
		}
		if whole := to < months || with.Months[to-1].Month() == 12; whole || from == 0 {
			years = append(years, skipYearOf(year, with, without, from, to))
		}
		from = to
	}
	return years
}

// skipYearOf compares the months from from and before to.
func skipYearOf(year int, with, without *CropBook, from, to int) SkipYear {
	sum, squares, total := 0.0, 0.0, 0.0
	y := SkipYear{Year: year}
	difference := make([]float64, with.Draws)
	for n := range with.Draws {
		a, b, w := with.forced(n, from, to), without.forced(n, from, to), with.Weight[n]
		y.With, y.Without = y.With+w*a, y.Without+w*b
		difference[n] = b - a
		sum, total = sum+w*(b-a), total+w
	}
	if total <= 0 {
		return y
	}
	y.With, y.Without = y.With/total, y.Without/total
	for n, d := range difference {
		e := with.Weight[n] * (d - sum/total)
		squares += e * e
	}
	y.Error = math.Sqrt(squares) / total
	y.Told = math.Abs(sum/total) > surely*y.Error
	return y
}

// forced is kg fresh of the piles whose strain can be forced, of a draw.
func (b *CropBook) forced(draw, from, to int) (kg float64) {
	for _, p := range b.Piles {
		if p.Forced && !p.Planned {
			kg += p.Between(draw, from, to)
		}
	}
	return kg
}
