package tincture

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/ar"
	"github.com/rickar/cal/v2/at"
	"github.com/rickar/cal/v2/au"
	"github.com/rickar/cal/v2/be"
	"github.com/rickar/cal/v2/bg"
	"github.com/rickar/cal/v2/br"
	"github.com/rickar/cal/v2/ca"
	"github.com/rickar/cal/v2/ch"
	"github.com/rickar/cal/v2/cz"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/dk"
	"github.com/rickar/cal/v2/es"
	"github.com/rickar/cal/v2/fr"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/gr"
	"github.com/rickar/cal/v2/hr"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/it"
	"github.com/rickar/cal/v2/jp"
	"github.com/rickar/cal/v2/lt"
	"github.com/rickar/cal/v2/lv"
	"github.com/rickar/cal/v2/mw"
	"github.com/rickar/cal/v2/nc"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/no"
	"github.com/rickar/cal/v2/nz"
	"github.com/rickar/cal/v2/pl"
	"github.com/rickar/cal/v2/ro"
	"github.com/rickar/cal/v2/ru"
	"github.com/rickar/cal/v2/se"
	"github.com/rickar/cal/v2/si"
	"github.com/rickar/cal/v2/sk"
	"github.com/rickar/cal/v2/ua"
	"github.com/rickar/cal/v2/us"
	"github.com/rickar/cal/v2/za"

	"hodaba/yard"
)

// countries are the lists of public holidays by country code, and by country
// and state where a country has no list of its own or its states differ.
var countries = map[string][]*cal.Holiday{
	"ar": ar.Holidays, "at": at.Holidays, "be": be.Holidays, "bg": bg.Holidays, "br": br.Holidays,
	"ca": ca.Holidays, "ch": ch.Holidays, "cz": cz.Holidays, "de": de.Holidays, "dk": dk.Holidays,
	"es": es.Holidays, "fr": fr.Holidays, "gb": gb.Holidays, "gr": gr.Holidays, "hr": hr.Holidays,
	"ie": ie.Holidays, "it": it.Holidays, "jp": jp.Holidays, "lt": lt.Holidays, "lv": lv.Holidays,
	"mw": mw.Holidays, "nc": nc.Holidays, "nl": nl.Holidays, "no": no.Holidays, "nz": nz.Holidays,
	"pl": pl.Holidays, "ro": ro.Holidays, "ru": ru.Holidays, "se": se.Holidays, "si": si.Holidays,
	"sk": sk.Holidays, "ua": ua.Holidays, "us": us.Holidays, "za": za.Holidays,

	"au-act": au.HolidaysACT, "au-nsw": au.HolidaysNSW, "au-nt": au.HolidaysNT, "au-qld": au.HolidaysQLD,
	"au-sa": au.HolidaysSA, "au-tas": au.HolidaysTAS, "au-vic": au.HolidaysVIC, "au-wa": au.HolidaysWA,

	"de-bb": de.HolidaysBB, "de-be": de.HolidaysBE, "de-bw": de.HolidaysBW, "de-by": de.HolidaysBY,
	"de-hb": de.HolidaysHB, "de-he": de.HolidaysHE, "de-hh": de.HolidaysHH, "de-mv": de.HolidaysMV,
	"de-ni": de.HolidaysNI, "de-nw": de.HolidaysNW, "de-rp": de.HolidaysRP, "de-sh": de.HolidaysSH,
	"de-sl": de.HolidaysSL, "de-sn": de.HolidaysSN, "de-st": de.HolidaysST, "de-th": de.HolidaysTH,
}

// Countries lists the codes that yard.Working.Country may have.
func Countries() []string { return slices.Sorted(maps.Keys(countries)) }

// calendar is the Workdays of a yard. It is safe for several goroutines.
type calendar struct {
	weekdays     [7]bool
	closed, open map[yard.Date]bool
	away         []yard.Absence
	holidays     []*cal.Holiday
	years        sync.Map // year to map[yard.Date]bool: days off for a holiday
}

// NewWorkdays returns the days on which a yard works: the weekdays given
// (Monday to Friday where none are), without the public holidays of the
// country on the day on which they are observed, without closed days and
// absences, and with days that are open in spite of all that. A day named both
// closed and open is closed; a day open by name beats an absence.
//
// No country means no holidays. "gb" is England and Wales only, "us" the
// federal list with its rule for weekends (a Saturday's holiday on the Friday
// before, a Sunday's on the Monday after), and "nl" counts Good Friday and 5 May
// in every year: what differs is for closed and open days to mend, and so is
// a day off by a single proclamation.
//
// An unknown country is an error that lists those that are known; an absence
// that ends before it begins is one too.
func NewWorkdays(w yard.Working) (Workdays, error) {
	c := &calendar{closed: setOf(w.Closed), open: setOf(w.Open), away: w.Away}
	for _, d := range w.Weekdays {
		if d < time.Sunday || d > time.Saturday {
			return nil, fmt.Errorf("weekday %d does not exist: 0 is Sunday, 6 is Saturday", int(d))
		}
		c.weekdays[d] = true
	}
	if len(w.Weekdays) == 0 {
		c.weekdays = [7]bool{false, true, true, true, true, true, false}
	}
	for _, a := range w.Away {
		if a.To < a.From {
			return nil, fmt.Errorf("absence from %v to %v ends before it begins: change the two days round", a.From, a.To)
		}
	}
	if w.Country == "" {
		return c, nil
	}
	holidays, ok := countries[strings.ToLower(w.Country)]
	if !ok {
		return nil, fmt.Errorf("no holidays are known for country %q: write one of %s, or leave it out and name closed days",
			w.Country, strings.Join(Countries(), ", "))
	}
	c.holidays = holidays
	return c, nil
}

func setOf(days []yard.Date) map[yard.Date]bool {
	m := make(map[yard.Date]bool, len(days))
	for _, d := range days {
		m[d] = true
	}
	return m
}

// Open reports whether work is done on d.
func (c *calendar) Open(d yard.Date) bool {
	switch {
	case c.closed[d]:
		return false
	case c.open[d]:
		return true
	case !c.weekdays[d.Weekday()]:
		return false
	}
	for _, a := range c.away {
		if d >= a.From && d <= a.To {
			return false
		}
	}
	return !c.daysOff(d.Year())[d]
}

// lookAhead is how far Next looks for an open day.
const lookAhead = 10 * 366

// Next is the first open day on or after d; the zero Date where there is none
// for ten years, as under an absence without end.
func (c *calendar) Next(d yard.Date) yard.Date {
	for end := d + lookAhead; d < end; d++ {
		if c.Open(d) {
			return d
		}
	}
	return 0
}

// daysOff returns the days of a year on which a holiday is observed. The
// years beside it count: 1 January can be observed on 31 December before.
func (c *calendar) daysOff(year int) map[yard.Date]bool {
	if off, ok := c.years.Load(year); ok {
		return off.(map[yard.Date]bool)
	}
	off := map[yard.Date]bool{}
	for _, h := range c.holidays {
		for y := year - 1; y <= year+1; y++ {
			_, observed := h.Calc(y)
			if observed.Year() == year {
				off[yard.NewDate(observed.Date())] = true
			}
		}
	}
	c.years.Store(year, off)
	return off
}
