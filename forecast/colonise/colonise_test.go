package colonise

import (
	"math"
	"testing"

	"hodaba/data"
	"hodaba/yard"
	"pgregory.net/rapid"
)

func practice(t testing.TB) *data.Practice {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return &set.Practice
}

var (
	need      = data.Requirement{Mu: 5, Sigma: 0.23, Solved: true}
	reference = Logs{Diameter: yard.Span{Low: 12, High: 12}, Spawn: "sawdust", WoodKnown: true}
)

func moments(b *Belief, n int) (mean, sd float64) {
	var sum, square float64
	for d := range n {
		h := b.Half(d)
		sum += h
		square += h * h
	}
	mean = sum / float64(n)
	return mean, math.Sqrt(square/float64(n) - mean*mean)
}

// For reference logs the spread of piles and of logs within them make up the
// requirement's, whatever the split.
func TestSpreadAddsUp(t *testing.T) {
	pr := practice(t)
	b := Prior(need, pr, reference, Names{"shiitake", "", "oak"}, 1)
	mean, sd := moments(b, 20000)
	if math.Abs(mean-need.Mu) > 0.005 {
		t.Errorf("mean %.4f, want %.4f", mean, need.Mu)
	}
	logs := 0.0
	for d := range splits {
		logs += b.LogSD(d) * b.LogSD(d) / splits
	}
	if total := math.Sqrt(sd*sd + logs); math.Abs(total-need.Sigma) > 0.005 {
		t.Errorf("spread %.4f, want %.4f", total, need.Sigma)
	}
}

// Plugs take longer than sawdust (Bruhn, Mihail & Pickens 2009 for the order;
// by about a third on a supplier's page), thick logs longer than thin ones;
// a blank widens and forbids nothing.
func TestFactors(t *testing.T) {
	pr := practice(t)
	at := func(l Logs) (float64, float64) {
		return moments(Prior(need, pr, l, Names{"shiitake", "", "oak"}, 1), 4000)
	}
	mean, sd := at(reference)
	plug := reference
	plug.Spawn = "plug"
	if m, _ := at(plug); m <= mean+0.1 {
		t.Errorf("plugs need %.2f, sawdust %.2f", m, mean)
	}
	thick := reference
	thick.Diameter = yard.Span{Low: 20, High: 20}
	if m, _ := at(thick); m <= mean {
		t.Errorf("thick logs need %.2f, reference logs %.2f", m, mean)
	}
	if _, wide := at(Logs{}); wide <= sd {
		t.Errorf("blanks spread %.3f, full particulars %.3f", wide, sd)
	}
}

// Piles of one spawn lot and species share more than strangers do.
func TestSharedEffects(t *testing.T) {
	pr := practice(t)
	corr := func(a, b Names) float64 {
		x, y := Prior(need, pr, reference, a, 1), Prior(need, pr, reference, b, 1)
		const n = 8000
		var sx, sy, sxx, syy, sxy float64
		for d := range n {
			p, q := x.Half(d), y.Half(d)
			sx, sy, sxx, syy, sxy = sx+p, sy+q, sxx+p*p, syy+q*q, sxy+p*q
		}
		return (sxy/n - sx/n*sy/n) / math.Sqrt((sxx/n-sx/n*sx/n)*(syy/n-sy/n*sy/n))
	}
	lot := corr(Names{"shiitake", "S1", "oak"}, Names{"shiitake", "S1", "birch"})
	kind := corr(Names{"shiitake", "S1", "oak"}, Names{"shiitake", "S2", "birch"})
	other := corr(Names{"shiitake", "S1", "oak"}, Names{"reishi", "R1", "birch"})
	if !(lot > kind && kind > other && other > 0.1) {
		t.Errorf("correlation %.2f of one lot, %.2f of one species, %.2f of two; want falling and above zero", lot, kind, other)
	}
}

func TestShare(t *testing.T) {
	b := Prior(need, practice(t), reference, Names{"shiitake", "", "oak"}, 1)
	if got := b.Share(5, 5, 0); got != 0.5 {
		t.Errorf("at half: %g", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		half := rapid.Float64Range(2, 8).Draw(t, "half")
		x := rapid.Float64Range(-20, 10).Draw(t, "grown")
		y := x + rapid.Float64Range(0, 5).Draw(t, "more")
		if a, c := b.Share(x, half, 1), b.Share(y, half, 1); a > c || a < 0 || c > 1 {
			t.Fatalf("share %g then %g", a, c)
		}
	})
}
