package forecast

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"hodaba/forecast/fruit"
	"hodaba/yard"
)

// toursNormals are means of ten years, 2000 to 2009, of the daily series of
// Tours (ECA&D, Klein Tank et al. 2002); Tours is not embedded, so a yard there
// writes its own normals. The embedded station nearest to it is Heathrow.
var toursNormals = yard.Normals{
	TMin:      [12]float64{2.4, 2.6, 4.0, 6.1, 9.8, 12.8, 14.1, 14.2, 11.2, 9.2, 5.3, 2.3},
	TMax:      [12]float64{7.6, 9.2, 12.6, 16.0, 19.7, 24.2, 25.4, 25.6, 22.2, 17.2, 11.3, 7.4},
	Rain:      [12]float64{65.2, 50.5, 56.9, 50.3, 63.4, 39.2, 56.2, 46.7, 37.9, 78.3, 71.7, 63.7},
	RainDays:  [12]float64{11.3, 9.1, 11.0, 8.9, 9.7, 5.8, 8.4, 7.4, 6.0, 11.5, 12.7, 10.2},
	RainDayMM: 1,
}

// season is when a mushroom is picked, as published.
type season struct {
	species, strain string
	kind            string // "pile" or "bed" of ready-colonised logs
	spans           []span
	// most is the share of a draw's pickings that must lie in the season; 0: it
	// is enough that their median does, or misses it by slack days at most.
	most  float64
	share float64 // of all pickings of all draws that must lie in it, too
	slack int
	says  string
}

// span is a stretch of a common year: days counted from 1 January, the last
// included.
type span struct{ from, to int }

// dayOf is the day of a common year, from 1.
func dayOf(m time.Month, d int) int {
	return int(yard.NewDate(2026, m, d)-yard.NewDate(2026, 1, 1)) + 1
}

// threeWeeks is what medians of kinds may miss a season by that was published
// for another climate than the place at hand.
const threeWeeks = 21

// fourFifths of a draw's pickings lie in a season that has two parts, or most of
// a year: the median of such a one says nothing.
const fourFifths = 0.8

// Of summer, pages say no more than the word; from 1 June to the equinox is
// ours, and so is that what is said of the Asian kind holds of the European. As
// long as pins were to wait for 16 °C, and a crop took a hundred days there,
// half of the draws at Oxford came after it; of a bed's pickings there 8 in 100
// do now.
var summer = []span{{dayOf(6, 1), dayOf(9, 22)}}

var seasons = []season{
	{"lion's mane", "", "pile", []span{{dayOf(8, 1), dayOf(11, 30)}}, 0, fourFifths, 0, "August to November in Europe (a seller's page and an encyclopaedia)"},
	{"nameko", "", "pile", []span{{dayOf(10, 1), dayOf(11, 30)}}, 0, 0, threeWeeks, "mid to late autumn (a supplier of the Great Lakes), from late September in Japan"},
	{"maitake", "", "bed", []span{{dayOf(9, 15), dayOf(10, 10)}}, 0, 0, threeWeeks, "mid-September to early October (Ibaraki 2007)"},
	{"reishi", "european", "bed", summer, 0, 0, 0, "summer (Chinese growers' pages, of the Asian kind)"},
	{"reishi", "european", "pile", summer, 0, 0, 0, "summer (Chinese growers' pages, of the Asian kind)"},
	{"reishi", "asian", "bed", summer, 0, 0, 0, "summer (Chinese growers' pages)"},
	{"turkey tail", "", "pile", []span{{dayOf(8, 1), dayOf(12, 31)}}, 0, 0, threeWeeks, "late summer to early winter, spring too (a growing site)"},
	{"shiitake", "wide-range", "pile", []span{{dayOf(5, 1), dayOf(11, 30)}}, fourFifths, 0, 0, "May to November (an Ontario supplier, of shiitake)"},
	{"shiitake", "warm-weather", "pile", []span{{dayOf(5, 1), dayOf(11, 30)}}, fourFifths, 0, 0, "May to November (an Ontario supplier, of shiitake)"},
	// Spring up to the end of May and autumn from September on are ours.
	{"shiitake", "cold-weather", "pile", []span{{dayOf(3, 1), dayOf(5, 31)}, {dayOf(9, 1), dayOf(11, 30)}}, fourFifths, 0, 0, "early spring and late autumn (strain pages)"},
	{"piopino", "", "pile", []span{{dayOf(3, 21), dayOf(11, 30)}}, fourFifths, 0, 0, "spring to late autumn, several times a year (a register of Lombardy)"},
	{"oyster", "", "pile", []span{{dayOf(9, 1), dayOf(12, 31)}, {dayOf(1, 1), dayOf(5, 31)}}, fourFifths, 0, 0, "spring, autumn and mild winter (from memory)"},
}

// seasonPlaces are where the seasons are looked at. Oxford and Tours are for
// what is said of Europe, the others for American and Japanese sources:
// Ibaraki's normals are no station's here, and Richmond's come nearest.
var seasonPlaces = []string{"oxford", "tours", "heathrow", "new_york", "ann_arbor", "richmond_va"}

// pickingYears are how many years of pickings are looked at.
const pickingYears = 3

// seasonDraws are as many in short tests: the list of misses is of these.
const seasonDraws = 300

// pickings are the days on which cohorts are picked in the three years from
// the first picking on, by draw, in order.
func pickings(t *testing.T, species, strain, kind, station string, draws int) (days [][]yard.Date) {
	t.Helper()
	set, on := mustLoad(t), yard.NewDate(2026, time.April, 15)
	p := referencePile("pile", on, species, strain)
	if kind == "bed" {
		p.Kind, p.Origin, p.Colonised = "bed", "buried", true
	}
	s := yardOf(set, station, on, p)
	if station == "tours" {
		site := &s.Config.Site
		site.Station, site.Normals = "", &toursNormals
		site.Latitude, site.Longitude, site.Elevation = 47.445, 0.727, 108
	}
	r, err := prepare(Input{State: s, Data: set, Draws: draws, Seed: 5, Years: 8})
	if err == nil {
		err = r.weather(context.Background())
	}
	if err == nil {
		err = r.learn(context.Background())
	}
	if err != nil {
		t.Fatal(err)
	}
	w, a := newWalker(r), r.open(r.tasks[0])
	for n := range r.draws {
		w.drawPile(a, n)
		slices.SortFunc(w.flushes, func(a, b fruit.Flush) int { return cmp.Compare(a.Day, b.Day) })
		var of []yard.Date
		for _, f := range w.flushes {
			if f.Day > w.flushes[0].Day+pickingYears*daysOfYear {
				break
			}
			of = append(of, r.start+yard.Date(f.Day))
		}
		days = append(days, of)
	}
	return days
}

// missed is a season that the forecast does not keep, or a part of winter in
// which it brings something.
type missed struct {
	Species, Strain, Kind, Station string
	Part                           string // of winter; "" for a season
	Reason                         string
}

func (m missed) what() string {
	return strings.TrimSpace(fmt.Sprintf("%s/%s/%s/%s %s", m.Species, m.Strain, m.Kind, m.Station, m.Part))
}

// missList is the list of what is known to miss; winter takes that part of it,
// or the seasons.
type missList map[string]bool

func readMissed(t *testing.T, winter bool) missList {
	t.Helper()
	var list struct{ Missed []missed }
	if _, err := toml.DecodeFile("../testdata/seasons-missed.toml", &list); err != nil {
		t.Fatal(err)
	}
	known := missList{}
	for _, m := range list.Missed {
		if m.Reason == "" || known[m.what()] {
			t.Errorf("%s is listed twice or without a reason", m.what())
		}
		if (m.Part != "") == winter {
			known[m.what()] = true
		}
	}
	return known
}

// hold compares a finding with the list: a miss that is not there fails, and so
// does one that is no more.
func (l missList) hold(t *testing.T, what string, keeps bool, says string) {
	t.Helper()
	switch {
	case !keeps && !l[what]:
		t.Errorf("%s: %s", what, says)
	case keeps && l[what]:
		t.Errorf("%s is listed as missed, but is kept: %s", what, says)
	}
	delete(l, what)
}

// rest fails for what nobody looked at.
func (l missList) rest(t *testing.T) {
	t.Helper()
	for what := range l {
		if !testing.Short() {
			t.Errorf("%s is listed as missed, but nobody looks at it", what)
		}
	}
}

// placesOf are the first place alone in short tests.
func placesOf(places []string) []string {
	if testing.Short() {
		return places[:1]
	}
	return places
}

// Pickings come in the seasons that are published, in at least eight draws of
// ten: the median day of the first three years lies in the season, or as near
// as the sources allow, or four fifths of the pickings do; of lion's mane the
// median does, and four fifths of the pickings of all draws together. A draw that brings
// nothing in eight years has no season. What misses stands in
// testdata/seasons-missed.toml with its reason.
func TestAgainstSeasons(t *testing.T) {
	known := readMissed(t, false)
	for _, s := range seasons {
		for _, station := range placesOf(seasonPlaces) {
			what := missed{Species: s.species, Strain: s.strain, Kind: s.kind, Station: station}.what()
			found := s.in(pickings(t, s.species, s.strain, s.kind, station, seasonDraws))
			says := fmt.Sprintf("in season in %.2f of draws, want 0.80; %.2f bring nothing; of all pickings %.2f are in it, want %.2f, and %.2f come later; the median is %s: %s",
				found.draws, found.barren, found.share, s.share, found.late, yard.NewDate(2026, 1, 1)+yard.Date(found.median-1), s.says)
			t.Logf("%-36s %s", what, says)
			known.hold(t, what, found.draws >= 0.8 && found.share >= s.share, says)
		}
	}
	known.rest(t)
}

// inSeason is how draws lie to a season.
type inSeason struct {
	draws  float64 // share of them in season
	barren float64 // share of them that bring nothing
	share  float64 // of all pickings that lie in it
	late   float64 // share of all pickings after the end, in their year, of a season of one part
	median int     // of the medians, day of the year
}

func (s season) in(draws [][]yard.Date) (found inSeason) {
	var medians []int
	all, inside, late := 0, 0, 0
	for _, of := range draws {
		if len(of) == 0 {
			found.barren += 1 / float64(len(draws))
			continue
		}
		var days []int
		within := 0
		for _, d := range of {
			day := dayOf(d.Month(), d.Day())
			days = append(days, day)
			if s.has(day, 0) {
				within++
			}
			if len(s.spans) == 1 && day > s.spans[0].to {
				late++
			}
		}
		all += len(of)
		inside += within
		slices.Sort(days)
		median := days[len(days)/2]
		medians = append(medians, median)
		if s.most > 0 && float64(within) >= s.most*float64(len(of)) || s.most == 0 && s.has(median, s.slack) {
			found.draws += 1 / float64(len(draws))
		}
	}
	if len(medians) == 0 {
		found.median = 1
		return found
	}
	slices.Sort(medians)
	found.median, found.late, found.share = medians[len(medians)/2], float64(late)/float64(all), float64(inside)/float64(all)
	return found
}

// has reports whether a day of the year lies in the season, or misses it by no
// more than slack.
func (s season) has(day, slack int) bool {
	return slices.ContainsFunc(s.spans, func(x span) bool { return day >= x.from-slack && day <= x.to+slack })
}

// winter is deep winter, in the parts in which a grower reads it. Late autumn
// goes on to the middle of December, in which cold-weather strains may still be
// picked; of the others all of December counts.
var winter = []struct {
	part  string
	spans []span
	cold  bool // it is winter for cold-weather strains too
}{
	{part: "early December", spans: []span{{dayOf(12, 1), dayOf(12, 15)}}},
	{part: "late December", spans: []span{{dayOf(12, 16), dayOf(12, 31)}}, cold: true},
	{part: "January", spans: []span{{dayOf(1, 1), dayOf(1, 31)}}, cold: true},
	{part: "February", spans: []span{{dayOf(2, 1), dayOf(2, 28)}}, cold: true},
}

// Without shelter shiitake brings next to nothing in deep winter: its season is
// May to November (an Ontario supplier), and cold-weather strains fruit in
// early spring and late autumn (strain pages). The chance that a pile is picked
// in a part of one winter is at most one in fifty, in Europe and in the warmest
// places here where logs of shiitake are kept. Bands from 10 °C on for
// wide-range, and from 9 for cold-weather strains, were caught.
func TestAgainstWinter(t *testing.T) {
	known := readMissed(t, true)
	for _, strain := range []string{"wide-range", "warm-weather", "cold-weather"} {
		for _, station := range placesOf([]string{"oxford", "tours", "richmond_va", "murfreesboro"}) {
			draws := pickings(t, "shiitake", strain, "pile", station, seasonDraws)
			for _, part := range winter {
				if strain == "cold-weather" && !part.cold {
					continue
				}
				chance := winterChance(draws, season{spans: part.spans})
				what := missed{Species: "shiitake", Strain: strain, Kind: "pile", Station: station, Part: part.part}.what()
				says := fmt.Sprintf("picked in %.3f of winters, want at most 0.020", chance)
				t.Logf("%-52s %s", what, says)
				known.hold(t, what, chance <= 0.02, says)
			}
		}
	}
	known.rest(t)
}

// winterChance is the share of winters in which something is picked in a part.
func winterChance(draws [][]yard.Date, part season) float64 {
	n := 0
	for _, of := range draws {
		seen := map[int]bool{}
		for _, d := range of {
			if part.has(dayOf(d.Month(), d.Day()), 0) {
				seen[d.Year()] = true
			}
		}
		n += len(seen)
	}
	return float64(n) / float64(pickingYears*len(draws))
}
