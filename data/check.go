package data

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"time"
)

// settle checks one value's quality and source, and a range's order, and puts
// the citation in place of the key.
func (l *loader) settle(file string, v sourced) {
	if !v.quality.Known() {
		l.wrong(file, "%s: quality %q is none of those in data.go", v.Where(), *v.quality)
	}
	citation, known := l.sources[*v.source]
	switch {
	case *v.source == "":
		l.wrong(file, "%s: no source; name a key of %s", v.Where(), sourcesFile)
	case !known:
		near := ""
		if n, ok := Nearest(*v.source, sortedKeys(l.sources)); ok {
			near = fmt.Sprintf(" (did you mean %q?)", n)
		}
		l.wrong(file, "%s: unknown source %q%s; add it to %s", v.Where(), *v.source, near, sourcesFile)
	default:
		l.used[*v.source] = true
		*v.source = citation
	}
	l.ordered(file, v)
}

// ordered checks that a range ascends and that every number is finite.
func (l *loader) ordered(file string, v sourced) {
	r, isRange := v.value.Addr().Interface().(*Range)
	if isRange && !(r.Low <= r.Typical && r.Typical <= r.High) {
		l.wrong(file, "%s: %v, %v, %v do not ascend", v.Where(), r.Low, r.Typical, r.High)
	}
	for _, i := range v.fields {
		for _, x := range floats(v.value.Field(i)) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				l.wrong(file, "%s: %v is no value", v.Where(), x)
			}
		}
	}
}

func floats(f reflect.Value) []float64 {
	switch x := f.Interface().(type) {
	case float64:
		return []float64{x}
	case []float64:
		return x
	}
	return nil
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// checkSources finds citations that nothing names, once everything else could
// be read.
func (l *loader) checkSources() {
	if len(l.problems) > 0 {
		return
	}
	for _, key := range sortedKeys(l.sources) {
		if !l.used[key] {
			l.wrong(sourcesFile, "nothing names the source %q; take it out", key)
		}
	}
}

// check looks for values that cannot be right, and for names that lead
// nowhere, in a set that was read.
func (l *loader) check(s *Set) {
	for i := range s.Species {
		l.checkSpecies(s, &s.Species[i])
	}
	for i := range s.Woods {
		l.checkWood(&s.Woods[i])
	}
	for i := range s.Stations {
		l.checkStation(s, &s.Stations[i])
	}
	for i := range s.Regions {
		l.checkRegion(&s.Regions[i])
	}
	l.checkPractice(&s.Practice)
	l.checkInoculating(&s.Inoculating)
}

// demand notes a problem unless ok.
func (l *loader) demand(ok bool, file, format string, args ...any) {
	if !ok {
		l.wrong(file, format, args...)
	}
}

func (l *loader) checkSpecies(s *Set, sp *Species) {
	file := "species " + sp.Name
	l.demand(sp.Name != "" && sp.Latin != "", file, "name and latin are both wanted")
	l.demand(!sp.Dried.Set() || within(sp.Dried.Value, 0, 0.3), file,
		"dried: %v is no fraction of water in dried goods", sp.Dried.Value)
	l.demand(!sp.Fresh.Set() || sp.Fresh.Low > 0 && sp.Fresh.High < 1, file,
		"fresh: %v to %v is no fraction of water", sp.Fresh.Low, sp.Fresh.High)
	l.checkSuits(s, sp, file)
	if !sp.Grown {
		l.demand(len(sp.Strains) == 0, file, "is not grown, so it has no strain")
		return
	}
	l.demand(len(sp.Strains) > 0, file, "is grown, so at least one strain is wanted")
	l.demand(sp.Fresh.Set() && sp.Dried.Set() && sp.Keeps.Value > 0, file,
		"is grown, so fresh, dried and keeps are wanted")
	seen := map[string]bool{}
	for i := range sp.Strains {
		st := &sp.Strains[i]
		where := fmt.Sprintf("%s, strain %q", file, st.Name)
		for _, name := range st.calls() {
			l.demand(!seen[plain(name)], where, "the name %q stands twice", name)
			seen[plain(name)] = true
		}
		l.checkGrowth(where, st.Growth)
		l.checkWindow(s, sp, st, where)
		l.checkFruit(where, &st.Fruit)
		l.checkYield(s, where, &st.Yield)
	}
}

func (l *loader) checkSuits(s *Set, sp *Species, file string) {
	for _, suit := range sp.Suits {
		l.demand(slices.Contains([]string{"best", "usable", "poor"}, suit.How), file,
			`suits: how %q; "best", "usable" or "poor"`, suit.How)
		for _, wood := range suit.Woods {
			_, known := s.FindWood(wood)
			l.demand(known, file,
				"suits: unknown wood %q; add it to %s or name it in the note", wood, woodsFile)
		}
	}
}

func (l *loader) checkGrowth(where string, g Growth) {
	l.demand(g.TMin.Set() && g.TOpt.Set() && g.TMax.Set(), where,
		"growth: t_min_c, t_opt_c and t_max_c are all wanted")
	l.demand(g.TMin.Value < g.TOpt.Value && g.TOpt.Value < g.TMax.Value, where,
		"growth: %v, %v, %v °C do not ascend", g.TMin.Value, g.TOpt.Value, g.TMax.Value)
}

func (l *loader) checkWindow(s *Set, sp *Species, st *Strain, where string) {
	w := st.Window
	if w.RelativeTo != "" {
		other := exactStrain(s, sp.Name, w.RelativeTo)
		l.demand(other != nil && other.Window.RelativeTo == "" && w.RelativeTo != st.Name, where,
			"window: relative_to %q is no strain with a window of its own", w.RelativeTo)
		l.demand(w.Factor > 0, where, "window: factor %v is not above 0", w.Factor)
		return
	}
	l.demand(w.Of == "through" || w.Of == "first crop", where,
		`window: of is %q; "through" or "first crop"`, w.Of)
	l.demand(0 < w.Low && w.Low < w.High, where,
		"window: %v to %v months do not ascend", w.Low, w.High)
	_, known := s.FindStation(w.Station)
	l.demand(known, where, "window: unknown station %q", w.Station)
	_, err := time.Parse("01-02", w.Inoculated)
	l.demand(err == nil, where,
		`window: inoculated %q; write a month and day such as "04-15"`, w.Inoculated)
}

func (l *loader) checkFruit(where string, f *Fruit) {
	l.demand(slices.Contains([]string{"any", "falling"}, f.Season), where,
		`fruit: season %q; "any" or "falling"`, f.Season)
	l.demand(slices.Contains([]string{"rain", "cooling", "band"}, f.Trigger), where,
		`fruit: trigger %q; "rain", "cooling" or "band"`, f.Trigger)
	l.demand(f.BandLow.Set() && f.BandLow.Value < f.BandHigh.Value, where,
		"fruit: band %v to %v °C does not ascend", f.BandLow.Value, f.BandHigh.Value)
	l.demand((f.Season == "falling") == f.StartBelow.Set(), where,
		"fruit: start_below_c goes with season falling, and only with it")
	l.demand((f.Trigger == "rain") == (f.RainMM.Value > 0), where,
		"fruit: rain_mm goes with trigger rain, and only with it")
	l.demand((f.Trigger == "cooling") == (f.CoolBy.Value > 0), where,
		"fruit: cool_by_c goes with trigger cooling, and only with it")
	l.demand(f.Chance.Value > 0 && f.Chance.Value <= 1, where,
		"fruit: chance %v is no chance", f.Chance.Value)
	l.demand(f.Share.Low > 0 && f.Share.High <= 1, where,
		"fruit: share %v to %v is no share", f.Share.Low, f.Share.High)
	l.demand(f.Forced == (f.SoakShare.Low > 0) && f.SoakShare.High <= 1, where,
		"fruit: soak_share goes with forced = true, and only with it")
	l.demand(!f.Once || !f.Forced, where,
		"fruit: once = true does not go with forced = true")
	l.demand(f.DaysWarm.Value > 0 && f.DaysWarm.Value <= f.DaysCool.Value, where,
		"fruit: days_warm %v and days_cool %v do not ascend", f.DaysWarm.Value, f.DaysCool.Value)
	l.demand(f.RestWeeks.Low > 0, where, "fruit: rest_weeks is wanted")
}

func (l *loader) checkYield(s *Set, where string, y *Yield) {
	l.checkEfficiency(where, y.Efficiency, y.Per, y.Over)
	l.demand(y.Caution == "" || y.Unpublished, where, "yield: caution goes with unpublished = true")
	seen := map[string]bool{}
	for i := range y.Woods {
		on := &y.Woods[i]
		l.demand(len(on.Woods) > 0, where, "yield: wood: woods are wanted")
		for _, wood := range on.Woods {
			_, known := s.FindWood(wood)
			l.demand(known, where, "yield: wood: unknown wood %q", wood)
			l.demand(!seen[plain(wood)], where, "yield: wood: %q stands twice", wood)
			seen[plain(wood)] = true
		}
		l.checkEfficiency(where+", on "+strings.Join(on.Woods, ", "), on.Efficiency, on.Per, on.Over)
	}
	l.demand(y.LifeYears.Low > 0, where, "yield: life_years is wanted")
	sum := 0.0
	for _, w := range y.YearWeights {
		l.demand(w >= 0, where, "yield: year weight %v is below 0", w)
		sum += w
	}
	l.demand(math.Abs(sum-1) < sumSlack, where, "yield: year_weights sum to %v, not 1", sum)
}

// checkEfficiency wants to be told which logs and which wood an efficiency is
// over, and the words of its basis to say the same.
func (l *loader) checkEfficiency(where string, e Range, per, over string) {
	l.demand(e.Low > 0 && e.High < 1, where,
		"yield: efficiency %v to %v is no fraction", e.Low, e.High)
	l.demand(e.Basis != "", where,
		"yield: efficiency wants a basis: over what it is measured")
	l.demand(per == PerInoculated || per == PerFruiting, where,
		`yield: per %q; "inoculated" or "fruiting"`, per)
	l.demand(over == OverDry || over == OverGreen, where,
		`yield: over %q; "dry" or "green"`, over)
	l.demand(strings.Contains(e.Basis, "over "+over+" wood") && strings.Contains(e.Basis, "per log "+per), where,
		"yield: the basis %q does not say over %s wood, per log %s", e.Basis, over, per)
}

// sumSlack is what shares written with six decimals may miss their sum by.
const sumSlack = 1e-5

func (l *loader) checkWood(w *Wood) {
	where := woodsFile + ": " + w.Name
	l.demand(w.Name != "" && w.Latin != "", where, "name and latin are both wanted")
	for _, g := range []float64{w.Gravity, w.BarkGravity} {
		l.demand(within(g, 0.2, 1.1), where, "gravity %v is no wood's or bark's", g)
	}
	for _, m := range []float64{w.Moisture, w.BarkMoist} {
		l.demand(within(m, 20, 200), where,
			"green moisture %v %% of dry mass is no wood's or bark's", m)
	}
	l.demand(within(w.Bark, 1, 40), where, "bark %v %% of wood volume", w.Bark)
}

func (l *loader) checkStation(s *Set, st *Station) {
	where := stationsFile + ": " + st.Key
	l.demand(st.Key != "" && st.Name != "" && st.Country != "" && st.Licence != "", where,
		"key, name, country and licence are all wanted")
	l.demand(within(st.Latitude, -90, 90) && within(st.Longitude, -180, 180), where,
		"%v, %v is no place", st.Latitude, st.Longitude)
	l.demand(1850 < st.From && st.From < st.To && st.To < 2100, where,
		"from %d to %d is no period", st.From, st.To)
	_, known := s.FindRegion(st.Region)
	l.demand(known, where, "unknown region %q", st.Region)
	if len(st.TMin) != 12 || len(st.TMax) != 12 || len(st.Rain) != 12 {
		l.wrong(where, "tmin_c, tmax_c and rain_mm want twelve values each, January first")
		return
	}
	for m := range 12 {
		l.demand(st.TMin[m] < st.TMax[m], where,
			"month %d: minimum %v is not below maximum %v °C", m+1, st.TMin[m], st.TMax[m])
		l.demand(st.Rain[m] >= 0, where, "month %d: rain %v mm", m+1, st.Rain[m])
	}
	if len(st.RainDays) == 0 {
		l.demand(st.RainDayMM == 0, where, "rain_day_mm without rain_days")
		return
	}
	l.demand(len(st.RainDays) == 12 && slices.Min(st.RainDays) >= 0 && slices.Max(st.RainDays) <= 31, where,
		"rain_days want twelve values from 0 to 31")
	l.demand(st.RainDayMM > 0, where,
		"rain_days without rain_day_mm, the rain at which they were counted")
}

func (l *loader) checkRegion(r *Region) {
	where := regionsFile + ": " + r.Key
	l.demand(r.Key != "" && r.Name != "", where, "key and name are both wanted")
	l.demand(len(r.SD) == 12 && slices.Min(r.SD) > 0, where,
		"anomaly_sd_c wants twelve values above 0, January first")
	l.demand(within(r.Lag1, 0, 0.99) && within(r.Persistence, 0, 0.99), where,
		"lag1 %v and persistence %v are not both from 0 to 0.99", r.Lag1, r.Persistence)
	l.demand(min(r.Offset, r.WetDayMM, r.WetCV, r.RangeWet, r.RangeCV) > 0, where,
		"offset_sd_c, wet_day_mm, wet_cv, range_wet and range_cv are not all above 0")
	l.demand(r.DaysRatio >= 1, where, "days_ratio %v is below 1", r.DaysRatio)
	for _, key := range r.Judged {
		l.demand(hasKey[Region](key), where, "judged: %q is no key of a region", key)
	}
}

// hasKey reports whether a type has a field of a TOML key.
func hasKey[T any](key string) bool {
	t := reflect.TypeFor[T]()
	for i := range t.NumField() {
		if tomlKey(t.Field(i)) == key {
			return true
		}
	}
	return false
}

func (l *loader) checkPractice(p *Practice) {
	v := reflect.ValueOf(p).Elem()
	for i := range v.NumField() {
		l.demand(!v.Field(i).IsZero(), practiceFile, "%s is wanted", tomlKey(v.Type().Field(i)))
	}
	l.checkCurves(p)
	sum := 0.0
	for _, part := range []string{"yard", "species", "spawn_lot", "pile", "log"} {
		share, ok := p.Split[part]
		l.demand(ok && share.Value > 0, practiceFile, "split: %s is wanted", part)
		sum += share.Value
	}
	l.demand(math.Abs(sum-1) < sumSlack && len(p.Split) == 5, practiceFile,
		"split: the five shares sum to %v, not 1", sum)
	for _, form := range []string{"sawdust", "plug", "thimble"} {
		l.demand(p.Spawn[form].Low > 0, practiceFile, "spawn: %s is wanted", form)
	}
	for _, how := range []string{"hand", "press"} {
		l.demand(p.Marc[how].Low > 0, practiceFile, "marc_ml_per_g: %s is wanted", how)
		l.demand(p.MarcWater[how].Low > 0, practiceFile, "marc_water_ml_per_g: %s is wanted", how)
	}
	l.demand(p.Room.Goods.Value > 0 && p.Room.Free.Value > 0 && p.Room.Free.Value < 1, practiceFile,
		"jar_room: %v ml per g, or %v is no share", p.Room.Goods.Value, p.Room.Free.Value)
	l.demand(p.TakeFail.Low > 0 && p.TakeFail.High < 1, practiceFile,
		"take_fail: %v to %v is no share", p.TakeFail.Low, p.TakeFail.High)
	l.demand(min(p.RecordSpread.Value, p.DryingSpread.Value, p.LeastCrop.Value) > 0, practiceFile,
		"record_spread, drying_spread and least_crop_kg are not all above 0")
	for _, c := range []float64{p.ZeroMissed.Value, p.PileStops.Value, p.TakeLogCounts.Value, p.NoticedFails.Value} {
		l.demand(within(c, 0, 1), practiceFile, "zero_missed, pile_stops, take_log_counts or noticed_fails: %v is no share", c)
	}
	l.demand(p.Keeping.Spoils.Value < p.Keeping.Usual.Value, practiceFile,
		"keeping: the limits do not ascend")
	c := &p.Cooling
	l.demand(c.From.Value > c.Cool.Value && c.Cool.Value > c.Cold.Value && 0 < c.CoolHours.Value && c.CoolHours.Value < c.ColdHours.Value,
		practiceFile, "cooling: the temperatures do not fall, or the hours do not ascend")
}

// checkCurves wants the strain's own curve first.
func (l *loader) checkCurves(p *Practice) {
	l.demand(len(p.Curves) == 1+OtherCurves, practiceFile, "curve: %d are wanted", 1+OtherCurves)
	for i, c := range p.Curves {
		l.demand(c.Form == "beta" || c.Form == "inflected", practiceFile, `curve: form %q; "beta" or "inflected"`, c.Form)
		l.demand(i > 0 || c.Form == "beta" && c.Min.Value == 0 && c.Opt.Value == 0 && c.Max.Value == 0, practiceFile,
			"curve: the first is the strain's own, and adds nothing")
	}
}

func within(x, low, high float64) bool { return low <= x && x <= high }
