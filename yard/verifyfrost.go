package yard

import (
	"fmt"

	"hodaba/data"
)

// oddFrost points at soaks in a frost: by the own weather where it was
// measured, else where the nights of the month freeze as a rule. Logs full of
// water that freeze lose their bark.
func oddFrost(s *State, d *data.Set) (out []Problem) {
	if d == nil {
		return nil
	}
	for _, p := range s.Piles {
		for _, k := range p.Soaked {
			if p.Entries[0].On.From > k.On.To || k.Entry == nil {
				continue // of the pile it was split from, told there
			}
			if why := s.frostOn(k.On, d); why != "" {
				out = append(out, k.Entry.odd("on", fmt.Sprintf("%s was soaked on %s: %s", p.Name, k.On, why),
					"it counts as written; look at the day, and at the bark of these logs"))
			}
		}
	}
	return onceEntry(out)
}

// onceEntry leaves out what is said of an entry again.
func onceEntry(problems []Problem) (out []Problem) {
	seen := map[string]bool{}
	for _, p := range problems {
		if !seen[p.Entry] {
			out = append(out, p)
		}
		seen[p.Entry] = true
	}
	return out
}

// freezes is the temperature at which water does, °C.
const freezes = 0.0

// frostOn says why there was frost on a day, or likely was; "" where nothing
// says so.
func (s *State) frostOn(on When, d *data.Set) string {
	measured := 0
	for day := on.From; day <= on.To && on.To-on.From < seasonDays; day++ {
		if t, ok := s.lowest(day); ok {
			measured++
			if t <= d.Practice.HardFrost.Value {
				return fmt.Sprintf("that night %s °C were measured", decimal(t))
			}
		}
	}
	low := monthMinima(s.Config.Site, d)
	if measured > 0 || low == nil || on.From.Month() != on.To.Month() || low[on.From.Month()-1] > freezes {
		return ""
	}
	return fmt.Sprintf("nights of %s freeze as a rule (%s °C)", on.From.Month(), decimal(low[on.From.Month()-1]))
}

// lowest is the minimum measured on a day, °C.
func (s *State) lowest(day Date) (float64, bool) {
	w := s.Weather.At(day)
	return w.get(minimum)
}

// monthMinima are the mean minima of the months, °C, January first; nil where
// none are known.
func monthMinima(site Site, d *data.Set) []float64 {
	if site.Normals != nil {
		return site.Normals.TMin[:]
	}
	if st, ok := d.FindStation(site.Station); ok && len(st.TMin) == 12 {
		return st.TMin
	}
	return nil
}
