package alcohol

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// milligram is how exactly mass must be kept, in grams.
const milligram = 0.001

func drawLiquid(t *rapid.T, name string) Liquid {
	ml := rapid.Float64Range(0, 5000).Draw(t, name+" ml")
	abv := rapid.Float64Range(0, 100).Draw(t, name+" % vol")
	return must(Spirit(ml, abv))
}

func near(a, b Liquid) bool {
	return math.Abs(a.EthanolG-b.EthanolG) < milligram && math.Abs(a.WaterG-b.WaterG) < milligram
}

// step is one thing done to liquids; leaks says whether what comes out weighs
// the same as what goes in, ethanol and water each.
type step func(a, b Liquid, x float64) (in, out []Liquid)

var steps = map[string]step{
	"blend": func(a, b Liquid, _ float64) (in, out []Liquid) {
		return []Liquid{a, b}, []Liquid{Blend(a, b)}
	},
	"part": func(a, _ Liquid, x float64) (in, out []Liquid) {
		part, rest := a.Part(x * a.VolumeML())
		return []Liquid{a}, []Liquid{part, rest}
	},
	"dilute": func(a, _ Liquid, x float64) (in, out []Liquid) {
		g, err := Dilute(a, x*a.ABV())
		if err != nil {
			return nil, nil
		}
		made := a.Plus(Liquid{WaterG: g})
		want := must(MassFraction(x * a.ABV()))
		again := ofMass(made.MassG(), want) // as its mass and strength say
		return []Liquid{a, {WaterG: g}}, []Liquid{again}
	},
	"boil": func(a, _ Liquid, _ float64) (in, out []Liquid) {
		rest, g := a.DriveOff()
		return []Liquid{a}, []Liquid{rest, {EthanolG: g}}
	},
}

func leaks(f step, a, b Liquid, x float64) bool {
	in, out := f(a, b, x)
	return !near(Blend(in...), Blend(out...))
}

func TestMassAndEthanolAreConserved(t *testing.T) {
	for name, f := range steps {
		rapid.Check(t, func(t *rapid.T) {
			a, b := drawLiquid(t, "a"), drawLiquid(t, "b")
			x := rapid.Float64Range(0.05, 0.999).Draw(t, "x")
			if leaks(f, a, b, x) {
				in, out := f(a, b, x)
				t.Fatalf("%s: in %v, out %v", name, in, out)
			}
		})
	}
	// A planted leak of two milligrams, and blending by volume, are caught.
	a, b := must(Spirit(500, 40)), must(Spirit(300, 96))
	for name, f := range map[string]step{
		"leak": func(a, b Liquid, _ float64) (in, out []Liquid) {
			sum := Blend(a, b)
			sum.EthanolG -= 0.002
			return []Liquid{a, b}, []Liquid{sum}
		},
		"volumes added": func(a, b Liquid, _ float64) (in, out []Liquid) {
			ml := a.VolumeML() + b.VolumeML()
			sum := must(Spirit(ml, 100*(a.EthanolML()+b.EthanolML())/ml))
			return []Liquid{a, b}, []Liquid{sum}
		},
	} {
		if !leaks(f, a, b, 0) {
			t.Errorf("planted fault %q is not caught", name)
		}
	}
}

func TestBlendingIsCommutativeAndAssociative(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawLiquid(t, "a"), drawLiquid(t, "b"), drawLiquid(t, "c")
		if a.Plus(b) != b.Plus(a) {
			t.Fatalf("%v and %v: the order matters", a, b)
		}
		if l, r := a.Plus(b).Plus(c), a.Plus(b.Plus(c)); !near(l, r) {
			t.Fatalf("grouping matters: %v and %v", l, r)
		}
	})
}

func TestWaterNeverRaisesStrength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawLiquid(t, "a")
		made := a.Plus(Water(rapid.Float64Range(0, 5000).Draw(t, "water")))
		if made.ABV() > a.ABV()+1e-9 {
			t.Fatalf("%.6f %% became %.6f %%", a.ABV(), made.ABV())
		}
		if made.VolumeML() < a.VolumeML()-1e-9 {
			t.Fatalf("%.6f ml became %.6f ml", a.VolumeML(), made.VolumeML())
		}
	})
}

// A blend is never stronger or weaker than what went into it, nor larger than
// its parts by more than two thousandths: weak spirit swells a little with water.
func TestBlendLiesBetweenItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawLiquid(t, "a"), drawLiquid(t, "b")
		ab := Blend(a, b)
		if ab.MassG() == 0 {
			return
		}
		low, high := a.MassFraction(), b.MassFraction()
		if a.MassG() == 0 {
			low = high
		}
		if b.MassG() == 0 {
			high = low
		}
		if low > high {
			low, high = high, low
		}
		if p := ab.MassFraction(); p < low-1e-12 || p > high+1e-12 {
			t.Fatalf("%.9f from %.9f and %.9f", p, low, high)
		}
		if c := Contraction(a, b); c < -0.002*ab.VolumeML()-1e-9 {
			t.Fatalf("%v and %v swell by %.3f ml", a, b, -c)
		}
	})
}

func TestStrengthAndDensityGoThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		c := rapid.Float64Range(MinC, MaxC).Draw(t, "°C")
		if got := must(MassFractionAt(must(ByVolumeAt(p, c)), c)); math.Abs(got-p) > 1e-9 {
			t.Fatalf("by volume at %g °C: %.12f became %.12f", c, p, got)
		}
		// Near water the density falls slowly, by 60 kg/m³ and more per unit.
		if got := must(FromDensity(must(Density(p, c)), c)); math.Abs(got-p) > 1e-9 {
			t.Fatalf("density at %g °C: %.12f became %.12f", c, p, got)
		}
	})
}

// FromDensity rests on this: at any temperature of the tables the density
// falls strictly from water to ethanol.
func TestDensityFallsWithStrength(t *testing.T) {
	for c := MinC; c <= MaxC; c += 2 {
		last := math.Inf(1)
		for i := 0; i <= 2000; i++ {
			rho := must(Density(float64(i)/2000, c))
			if rho >= last {
				t.Fatalf("at %g °C density does not fall at p = %g", c, float64(i)/2000)
			}
			last = rho
		}
	}
}

// Poured together in the proportion worked out, two liquids have the strength
// that was wanted.
func TestProportionsComeOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weak := rapid.Float64Range(0, 99).Draw(t, "weak")
		strong := rapid.Float64Range(weak+0.5, 100).Draw(t, "strong")
		want := weak + (strong-weak)*rapid.Float64Range(0.01, 0.99).Draw(t, "x")
		share, err := Proportion(strong, weak, want)
		if err != nil || !(share > 0 && share < 1) {
			t.Fatalf("%g and %g to %g: %g, %v", strong, weak, want, share, err)
		}
		made := Blend(ofMass(1000*share, must(MassFraction(strong))), ofMass(1000*(1-share), must(MassFraction(weak))))
		if math.Abs(made.ABV()-want) > 1e-9 {
			t.Fatalf("%g and %g to %g: %.12f", strong, weak, want, made.ABV())
		}
	})
}

func TestPart(t *testing.T) {
	l := must(Spirit(100, 40))
	for _, c := range []struct{ ask, get float64 }{{-5, 0}, {0, 0}, {25, 25}, {100, 100}, {500, 100}, {math.NaN(), 0}} {
		part, rest := l.Part(c.ask)
		if math.Abs(part.VolumeML()-c.get) > 1e-9 || !near(part.Plus(rest), l) {
			t.Errorf("%g ml of 100: %v and %v", c.ask, part, rest)
		}
		if c.get > 0 && math.Abs(part.ABV()-40) > 1e-9 {
			t.Errorf("%g ml of 100: %.6f %%", c.ask, part.ABV())
		}
	}
}

func BenchmarkBlend(b *testing.B) {
	a, w := must(Spirit(500, 40)), Water(500)
	for b.Loop() {
		_ = Blend(a, w).ABV()
	}
}
