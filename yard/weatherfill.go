package yard

import (
	"fmt"
	"math"
)

// Bounds beyond which a whole column cannot be in the unit that was assumed:
// so many values outside of what is believed, and such a share of all.
const (
	outsideCount = 3
	outsideShare = 0.02
)

// units settles the unit of each element. Temperatures whose unit is not said
// and that cannot be °C are left out as a whole.
func (t *weatherTable) units() {
	h := t.head
	for e := range measured {
		said := h.unit[e] != nil
		h.settle(e)
		if said || e == rainfall || !h.has(e) {
			continue
		}
		out, n, worst, line := 0, 0, 0.0, int32(0)
		for i := range t.rows {
			if r := &t.rows[i]; r.has[e] {
				n++
				if r.value[e] < coldest || r.value[e] > hottest {
					if out++; math.Abs(r.value[e]) > math.Abs(worst) {
						worst, line = r.value[e], r.line
					}
				}
			}
		}
		if out < outsideCount || float64(out) < outsideShare*float64(n) {
			continue
		}
		t.problems = append(t.problems, Problem{File: t.file, Line: int(line), Grade: Aside,
			Text: fmt.Sprintf("the column %s holds %s, which no %s in °C can be, and its unit is not said: it is left out",
				shown(h.headings[h.at[e]]), decimal(worst), elementWords[e]),
			Remedy: fmt.Sprintf("say its unit in the heading, such as %s or %s", "t"+elementWords[e][:3]+"_f", "t"+elementWords[e][:3]+" (0.1 °C)")})
		for i := range t.rows {
			t.rows[i].has[e] = false
		}
	}
}

// fill puts the rows into consecutive days.
func (t *weatherTable) fill() {
	if len(t.rows) == 0 {
		return
	}
	from, to := t.rows[0].day, t.rows[0].day
	for i := range t.rows {
		from, to = min(from, t.rows[i].day), max(to, t.rows[i].day)
	}
	w := &Weather{From: from, Days: make([]WeatherDay, to-from+1)}
	t.lines = make([]int32, len(w.Days))
	for i := range t.rows {
		r := &t.rows[i]
		day := t.measured(r)
		at := r.day - from
		if t.lines[at] == 0 {
			t.lines[at], w.Days[at] = r.line, day
		} else {
			t.again(&w.Days[at], &day, r, t.lines[at])
		}
	}
	t.weather = w.Slice(from, to)
	if t.weather != nil {
		t.lines = t.lines[t.weather.From-from:][:len(t.weather.Days)]
	}
}

// measured converts the numbers of a row and leaves out what cannot be.
func (t *weatherTable) measured(r *weatherRow) (d WeatherDay) {
	for e := range measured {
		if !r.has[e] {
			continue
		}
		u := t.head.unit[e]
		v := u.base(r.value[e])
		switch {
		case e == rainfall && u == tenthMM && r.value[e] == -1:
			t.traces++
			v = 0
		case e == rainfall && !(v >= 0 && v <= mostRain):
			t.say("rain", Aside, int(r.line), fmt.Sprintf("%s %s of rain on %s cannot be, and is left out", decimal(r.value[e]), u.name, calendarDay(r.day)),
				"mend the cell, or leave it blank")
			continue
		case e != rainfall && !(v >= coldest && v <= hottest):
			t.say("temperature", Aside, int(r.line),
				fmt.Sprintf("a %s of %s %s on %s cannot be, and is left out", elementWords[e], decimal(r.value[e]), u.name, calendarDay(r.day)),
				"mend the cell, or leave it blank")
			continue
		}
		d.set(e, v+0) // no −0
	}
	if d.HasTemp && d.TMin > d.TMax {
		t.say("swapped", Odd, int(r.line),
			fmt.Sprintf("the minimum of %s, %s °C, is above its maximum, %s °C: they are taken the other way round",
				calendarDay(r.day), decimal(d.TMin), decimal(d.TMax)),
			"exchange the two cells")
		d.TMin, d.TMax = d.TMax, d.TMin
	}
	return d
}

// sameReading is how far two readings of one thing may be apart, °C or mm:
// they were rounded to tenths in different ways.
const sameReading = 0.05 + 1e-9

// again compares a day that stands twice with the first time.
func (t *weatherTable) again(first, second *WeatherDay, r *weatherRow, line int32) {
	differ := ""
	for e := range measured {
		old, known := first.get(e)
		v, ok := second.get(e)
		switch {
		case ok && !known:
			first.set(e, v)
		case ok && math.Abs(v-old) > sameReading && differ == "":
			differ = fmt.Sprintf("with another %s (%s there, %s here)", elementWords[e], decimal(old), decimal(v))
		}
	}
	if first.HasTemp && first.TMin > first.TMax {
		first.TMin, first.TMax = first.TMax, first.TMin
	}
	if differ == "" {
		t.say("twice", Odd, int(r.line),
			fmt.Sprintf("%s stands in line %d already, and nothing differs", calendarDay(r.day), line), "delete one of the two lines")
		return
	}
	t.say("twice otherwise", Aside, int(r.line),
		fmt.Sprintf("%s stands in line %d already, %s: the first counts", calendarDay(r.day), line, differ), "delete the line that is wrong")
}

// holes points at runs of days within the record of which something is not
// known. They are no mistakes.
func (t *weatherTable) holes() {
	if t.weather == nil {
		return
	}
	inside := [2]Span{t.extent(hasTemp), t.extent(hasRain)}
	notes := tally{file: t.file, shown: map[string]*sort{}}
	lacks := func(i int) (words string) {
		d := &t.weather.Days[i]
		day := float64(i)
		temp := !d.HasTemp && day > inside[0].Low && day < inside[0].High
		rain := !d.HasRain && day > inside[1].Low && day < inside[1].High
		switch {
		case temp && rain:
			return "neither temperature nor rain"
		case temp:
			return "no temperature"
		case rain:
			return "no rain"
		}
		return ""
	}
	for i := 0; i < len(t.weather.Days); {
		words, start := lacks(i), i
		for i++; i < len(t.weather.Days) && lacks(i) == words; i++ {
		}
		if words == "" {
			continue
		}
		notes.say("hole", Odd, t.lineNear(start), words+" is known "+t.runWords(start, i-1), "fill it in if you have it; the forecast fills what is not known")
	}
	notes.close()
	t.notes = append(t.notes, notes.problems...)
}

func hasTemp(d *WeatherDay) bool { return d.HasTemp }
func hasRain(d *WeatherDay) bool { return d.HasRain }

// extent is the first and last day on which something is known.
func (t *weatherTable) extent(is func(*WeatherDay) bool) Span {
	s := Span{math.Inf(1), math.Inf(-1)}
	for i := range t.weather.Days {
		if is(&t.weather.Days[i]) {
			s.Low, s.High = min(s.Low, float64(i)), float64(i)
		}
	}
	return s
}

// lineNear is the line of a day, or of the last one before it that has one.
func (t *weatherTable) lineNear(i int) int {
	for ; i >= 0; i-- {
		if t.lines[i] > 0 {
			return int(t.lines[i])
		}
	}
	return 0
}

func (t *weatherTable) runWords(first, last int) string {
	from, to := t.weather.From+Date(first), t.weather.From+Date(last)
	if from == to {
		return "on " + calendarDay(from)
	}
	return fmt.Sprintf("from %s to %s (%d days)", calendarDay(from), calendarDay(to), last-first+1)
}

// noteUnused names the columns that are not taken, and what was taken as no
// rain.
func (t *weatherTable) noteUnused() {
	if names := t.head.unused(); len(names) > 0 {
		words := "columns " + fewNames(names) + " are"
		if len(names) == 1 {
			words = "column " + clippedName(names[0]) + " is"
		}
		t.notes = append(t.notes, Problem{File: t.file, Line: t.head.line, Grade: Odd, Text: "the " + words + " not used",
			Remedy: "nothing needs doing; the day, minimum, maximum and rain are read"})
	}
	if t.traces > 0 {
		words := "1 day with a trace of rain is"
		if t.traces > 1 {
			words = fmt.Sprintf("%d days with a trace of rain are", t.traces)
		}
		t.notes = append(t.notes, Problem{File: t.file, Line: t.head.line, Grade: Odd, Text: words + " taken as 0 mm", Remedy: "nothing needs doing"})
	}
}

// leastRainYear is the rain of a year, mm, below which it looks like inches:
// less falls in deserts only (our judgement).
const leastRainYear = 100

// noteRain points at rain that looks like inches where no unit is said.
func (t *weatherTable) noteRain() {
	_, days := t.weather.Known()
	if days < 300 || t.head.why[rainfall] != notSaidUnit {
		return
	}
	sum := 0.0
	for i := range t.weather.Days {
		sum += t.weather.Days[i].Rain
	}
	if year := sum / float64(days) * 365.25; year < leastRainYear {
		t.notes = append(t.notes, Problem{File: t.file, Line: t.head.line, Grade: Odd,
			Text:   fmt.Sprintf("the rain adds up to %.0f mm a year, and its unit is not said", year),
			Remedy: "if it is in inches, say so in the heading: rain_in"})
	}
}
