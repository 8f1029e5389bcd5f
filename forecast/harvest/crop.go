package harvest

import (
	"hodaba/data"
)

// Crop is the life crop of one cohort of logs: a stock that flushes take
// from.
//
// Purpose: fresh mass of each flush. Equations: in fruiting year k the crop
// holds back what later years are to give, L·(1−W_k), W_k the share of the
// life crop due by the end of year k, see due; a flush takes the yield's flush share,
// times the year's factor, of the rest. After the last year nothing is held
// back. So what a poor year leaves carries on, and over an unlimited time
// all of L is taken. Parameters: data.Yield. State: what is left, the first
// picking. Needs flushes from fruit. Errors: none.
type Crop struct {
	yield *data.Yield
	life  float64 // kg fresh over the cohort's life
	left  float64
	lasts float64 // times as long as a log of reference diameter
	first int32   // day of the first picking
	begun bool
}

// NewCrop returns a crop of life kg fresh, of logs of reference diameter.
func NewCrop(y *data.Yield, life float64) Crop {
	return Crop{yield: y, life: life, left: life, lasts: 1}
}

// Lasting returns the crop, untouched, spread over so many times its years;
// see Lasts.
func (c Crop) Lasting(times float64) Crop {
	c.lasts = times
	return c
}

// Left is what has not been taken yet, kg fresh.
func (c *Crop) Left() float64 { return c.left }

// daysPerYear of fruiting.
const daysPerYear = 365.25

// Flush takes one flush picked on a day and returns its mass, kg fresh.
// factor is the year's, one in a mean year.
func (c *Crop) Flush(day int32, factor float64) float64 {
	if !c.begun {
		c.begun, c.first = true, day
	}
	year := int(float64(day-c.first) / daysPerYear)
	free := c.left - c.life*(1-due(c.yield.YearWeights, year, c.lasts))
	if free <= 0 {
		return 0
	}
	got := free * min(c.yield.FlushShare.Value*factor, 1)
	c.left -= got
	return got
}

// Lose takes mass that is known to have gone otherwise, at most what is
// left, and returns what it took.
func (c *Crop) Lose(kg float64) float64 {
	kg = min(kg, c.left)
	c.left -= kg
	return kg
}

// Begun reports whether anything was picked of it.
func (c *Crop) Begun() bool { return c.begun }

// Pick takes mass that was picked by a day, at most what is left, and returns
// what it took: the fruiting years count from then where nothing was picked
// before.
func (c *Crop) Pick(day int32, kg float64) float64 {
	if !c.begun && kg > 0 {
		c.begun, c.first = true, day
	}
	return c.Lose(kg)
}

// whole is the share of a crop's life within which it counts as untouched:
// rounding.
const whole = 1e-9

// GiveBack puts back mass of flushes that were never picked, at most up to
// the life crop, and returns what it put back. A crop of which nothing was
// picked has not begun.
func (c *Crop) GiveBack(kg float64) float64 {
	kg = min(kg, c.life-c.left)
	c.left += kg
	if c.life-c.left <= whole*c.life {
		c.left, c.begun = c.life, false
	}
	return kg
}
