package linear

import (
	"math/rand/v2"
	"testing"
)

// BenchmarkSolve is a season as a grower may ask for it: on 4,000 draws, 30
// kinds of log, 12 targets of 3 rows, two limits; the others are smaller, and
// one that cannot be met.
func BenchmarkSolve(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 2026))
	tight := limited(rng, seasonOf(rng, 30, 12, 3, 4000))
	none := *tight
	none.Limits = append([]Limit(nil), tight.Limits...)
	for k := range none.Limits {
		none.Limits[k].Room /= 5
	}
	for _, c := range []struct {
		name string
		p    *Programme
	}{
		{"50 draws, 8 variables", seasonOf(rng, 8, 4, 2, 50)},
		{"4000 draws, 10 variables", seasonOf(rng, 10, 3, 2, 4000)},
		{"4000 draws, 30 variables", tight},
		{"4000 draws, 30 variables, not to be met", &none},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.p.Solve(Options{Seed: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkRelax finds what would have to give way in the last of them.
func BenchmarkRelax(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 2026))
	p := limited(rng, seasonOf(rng, 30, 12, 3, 4000))
	for k := range p.Limits {
		p.Limits[k].Room /= 5
	}
	for b.Loop() {
		if len(p.Relax(Options{Seed: 1})) == 0 {
			b.Fatal("nothing to give way")
		}
	}
}
