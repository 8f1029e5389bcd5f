package main

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast/alcohol"
	"hodaba/yard"
)

// near checks a figure to half of the last digit of what is wanted.
func near(t *testing.T, what string, got, want, half float64) {
	t.Helper()
	if !(math.Abs(got-want) <= half) {
		t.Errorf("%s: %.5f, not %g", what, got, want)
	}
}

func pourOf(t *testing.T, text string) liquid {
	t.Helper()
	l, err := liquidOf(text)
	if err != nil {
		t.Fatalf("%s: %s", text, err)
	}
	return l
}

// Blends, computed apart from this program from the formula of OIML R 22. A
// pharmacy course gives the first as 97 ml of 49 %.
func TestAgainstComputedBlends(t *testing.T) {
	for _, c := range []struct {
		liquids string
		ml, abv float64 // 0 ml: not given
	}{
		{"50ml@95 50ml@0", 97.06, 48.94},
		{"50ml@100 50ml@0", 96.46, 51.8},
		{"500ml@40 500ml@0", 0, 20.01},
		{"1l@50 1l@0", 0, 25.10},
		{"1floz@96 1floz@0", 0, 49.50},
		{"948.05g@40 998.2g@0", 0, 20.01}, // a litre of each, by the densities of the same tables
	} {
		ls, err := liquidsOf(strings.Fields(c.liquids))
		if err != nil {
			t.Fatal(err)
		}
		s, err := blended(ls)
		if err != nil {
			t.Fatal(err)
		}
		if c.ml > 0 {
			near(t, c.liquids+" ml", s.Out.VolumeML(), c.ml, 0.005)
		}
		half := 0.005
		if c.abv == 51.8 {
			half = 0.05
		}
		near(t, c.liquids+" %", s.Out.ABV(), c.abv, half)
	}
}

// Water for 100 ml, computed apart from this program from the formula of OIML
// R 22 by the method of 27 CFR 30.64.
func TestAgainstComputedDilutions(t *testing.T) {
	for _, c := range []struct {
		liquid                string
		to, water, altogether float64
	}{
		{"100ml@40", 25, 60.2, 160.0},
		{"100ml@95", 25, 287.3, 380.0},
		{"100ml@96", 40, 147.1, 240.0},
		{"100ml@75.5", 30, 155.3, 251.7},
	} {
		s, err := diluted(pourOf(t, c.liquid), c.to)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.liquid+" water", alcohol.Liquid{WaterG: *s.WaterG}.VolumeML(), c.water, 0.051)
		near(t, c.liquid+" altogether", s.Out.VolumeML(), c.altogether, 0.051)
		near(t, c.liquid+" %", s.Out.ABV(), c.to, 1e-9)
	}
}

// The alligation examples of a pharmacy calculation collection (95 and 50 % to
// make 70 %: 4 to 5 by volume) and of a public calculation specification (70 and
// 20 % to make 30 %: 1 to 4) take no account of contraction: by mass it is up to
// a twentieth less of the stronger, and the strength is met exactly.
func TestAgainstAlligation(t *testing.T) {
	for _, c := range []struct {
		liquids string
		to      float64
		ratio   float64 // of the first to the second by volume, by the rule
	}{{"95 50", 70, 4.0 / 5}, {"50 95", 70, 5.0 / 4}, {"70 20", 30, 1.0 / 4}, {"1l@70 20", 30, 1.0 / 4}, {"95 2floz@50", 70, 4.0 / 5}} {
		ls, given, err := soughtOf(strings.Fields(c.liquids))
		if err != nil {
			t.Fatal(err)
		}
		s, err := sought(ls, given, c.to, yard.Quantity{Low: 500, High: 500, Unit: yard.Millilitre})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.liquids+" %", s.Out.ABV(), c.to, 1e-9)
		if given < 0 {
			near(t, c.liquids+" ml", s.Out.VolumeML(), 500, 1e-6)
		}
		got := s.Pours[0].Liquid.VolumeML() / s.Pours[1].Liquid.VolumeML()
		near(t, c.liquids+" first to second", got/c.ratio, 1, 0.06)
	}
}

// Readings of a hydrometer for 20 °C, computed apart from this program from
// OIML R 22 with the expansion of soda-lime glass.
func TestAgainstComputedReadings(t *testing.T) {
	for _, c := range []struct {
		shown, at string
		abv       float64
	}{
		{"35.91", "10", 40}, {"35,91", "50F", 40}, {"43.94", "30 °C", 40},
		{"18.55", "15C", 20}, {"40", "20", 40}, {"40", "68f", 40},
	} {
		s, _, err := readingOf(c.shown, c.at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.shown+" at "+c.at, s.Out.ABV(), c.abv, 0.01)
	}
}

// US proof is twice the % by volume at 60 °F (27 CFR 30.11); what that is at
// 20 °C was computed apart from this program from OIML R 22.
func TestAgainstComputedProof(t *testing.T) {
	for text, abv := range map[string]float64{"80proof": 40.07, "100 Proof": 50.06, "190proof": 95.01} {
		got, err := strengthOf(text)
		if err != nil {
			t.Fatal(err)
		}
		near(t, text, got, abv, 0.005)
	}
	s, err := blended([]liquid{pourOf(t, "1l@80proof")})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "and back", s.Proof, 80, 1e-6)
}

// The fluid ounce is 29.5735 ml and the pound 453.592 g, both by definition.
func TestAgainstDefinedUnits(t *testing.T) {
	near(t, "floz", pourOf(t, "8floz@40").pour.Liquid.VolumeML(), 8*29.5735295625, 1e-6)
	near(t, "fl oz", pourOf(t, " 8 fl oz @ 40 % ").pour.Liquid.VolumeML(), 8*29.5735295625, 1e-6)
	near(t, "lb", pourOf(t, "2lb@0").pour.Liquid.MassG(), 2*453.59237, 1e-6)
	near(t, "kg", pourOf(t, "1,5kg@96").pour.Liquid.MassG(), 1500, 1e-6)
	for text, us := range map[string]bool{"1floz@4": true, "1lb@4": true, "1l@4": false, "1kg@4": false} {
		if pourOf(t, text).us != us {
			t.Errorf("%s: in US units %t", text, !us)
		}
	}
}

func TestLiquidsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"50ml": "no liquid", "": "no liquid", "50ml@": "no strength", "50ml@x": "no strength", "@40": "no amount",
		"50ml@101": "outside 0 to 100", "50ml@-1": "outside 0 to 100", "50ml@201proof": "outside 0 to 200", "50ml@NaN": "no strength",
		"2oz@40": "a weight or a volume", "2 ounces@40": "a weight or a volume", "1lb 2oz@40": "a weight or a volume",
		"50@40": "no amount", "50cm@40": "no amount", "3@40@50": "no strength", "1e999l@40": "no amount",
		"40-50ml@40": "range", "0ml@40": "nothing to pour", "-5ml@40": "no amount", "5 cups@40": "no amount",
	} {
		_, err := liquidOf(text)
		refused(t, text, err, want)
	}
}

func TestDilutionsAndReadingsRefused(t *testing.T) {
	for to, want := range map[float64]string{50: "does not make 40.00 % by volume into 50 %", 0: "no amount of water", 1e-300: "more than 1,000 t"} {
		_, err := diluted(pourOf(t, "100ml@40"), to)
		refused(t, "dilute", err, want)
	}
	for _, c := range [][3]string{
		{"40", "41", "outside -20 to 40"}, {"40", "-21", "outside -20 to 40"}, {"40", "-5F", "outside -20 to 40"}, {"40", "110F", "outside -20 to 40"},
		{"40", "warm", "no temperature"}, {"40", "NaN", "no temperature"}, {"40", "F", "no temperature"},
		{"101", "20", "outside 0 to 100"}, {"x", "20", "no strength"}, {"80proof", "20", "made for 60 °F"},
		{"0", "30", "no spirit of 30 °C"}, {"99.9", "10", "no spirit of 10 °C"},
	} {
		_, _, err := readingOf(c[0], c[1])
		refused(t, c[0]+" at "+c[1], err, c[2])
	}
}

// refused wants an error of the command line with a way out.
func refused(t *testing.T, what string, err error, want string) {
	t.Helper()
	var f *failure
	if !errors.As(err, &f) || f.status != statusLine || f.remedy == "" || !strings.Contains(f.text, want) {
		t.Errorf("%q: %v, not %q with a way out", what, err, want)
	}
}

// Keeping limits, 18 and 25 %, are those of the practice file.
func TestStrengthCautions(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	k := set.Practice.Keeping
	for _, c := range []struct {
		abv         float64
		keeps, fire string
	}{
		{0, "", ""}, {12, "it does not keep", "vapour burn"}, {17.9, "it does not keep", "vapour burn"},
		{18, "sources differ", "vapour burn"}, {24.9, "sources differ", "vapour burn"}, {25, "", "vapour burn"}, {96, "", "vapour burn"},
	} {
		out, err := alcohol.Spirit(100, c.abv)
		if err != nil {
			t.Fatal(err)
		}
		said := strings.Join(strengthCautions(charts.Strength{Out: out, AtC: 20}, k), "\n")
		for part, want := range map[string]bool{"it does not keep": c.keeps == "it does not keep", "sources differ": c.keeps == "sources differ",
			"vapour burn": c.fire != "", "spoils a hydrometer": true, "freezes": false} {
			if strings.Contains(said, part) != want {
				t.Errorf("%g %%: %q said: %t", c.abv, part, !want)
			}
		}
	}
}

// FuzzLiquid reads anything as a liquid: what is taken can be blended and
// diluted, and what is not has a way out.
func FuzzLiquid(f *testing.F) {
	for _, s := range []string{"50ml@96", "2floz@80proof", "1,5 kg @ 40 %", "½ l@0", "2oz@40", "1e309l@1e309", "@", "1ml@1e-300", "5lb@200proof", "\x00@\xff", "1 1/0 l@3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := liquidOf(text)
		if err != nil {
			var bad *failure
			if !errors.As(err, &bad) || bad.status != statusLine || bad.remedy == "" {
				t.Fatalf("%q: no way out: %v", text, err)
			}
			return
		}
		have := l.pour.Liquid
		if abv := have.ABV(); !(have.MassG() > 0 && have.EthanolG >= 0 && have.WaterG >= 0 && abv >= 0 && abv <= 100+1e-9) {
			t.Fatalf("%q is %v of %g %%", text, have, abv)
		}
		s, err := blended([]liquid{l, l})
		if err != nil {
			t.Fatalf("%q blended: %s", text, err)
		}
		if math.Abs(s.Out.ABV()-have.ABV()) > 1e-6 {
			t.Fatalf("%q with itself is of %g %%", text, s.Out.ABV())
		}
		charts.Terminal{US: l.us}.Strength(s)
		for _, to := range []float64{have.ABV() / 2, have.ABV(), 60} {
			ls, given, err := soughtOf([]string{text, "0"})
			if err != nil {
				t.Fatalf("%q and water: %s", text, err)
			}
			if s, err := sought(ls, given, to, yard.Quantity{}); err == nil && math.Abs(s.Out.ABV()-to) > 1e-6 {
				t.Fatalf("%q and water to %g %%: %g %%", text, to, s.Out.ABV())
			}
		}
		if s, err := diluted(l, have.ABV()/2); err == nil && !(s.Out.VolumeML() >= have.VolumeML()) {
			t.Fatalf("%q becomes less by water", text)
		}
	})
}
