package harvest

import (
	"math"
	"testing"

	"hodaba/data"
	"hodaba/yard"
	"pgregory.net/rapid"
)

const inch, foot = 0.0254, 0.3048

// Worked examples of University of Missouri Extension, Forestry functions:
// cubic log volume; 10 and 12 inch, 16 ft; 25 and 29 cm, 5 m. The neiloid is
// printed as 10.568, exactly 10.568914.
func TestAgainstLogVolumes(t *testing.T) {
	cubicFoot := foot * foot * foot
	for _, row := range []struct {
		name            string
		got, want, unit float64
		tolerance       float64
	}{
		{"Smalian, ft³", Smalian(10*inch, 12*inch, 16*foot), 10.647, cubicFoot, 5.1e-4},
		{"cone, ft³", Cone(10*inch, 12*inch, 16*foot), 10.588, cubicFoot, 5.1e-4},
		{"neiloid, ft³", Neiloid(10*inch, 12*inch, 16*foot), 10.568, cubicFoot, 1e-3},
		{"Smalian, m³", Smalian(0.25, 0.29, 5), 0.287848, 1, 5e-7},
		{"cone, m³", Cone(0.25, 0.29, 5), 0.286801, 1, 5e-7},
		{"neiloid, m³", Neiloid(0.25, 0.29, 5), 0.286452, 1, 5e-7},
		// Arithmetic on the same logs, done outside the project.
		{"Huber, m³", Huber(0.27, 5), 0.286278, 1, 5e-7},
		{"Huber, ft³", Huber(11*inch, 16*foot), 10.559242, cubicFoot, 5e-6},
		{"Newton, m³", Newton(0.25, 0.27, 0.29, 5), 0.286801, 1, 5e-7},
		{"Newton, ft³", Newton(10*inch, 11*inch, 12*inch, 16*foot), 10.588331, cubicFoot, 5e-6},
	} {
		if got := row.got / row.unit; math.Abs(got-row.want) > row.tolerance {
			t.Errorf("%s: %.6f, want %.6f", row.name, got, row.want)
		}
	}
}

// For a straight taper Newton is the cone, Huber at most it and Smalian at
// least; a cylinder is the same in all five.
func TestVolumeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.05, 0.4).Draw(t, "small end")
		b := a + rapid.Float64Range(0, 0.2).Draw(t, "taper")
		l := rapid.Float64Range(0.3, 6).Draw(t, "length")
		mid := (a + b) / 2
		cone := Cone(a, b, l)
		if math.Abs(Newton(a, mid, b, l)-cone) > 1e-12 {
			t.Fatal("Newton of a straight taper is not the cone")
		}
		if Huber(mid, l) > cone+1e-12 || Smalian(a, b, l) < cone-1e-12 {
			t.Fatal("Huber, cone and Smalian out of order")
		}
		if c := Huber(a, l); math.Abs(Smalian(a, a, l)-c) > 1e-12 || math.Abs(Neiloid(a, a, l)-c) > 1e-12 {
			t.Fatal("a cylinder has two volumes")
		}
	})
}

// Green over dry mass of wood with bark as printed in the reference table of
// the United States forest inventory (Miles & Smith 2009, NRS-38).
func TestAgainstGreenOverDry(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{
		"white oak": 1.7094431845, "northern red oak": 1.8465804851, "sugar maple": 1.616468427,
		"red alder": 1.9545104962, "American beech": 1.5684104872,
	} {
		w, ok := set.FindWood(name)
		if !ok {
			t.Errorf("%s is not embedded", name)
			continue
		}
		if got := GreenOverDry(w); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %.9f, want %.9f", name, got, want)
		}
	}
}

// Dry mass of a log of 5 by 40 inch, inside bark: arithmetic on the same
// table, done outside the project.
func TestAgainstDryWood(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{
		"white oak": 7.722, "northern red oak": 7.207, "red alder": 4.762, "quaking aspen": 4.505,
	} {
		w, ok := set.FindWood(name)
		if !ok {
			t.Errorf("%s is not embedded", name)
			continue
		}
		bare := *w
		bare.Bark = 0
		if got := DryWood(&bare, 12.7, 101.6); math.Abs(got-want) > 6e-4 {
			t.Errorf("%s: %.4f kg, want %.3f", name, got, want)
		}
		if DryWood(w, 12.7, 101.6) >= DryWood(&bare, 12.7, 101.6) {
			t.Errorf("%s: bark adds wood", name)
		}
	}
}

// 10 kg of mushrooms of 90 % water dried to 12 and to 13 %: arithmetic.
func TestAgainstDryMass(t *testing.T) {
	if got := Dried(10, 0.90, 0.12); math.Abs(got-1.13636) > 5e-6 {
		t.Errorf("to 12 %%: %.5f kg, want 1.13636", got)
	}
	if got := Dried(10, 0.90, 0.13); math.Abs(got-1.14943) > 5e-6 {
		t.Errorf("to 13 %%: %.5f kg, want 1.14943", got)
	}
}

func shiitakeYield(t testing.TB) *data.Yield {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	sp, _ := set.FindSpecies("shiitake")
	return &sp.Strains[0].Yield
}

// However flushes fall, a crop gives no more than its life, and all of it in
// the long run.
func TestCropIsAStock(t *testing.T) {
	y := shiitakeYield(t)
	rapid.Check(t, func(t *rapid.T) {
		life := rapid.Float64Range(0.01, 50).Draw(t, "life")
		c := NewCrop(y, life)
		day, sum := int32(rapid.IntRange(0, 400).Draw(t, "first")), 0.0
		for range rapid.IntRange(1, 30).Draw(t, "flushes") {
			got := c.Flush(day, rapid.Float64Range(0.2, 2).Draw(t, "factor"))
			if got < 0 {
				t.Fatalf("a flush of %g kg", got)
			}
			sum += got
			day += int32(rapid.IntRange(1, 500).Draw(t, "gap"))
		}
		if math.Abs(sum+c.Left()-life) > 1e-9*life {
			t.Fatalf("picked %g, left %g, life %g", sum, c.Left(), life)
		}
		for range 60 {
			sum += c.Flush(day+3000, 1)
			day += 200
		}
		if math.Abs(sum-life) > 1e-6*life {
			t.Fatalf("in the long run %g of %g kg", sum, life)
		}
	})
}

// Shares of the years 1 : 2 : 2 : 1 (University of Maryland Extension,
// RES-11) come out where flushes take nearly all that is due.
func TestAgainstYearShares(t *testing.T) {
	y := *shiitakeYield(t)
	y.FlushShare.Value = 1
	c := NewCrop(&y, 6)
	for k, want := range []float64{1, 2, 2, 1} {
		if got := c.Flush(int32(k*366), 1); math.Abs(got-want) > 1e-5 {
			t.Errorf("fruiting year %d: %g, want %g", k+1, got, want)
		}
	}
}

func TestStock(t *testing.T) {
	s := NewStock(2)
	s.Hold("shiitake", Pieces, 40)
	s.Add("shiitake", 0, 120, 30)
	s.Add("shiitake", 0, 100, 20)
	s.Close()
	for _, row := range []struct {
		draw int
		g    float64
		day  yard.Date
		ok   bool
	}{{0, 40, 0, true}, {0, 41, 100, true}, {0, 60, 100, true}, {0, 61, 120, true}, {0, 91, 0, false}, {1, 41, 0, false}} {
		day, ok := s.FirstDay("shiitake", Pieces, row.draw, row.g)
		if day != row.day || ok != row.ok {
			t.Errorf("draw %d, %g g: day %d %v, want %d %v", row.draw, row.g, day, ok, row.day, row.ok)
		}
	}
	if got := s.OnHand("shiitake", 0, 110); got != 60 {
		t.Errorf("on day 110: %g g, want 60", got)
	}
	if _, ok := s.FirstDay("reishi", Pieces, 0, 1); ok {
		t.Error("reishi comes from nowhere")
	}
}

// ledger is what a crop's paths come to: its life is what was taken and what
// is left.
type ledger struct{ life, taken float64 }

func (l *ledger) leak(c *Crop) float64 { return l.life - l.taken - c.Left() }

// However flushes, recorded pickings and flushes that never were follow each
// other, a crop is what was taken and what is left, never under nothing and
// never over its life. A leak, planted, is seen.
func TestNothingLeaks(t *testing.T) {
	y := shiitakeYield(t)
	rapid.Check(t, func(t *rapid.T) {
		l := &ledger{life: rapid.Float64Range(0.01, 50).Draw(t, "life")}
		c := NewCrop(y, l.life)
		day := int32(0)
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			day += int32(rapid.IntRange(1, 400).Draw(t, "gap"))
			kg := rapid.Float64Range(0, 20).Draw(t, "kg")
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				l.taken += c.Flush(day, rapid.Float64Range(0.2, 2).Draw(t, "factor"))
			case 1:
				l.taken += c.Pick(day, kg)
			case 2:
				l.taken += c.Lose(kg)
			case 3:
				l.taken -= c.GiveBack(kg)
			}
			if math.Abs(l.leak(&c)) > 1e-8*l.life || c.Left() < 0 || c.Left() > l.life {
				t.Fatalf("life %g, taken %g, left %g", l.life, l.taken, c.Left())
			}
		}
		c.left *= 1 - 1e-3
		if c.left > 1e-3*l.life && math.Abs(l.leak(&c)) <= 1e-8*l.life {
			t.Fatal("a leak is not seen")
		}
	})
}

// A crop of which all flushes were given back begins anew; one picked without
// a flush begins with the picking.
func TestBeginsWithThePicking(t *testing.T) {
	y := *shiitakeYield(t)
	y.FlushShare.Value = 1
	c := NewCrop(&y, 6)
	c.GiveBack(c.Flush(0, 1))
	if c.Begun() || c.Left() != 6 {
		t.Errorf("begun %v, %g left after nothing was picked", c.Begun(), c.Left())
	}
	if got := c.Flush(1000, 1); math.Abs(got-1) > 1e-5 {
		t.Errorf("first flush after a year without any: %g, want 1", got)
	}
	d := NewCrop(&y, 6)
	d.Pick(0, 1)
	if got := d.Flush(366, 1); math.Abs(got-2) > 1e-5 {
		t.Errorf("second year after a picking: %g, want 2", got)
	}
}
