package yard

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var baskets = map[string]Quantity{
	"basket": {Low: 1.8, High: 1.8, Unit: Kilogram},
	"crate":  {Low: 8, High: 10, Unit: Kilogram},
	"jug":    {Low: 1500, High: 1500, Unit: Millilitre},
}

func TestParseQuantity(t *testing.T) {
	for _, c := range []struct {
		in        string
		unit      Unit
		low, high float64
		about     bool
	}{
		{"12 cm", Centimetre, 12, 12, false},
		{"12cm", Centimetre, 12, 12, false},
		{"10-15 cm", Centimetre, 10, 15, false},
		{"10–15 cm", Centimetre, 10, 15, false},
		{"10 to 15 cm", Centimetre, 10, 15, false},
		{"10 cm - 15 cm", Centimetre, 10, 15, false},
		{"15-10 cm", Centimetre, 10, 15, false},
		{"30 mm", Centimetre, 3, 3, false},
		{"1 m", Centimetre, 100, 100, false},
		{"5 in", Centimetre, 12.7, 12.7, false},
		{"1 1/2 in", Centimetre, 3.81, 3.81, false},
		{"1½ in", Centimetre, 3.81, 3.81, false},
		{"3 ft 4 in", Centimetre, 101.6, 101.6, false},
		{"1.4 kg", Kilogram, 1.4, 1.4, false},
		{"1,4 kg", Kilogram, 1.4, 1.4, false},
		{"0,250 kg", Kilogram, 0.25, 0.25, false},
		{"2.4kg", Kilogram, 2.4, 2.4, false},
		{"350 g", Kilogram, 0.35, 0.35, false},
		{"about 2 kg", Kilogram, 2, 2, true},
		{"~2 kg", Kilogram, 2, 2, true},
		{"ca. 2-3 kg", Kilogram, 2, 3, true},
		{"3 lb 2 oz", Kilogram, 3*0.45359237 + 2*0.028349523125, 3*0.45359237 + 2*0.028349523125, false},
		{"1/2 lb", Kilogram, 0.226796185, 0.226796185, false},
		{"2 Kilos", Kilogram, 2, 2, false},
		{"2 basket", Kilogram, 3.6, 3.6, false},
		{"1.5 baskets", Kilogram, 2.7, 2.7, false},
		{"2 crates", Kilogram, 16, 20, false},
		{"1 basket 200 g", Kilogram, 2, 2, false},
		{"250 ml", Millilitre, 250, 250, false},
		{"1.5 l", Millilitre, 1500, 1500, false},
		{"1,5 Liter", Millilitre, 1500, 1500, false},
		{"8 floz", Millilitre, 236.5882365, 236.5882365, false},
		{"8 fl oz", Millilitre, 236.5882365, 236.5882365, false},
		{"8 fl. oz.", Millilitre, 236.5882365, 236.5882365, false},
		{"2 jugs", Millilitre, 3000, 3000, false},
		{"90 min", Hour, 1.5, 1.5, false},
		{"1 h 30 min", Hour, 1.5, 1.5, false},
		{"2 days", Hour, 48, 48, false},
		{"12 mm", Millimetre, 12, 12, false},
		{"0.5 in", Millimetre, 12.7, 12.7, false},
		{"40", Piece, 40, 40, false},
		{"40 pieces", Piece, 40, 40, false},
		{"0 kg", Kilogram, 0, 0, false},
	} {
		q, err := ParseQuantity(c.in, c.unit, baskets)
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) }
		if err != nil || !near(q.Low, c.low) || !near(q.High, c.high) || q.About != c.about || q.Unit != c.unit || q.Text != c.in {
			t.Errorf("%q: %+v, %v", c.in, q, err)
		}
	}
}

// Conversions are exact where they are exact by definition: the pound and the
// inch by the international agreement of 1959 (National Bureau of Standards,
// Federal Register 24, 5348, 1 July 1959: 1 yard = 0.9144 m, 1 pound =
// 0.45359237 kg); the US gallon of 231 cubic inches (NIST Handbook 44,
// Appendix C), of which the fluid ounce is a 128th.
func TestAgainstLegalUnits(t *testing.T) {
	for _, c := range []struct {
		in   string
		unit Unit
		want float64
	}{
		{"1 lb", Kilogram, 0.45359237},
		{"16 oz", Kilogram, 0.45359237},
		{"36 in", Centimetre, 91.44},
		{"3 ft", Centimetre, 91.44},
		{"1 in", Millimetre, 25.4},
		{"128 floz", Millilitre, 231 * 2.54 * 2.54 * 2.54},
		{"1 floz", Millilitre, 29.5735295625},
	} {
		q, err := ParseQuantity(c.in, c.unit, nil)
		if err != nil || math.Abs(q.Low-c.want) > 1e-12*c.want {
			t.Errorf("%s = %v %s, want %v (%v)", c.in, q.Low, c.unit, c.want, err)
		}
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	for _, c := range []struct {
		in       string
		unit     Unit
		is, want string // parts of what is wrong and of the way out
	}{
		{"12", Centimetre, "has no unit", `write "12 cm"`},
		{"10-15", Centimetre, "has no unit", `write "10-15 cm"`},
		{"about 2", Kilogram, "has no unit", `write "about 2 kg"`},
		{"8 oz", Millilitre, "is a weight", `"8 floz"`},
		{"8 ounces", Millilitre, "is a weight", `"8 floz"`},
		{"8 floz", Kilogram, "is a volume", `write an amount such as "2.4 kg"`},
		{"12 cm", Kilogram, "is a length", `write an amount such as "2.4 kg"`},
		{"2 jug", Kilogram, "is a volume", `write an amount such as "2.4 kg"`},
		{"5 kg", Piece, "a number is wanted", `write an amount such as "12"`},
		{"-5 cm", Centimetre, "less than nothing", `write an amount such as "12 cm"`},
		{"−5 cm", Centimetre, "less than nothing", `write an amount such as "12 cm"`},
		{"NaN kg", Kilogram, "not an amount", `write an amount such as "2.4 kg"`},
		{"inf kg", Kilogram, "not an amount", `write an amount such as "2.4 kg"`},
		{"", Kilogram, "empty", `write an amount such as "2.4 kg"`},
		{"   ", Kilogram, "empty", `write an amount such as "2.4 kg"`},
		{"kg", Kilogram, "not an amount", `write an amount such as "2.4 kg"`},
		{"1e3 kg", Kilogram, "no unit", "write one of"},
		{"5 stone", Kilogram, "no unit that is known", "[measures] in yard.toml"},
		{"1 pint", Millilitre, "no unit that is known", "write one of"},
		{"500000 kg", Kilogram, "more than 100 t", "its unit"},
		{"99999999999999999999999999999999999999 kg", Kilogram, "more than 100 t", "its unit"},
		{"0.0000001 g", Kilogram, "too little", "its unit"},
		{"1,400 kg", Kilogram, "two ways", "write 1.400 or 1400"},
		{"1.400,5 kg", Kilogram, "not an amount", `write an amount such as "2.4 kg"`},
		{"1/0 lb", Kilogram, "not an amount", `write an amount such as "2.4 kg"`},
		{"3 lb 2", Kilogram, "has no unit", "write"},
		{"3 lb 2 cm", Kilogram, "is a length", "write"},
		{strings.Repeat("9", 200) + " kg", Kilogram, "too long", `write an amount such as "2.4 kg"`},
	} {
		q, err := ParseQuantity(c.in, c.unit, baskets)
		if err == nil {
			t.Errorf("%q was read as %+v", c.in, q)
			continue
		}
		text, remedy := parts(err)
		if !strings.Contains(text, c.is) || !strings.Contains(remedy, c.want) {
			t.Errorf("%q: %s | %s", c.in, text, remedy)
		}
	}
}

func TestParseAmount(t *testing.T) {
	for _, c := range []struct {
		in   string
		unit Unit
		v    float64
	}{
		{"5 kg", Kilogram, 5}, {"10 l", Millilitre, 10000}, {"200", Piece, 200}, {"200 pieces", Piece, 200},
		{"2 jugs", Millilitre, 3000}, {"2 h", Hour, 2}, {"3 m", Centimetre, 300},
	} {
		q, err := ParseAmount(c.in, baskets)
		if err != nil || q.Unit != c.unit || q.Mid() != c.v {
			t.Errorf("%q: %+v, %v", c.in, q, err)
		}
	}
	if _, err := ParseAmount("5 kg 3 l", nil); err == nil {
		t.Error("a weight and a volume were added")
	}
}

func TestBaseUnitOnly(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic for a unit that is no base unit")
		}
	}()
	_, _ = ParseQuantity("1 lb", "lb", nil)
}

// What String writes is read back into the same quantity.
func TestQuantityRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]Unit{Kilogram, Millilitre, Centimetre, Hour, Millimetre, Piece}).Draw(t, "unit")
		a := rapid.Float64Range(leastQuantity, wants[unit].most).Draw(t, "low")
		b := rapid.Float64Range(a, wants[unit].most).Draw(t, "high")
		if rapid.Bool().Draw(t, "point") {
			b = a
		}
		q := Quantity{Low: a, High: b, Unit: unit, About: rapid.Bool().Draw(t, "about")}
		back, err := ParseQuantity(q.String(), unit, nil)
		if err != nil {
			t.Fatal(q.String(), err)
		}
		q.Text = q.String()
		if back != q {
			t.Fatalf("%v came back as %+v", q, back)
		}
	})
}

func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"12 cm", "10-15 cm", "1,4 kg", "3 lb 2 oz", "about 2 kg", "1½ in", "8 floz", "2 baskets", "1 to 2 to 3 l", "- -", "1/2/3 kg", "½"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for unit := range wants {
			q, err := ParseQuantity(s, unit, baskets)
			if err != nil {
				continue
			}
			if !(q.Low >= 0 && q.Low <= q.High && q.High <= wants[unit].most) {
				t.Fatalf("%q is %+v", s, q)
			}
			if back, err := ParseQuantity(q.String(), unit, baskets); err != nil || back.Low != q.Low || back.High != q.High || back.About != q.About {
				t.Fatalf("%q: %+v, then %q: %+v, %v", s, q, q.String(), back, err)
			}
		}
		_, _ = ParseAmount(s, baskets)
	})
}
