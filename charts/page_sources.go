package charts

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/forecast"
)

// sourcesPage is the main part of "where the numbers come from".
type sourcesPage struct {
	Weather []string
	Groups  []sourceGroup
	Windows []data.TradeWindow
	Marks   []fact
}

// sourceGroup is what belongs to one species, wood or place.
type sourceGroup struct {
	Name string
	Rows []sourceRow
}

// sourceRow is one value with its source and how well it is founded.
type sourceRow struct{ What, Value, Mark, Source, Note string }

func (b *book) sourcesSheet() sheet {
	s := sourcesPage{Weather: b.weather(), Windows: b.Data.Practice.Windows}
	for _, q := range []data.Quality{data.Read, data.Derived, data.SecondHand, data.FromMemory,
		data.Judgement, data.Practised} {
		s.Marks = append(s.Marks, fact{Name: string(q), Value: markMeans[q]})
	}
	s.Groups = b.sourceGroups()
	return sheet{kind: "sources", file: "sources.html", title: "Where the numbers come from", main: s}
}

// plainKeys turns the keys of the reference files into words.
var plainKeys = strings.NewReplacer("t_min_c", "lowest temperature (°C)", "t_opt_c",
	"best temperature (°C)", "t_max_c", "highest temperature (°C)",
	"_percent", " (%)", "_months", " (months)", "_weeks", " (weeks)", "_mm", " (mm)", "_cm", " (cm)", "_ml_per_g", " (ml per g)",
	"_sd_c", " deviation (°C)", "_per_km", " per km", "_w_m2k", " (W/m²K)", "_w_mk", " (W/mK)", "_j_kgk", " (J/kgK)", "_kg_m3", " (kg/m³)",
	"_m2_s", " (m²/s)", "_", " ")

// plainKey is the way to a value in words. A unit of one letter stands only at
// the end.
func plainKey(key string) string {
	if k, ok := strings.CutSuffix(key, "_c"); ok && !strings.HasSuffix(key,
		"sd_c") && !strings.Contains(key, "t_") {
		key = k + " (°C)"
	}
	return plainKeys.Replace(key)
}

var markMeans = map[data.Quality]string{
	data.Read:       "read in the source named",
	data.Derived:    "worked out from values that were read",
	data.SecondHand: "read where somebody restates another source",
	data.FromMemory: "known, but not looked up",
	data.Judgement:  "our own guess, guided by what was read",
	data.Practised:  "a rule of the trade that nobody could cite",
}

// weather says on what weather the forecast rests.
func (b *book) weather() []string {
	s := b.Result.Site
	if s.Name == "" {
		return nil
	}
	first := "The weather is that of " + s.Name
	if s.Period != "" {
		first += ", " + s.Period
	}
	if s.DistanceKM > 0 {
		first += fmt.Sprintf(", %s km from the yard", figure(s.DistanceKM))
	}
	if s.HeightM != 0 {
		first += fmt.Sprintf("; the yard lies %s m %s", figure(abs(s.HeightM)), higher(s.HeightM))
	}
	said := []string{first + "."}
	if s.WarmerNow != 0 || s.Warming != 0 {
		said = append(said, fmt.Sprintf("It is taken to warm by %s °C in ten years, so the present is %s °C warmer than those years: a setting, warming_c_per_decade in yard.toml.", figure(s.Warming), figure(s.WarmerNow)))
	} else {
		said = append(said, "No warming since those years is counted; that is a setting, warming_c_per_decade in yard.toml.")
	}
	if len(s.Borrowed) > 0 {
		said = append(said, "Borrowed from a set of the region: "+strings.Join(s.Borrowed, "; ")+".")
	}
	for _, x := range []struct{ name, text string }{{"Source", s.Source}, {"Licence", s.Licence}} {
		if x.text != "" {
			said = append(said, x.name+": "+strings.TrimSuffix(x.text, ".")+".")
		}
	}
	if q := s.Quality.Says(); q != "" {
		said = append(said, "How well it is founded: "+q+".")
	}
	return said
}

func abs(x float64) float64 { return max(x, -x) }

func higher(m float64) string {
	if m < 0 {
		return "lower"
	}
	return "higher"
}

// sourceGroups lists the values that this yard's forecast uses.
func (b *book) sourceGroups() []sourceGroup {
	used := b.used()
	var groups []sourceGroup
	for _, p := range used.Provenance() {
		head, rest, _ := strings.Cut(p.Where, ", ")
		if rest == "" {
			head, rest = "what concerns every species", head
		}
		if !strings.Contains(head, " ") {
			head, rest = "what concerns every species", p.Where
		}
		if n := len(groups); n == 0 || groups[n-1].Name != head {
			groups = append(groups, sourceGroup{Name: head})
		}
		g := &groups[len(groups)-1]
		g.Rows = append(g.Rows, sourceRow{plainKey(rest), plainKeys.Replace(p.Value), string(p.Quality),
			p.Source, p.Note})
	}
	return groups
}

// used are the reference values of the species, woods and place of this yard,
// with what concerns every species.
func (b *book) used() *data.Set {
	used := &data.Set{Practice: b.Data.Practice}
	used.Practice.Windows = nil // they have a table of their own
	var woods []string
	for _, p := range b.State.Piles {
		if s, ok := b.Data.FindSpecies(p.Like); ok {
			used.Species = withStrain(used.Species, s, forecast.StrainOf(p, b.Data))
		}
		if w, ok := b.Data.FindWood(p.Wood); ok && !slices.Contains(woods, w.Name) {
			woods, used.Woods = append(woods, w.Name), append(used.Woods, *w)
		}
	}
	if st, ok := b.Data.FindStation(b.Result.Site.Key); ok {
		used.Stations = append(used.Stations, *st)
		if r, ok := b.Data.FindRegion(st.Region); ok {
			used.Regions = append(used.Regions, *r)
		}
	}
	return used
}

// withStrain adds a species, and of its strains those that are grown.
func withStrain(list []data.Species, s *data.Species, strain *data.Strain) []data.Species {
	i := slices.IndexFunc(list, func(x data.Species) bool { return x.Name == s.Name })
	if i < 0 {
		i = len(list)
		list = append(list, *s)
		list[i].Strains = nil
	}
	if strain != nil && !slices.ContainsFunc(list[i].Strains,
		func(x data.Strain) bool { return x.Name == strain.Name }) {
		list[i].Strains = append(list[i].Strains, *strain)
	}
	return list
}
