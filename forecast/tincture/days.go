package tincture

import "hodaba/yard"

// diary holds the open days of a stretch of time, so that a day is looked up
// and not worked out.
type diary struct {
	from yard.Date
	next []yard.Date // first open day on or after from+i; zero where none
	days Workdays
}

func newDiary(days Workdays, from, to yard.Date) *diary {
	d := &diary{from: from, next: make([]yard.Date, max(int(to-from)+1, 1)), days: days}
	last := days.Next(to + 1)
	for i := len(d.next) - 1; i >= 0; i-- {
		if day := from + yard.Date(i); days.Open(day) {
			last = day
		}
		d.next[i] = last
	}
	return d
}

// onOrAfter is the first open day on or after a day; zero where there is none.
func (d *diary) onOrAfter(day yard.Date) yard.Date {
	if i := int(day - d.from); i >= 0 && i < len(d.next) {
		return d.next[i]
	}
	return d.days.Next(day)
}

// pace is how long a recipe stands.
type pace struct {
	first, last int // days after the start on which it may be strained
	jars        int // 0 where it stands in none
	pot         bool
}

// settle is the days between the last shaking and straining: none the day
// before straining (common practice, no source), so that it settles.
const settle = 2

// paceOf is how long a recipe stands: from MacerateMin to MacerateMax days,
// and where it is shaken at least ShakeDays and the day of settling too, as
// far as MacerateMax allows.
func paceOf(r yard.Recipe) pace {
	if !macerates(r) {
		return pace{pot: true}
	}
	first := r.MacerateMin
	if r.ShakeDays > 0 {
		first = max(first, min(r.ShakeDays+settle, r.MacerateMax))
	}
	return pace{first: first, last: r.MacerateMax, jars: r.Jars, pot: decocts(r)}
}

// strainOn is the first open day, from that many days after start to that many,
// on which the pot is free where it is needed; zero where there is none.
func (d *diary) strainOn(b *book, start yard.Date, p pace) yard.Date {
	last := start + yard.Date(p.last)
	for day := d.onOrAfter(start + yard.Date(p.first)); day != 0 && day <= last; day = d.onOrAfter(day + 1) {
		if !p.pot || !b.potBusy(day) {
			return day
		}
	}
	return 0
}

// steps writes the days of a batch that starts and is strained on two days.
// What is decocted is decocted and blended on the day of straining, so that a
// decoction, which does not keep, waits for nothing; it is bottled on the next
// open day, or on the same one where nothing was boiled.
func (d *diary) steps(b *Batch, r yard.Recipe, start, strain yard.Date) {
	b.Start = start
	b.Bottled = d.bottledOn(r, strain)
	if macerates(r) {
		b.Strain = strain
		if r.ShakeDays > 0 {
			b.ShakeUntil = ShakeUntil(r, start, strain)
		}
	}
	if decocts(r) {
		b.Decoct = strain
	}
	if blends(r) {
		b.Blend = strain
	}
}

// ShakeUntil is the last day on which a batch is shaken that is put up and
// strained on two days: not on the day before straining.
func ShakeUntil(r yard.Recipe, start, strain yard.Date) yard.Date {
	return min(start+yard.Date(r.ShakeDays), max(strain-settle, start))
}

// window is the first and the last working day on which a batch that was put up
// on a day, as vague as it is known, may be strained; zeros where there is none.
func (d *diary) window(on yard.When, p pace) (from, to yard.Date) {
	first, last := on.To+yard.Date(p.first), on.From+yard.Date(p.last)
	if from = d.onOrAfter(first); from == 0 || from > last {
		return 0, 0
	}
	for to = last; !d.days.Open(to); to-- {
	}
	return from, to
}

// blends reports whether anything is poured together.
func blends(r yard.Recipe) bool {
	switch r.Method {
	case MacerationOnly:
		return r.ToABV > 0
	case DecoctionOnly:
		return r.SpiritMLJar > 0
	}
	return true
}

// bottledOn is the day on which a batch that is strained on a day is bottled.
func (d *diary) bottledOn(r yard.Recipe, strain yard.Date) yard.Date {
	if decocts(r) {
		return d.onOrAfter(strain + 1)
	}
	return strain
}
