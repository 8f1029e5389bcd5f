package charts

import "hodaba/yard"

// strip is a row of month boxes for each year, filled from below like a rain
// gauge.
type strip struct {
	Said  string // the sentence
	Of    string // what the chances are of, for those who hear the page
	Fill  string // class of the fill: "pick" or "through"
	Years []boxYear
}

type boxYear struct {
	Year  int
	Boxes []box
}

// box is one month.
type box struct {
	Place  int    // column, 1 January to 12 December
	Name   string // "September 2026"
	Fill   int    // percent of the height
	Top    int    // 100 − Fill
	Chance string // as written in the box, without its sign
	Tight  bool   // Chance has three signs, which want smaller letters on a narrow screen
	Winter bool   // hatched
}

// monthLetters head the columns of a strip.
var monthLetters = []string{"J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"}

// add puts one month into its year's row; months must come in order.
func (s *strip) add(month yard.Date, p float64, winter bool) {
	if n := len(s.Years); n == 0 || s.Years[n-1].Year != month.Year() {
		s.Years = append(s.Years, boxYear{Year: month.Year()})
	}
	y := &s.Years[len(s.Years)-1]
	fill := int(min(max(p, 0), 1)*100 + 0.5)
	y.Boxes = append(y.Boxes, box{
		Place: int(month.Month()), Name: monthYear(month),
		Fill: fill, Top: 100 - fill, Chance: chance(p), Tight: len(chance(p)) > 2, Winter: winter,
	})
}

// Letters are the heads of the twelve columns.
func (s strip) Letters() []string { return monthLetters }

// Empty reports whether there is nothing to show.
func (s strip) Empty() bool { return len(s.Years) == 0 }

// Hatched reports whether any month is hatched, so that the legend can leave
// out what is not there.
func (s strip) Hatched() bool {
	for _, y := range s.Years {
		for _, b := range y.Boxes {
			if b.Winter {
				return true
			}
		}
	}
	return false
}
