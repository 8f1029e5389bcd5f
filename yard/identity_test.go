package yard

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// anyWords are texts as people type them into a form, and as they should not.
func anyWords(rt *rapid.T, label string) string {
	return rapid.OneOf(
		rapid.SampledFrom([]string{"", "Fernbrook", `a "quoted" name`, `back\slash`, "two\nlines", "tab\there", "é – ü", "# no remark", "[site]", "'''", `"""`, "\x7f\x01", "=1+1"}),
		rapid.StringN(0, 30, 90),
	).Draw(rt, label)
}

// someDegrees is a number as it is typed, or none.
func someDegrees(rt *rapid.T, label string, low, high float64) float64 {
	if rapid.Bool().Draw(rt, label+" said") {
		return math.Round(rapid.Float64Range(low, high).Draw(rt, label)*100) / 100
	}
	return math.NaN()
}

// What start writes into yard.toml is what was answered, whatever that was.
func TestAnswersAreReadBack(t *testing.T) {
	set := loaded(t)
	rapid.Check(t, func(rt *rapid.T) {
		a := Answers{Name: anyWords(rt, "name"), US: rapid.Bool().Draw(rt, "us"), Latitude: someDegrees(rt, "latitude", -66, 66), Longitude: someDegrees(rt, "longitude", -180, 180),
			Elevation: someDegrees(rt, "elevation", 0, 2000), Shade: someDegrees(rt, "shade", 0, 100), Warming: math.Round(rapid.Float64Range(0, 1).Draw(rt, "warming")*100) / 100,
			Country: rapid.SampledFrom([]string{"", "gb", "US", "fr"}).Draw(rt, "country")}
		if rapid.Bool().Draw(rt, "own normals") {
			n := Normals{RainDayMM: 1}
			for m := range 12 {
				n.TMin[m] = math.Round(rapid.Float64Range(-20, 10).Draw(rt, "tmin")*10) / 10
				n.TMax[m] = n.TMin[m] + math.Round(rapid.Float64Range(2, 15).Draw(rt, "range")*10)/10
				n.Rain[m] = math.Round(rapid.Float64Range(10, 200).Draw(rt, "rain"))
				n.RainDays[m] = math.Round(rapid.Float64Range(3, 20).Draw(rt, "rain days"))
			}
			a.Normals, a.Latitude, a.Longitude, a.Elevation = &n, 50, 10, 200
		} else {
			a.Station = "oxford"
			if math.IsNaN(a.Latitude) || math.IsNaN(a.Longitude) { // one without the other is no place
				a.Latitude, a.Longitude = math.NaN(), math.NaN()
			}
		}
		text := a.yardText()
		c, problems := readConfig([]byte(text), set)
		if len(problems) > 0 {
			rt.Fatalf("%s\n%s", lines(problems), text)
		}
		want := a
		want.Name = strings.TrimSpace(strings.ToValidUTF8(a.Name, "�"))
		want.Country = strings.ToLower(a.Country)
		if math.IsNaN(want.Shade) {
			want.Shade = c.Site.Shade // what holds where nothing was said
		}
		got := Answers{Name: c.Name, US: c.US, Station: c.Site.Station, Latitude: c.Site.Latitude, Longitude: c.Site.Longitude, Elevation: c.Site.Elevation,
			Shade: c.Site.Shade, Warming: c.Site.Warming, Normals: c.Site.Normals, Country: c.Working.Country}
		if math.IsNaN(want.Latitude) { // those of the station
			want.Latitude = got.Latitude
		}
		if math.IsNaN(want.Longitude) {
			want.Longitude = got.Longitude
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), cmpopts.EquateApprox(0, 1e-9)); diff != "" {
			rt.Fatalf("%s\n%s", diff, text)
		}
	})
}

// What the folder remembers of the journal's end is read back as it was
// written, whatever writers and piles are called.
func TestRememberedIsReadBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := last{Size: rapid.Int64Range(0, 1<<40).Draw(rt, "size"), Length: rapid.Int64Range(0, 1<<20).Draw(rt, "length"), Digest: digest([]byte(anyWords(rt, "bytes"))),
			Entry: strings.ToValidUTF8(anyWords(rt, "entry"), "�"), Copied: "2026-05-01", Numbers: map[string]int{}, Names: []string{}}
		for range rapid.IntRange(0, 4).Draw(rt, "piles") {
			l.Names = append(l.Names, strings.ToValidUTF8(anyWords(rt, "pile"), "�"))
		}
		for range rapid.IntRange(0, 4).Draw(rt, "writers") {
			l.Numbers[strings.ToValidUTF8(anyWords(rt, "writer"), "�")] = rapid.IntRange(0, 1<<30).Draw(rt, "number")
		}
		m := InMemory(map[string]string{lastFile: l.text()})
		var got last
		if err := readOwn(m, lastFile, &got); err != nil {
			rt.Fatalf("%v\n%s", err, l.text())
		}
		if diff := cmp.Diff(l, got, cmpopts.EquateEmpty(), cmpopts.IgnoreFields(last{}, "Sum")); diff != "" {
			rt.Fatalf("%s\n%s", diff, l.text())
		}
	})
}
