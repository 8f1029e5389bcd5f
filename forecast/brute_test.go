package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/forecast/colonise"
	"hodaba/yard"
)

// Learning against brute force: what half of a pile's logs need, given all
// that was seen on a small yard, summed on fine grids over every effect, with
// likelihoods written out here a second time and no table. Mean within 0.02 and
// ends of the range within 0.05 of the standard deviation before anything was
// seen.
func TestAgainstBruteForce(t *testing.T) {
	set := mustLoad(t)
	for i, y := range bruteYards() {
		if testing.Short() && i%4 != 0 {
			continue // a quarter of them, where tests are to be short
		}
		t.Run(y.name, func(t *testing.T) {
			t.Parallel()
			y.compare(t, set)
		})
	}
}

// bruteYard is a yard of one to three piles; the third is of another species,
// the first two share the spawn lot where lot says so.
type bruteYard struct {
	name     string
	seen     [][]yard.Seen // by pile
	lot      bool
	measured bool
}

var bruteOn = yard.NewDate(2025, 4, 12)

func months(n int) yard.Date { return bruteOn.AddMonths(n) }

func flushOn(on yard.Date, logs int) yard.Seen {
	return yard.Seen{On: yard.When{From: on, To: on}, Kind: "harvested", Logs: logs, With: -1, Spots: -1, Springy: -1, Dull: -1}
}

func rounds(from yard.Date, n int) (all []yard.Seen) {
	for i := range n {
		all = append(all, walked(from+yard.Date(9*i)))
	}
	return all
}

func bruteYards() []bruteYard {
	at := func(m, with int) yard.Seen { return looked(months(m), 10, with) }
	none := []yard.Seen(nil)
	one := func(s ...yard.Seen) [][]yard.Seen { return [][]yard.Seen{s} }
	return []bruteYard{
		{name: "0 of 10", seen: one(at(14, 0)), measured: true},
		{name: "0 of 10, weather unknown", seen: one(at(14, 0))},
		{name: "10 of 10", seen: one(at(14, 10)), measured: true},
		{name: "10 of 10, weather unknown", seen: one(at(14, 10))},
		{name: "early ring, weather unknown", seen: one(at(8, 7))},
		{name: "4 of 10", seen: one(at(15, 4)), measured: true},
		{name: "one of 40 flushed", seen: one(flushOn(months(13), 1)), measured: true},
		{name: "one of 40 flushed, weather unknown", seen: one(flushOn(months(13), 1))},
		{name: "flush of who knows how many", seen: one(flushOn(months(14), 0)), measured: true},
		{name: "nothing up in 3 rounds", seen: one(rounds(months(14), 3)...), measured: true},
		{name: "nothing up in 12 rounds", seen: one(rounds(months(13), 12)...), measured: true},
		{name: "nothing up in 12 rounds, weather unknown", seen: one(rounds(months(13), 12)...)},
		{name: "a growing count", seen: one(at(8, 1), at(12, 3), at(16, 6)), measured: true},
		{name: "a growing count, weather unknown", seen: one(at(8, 1), at(12, 3), at(16, 6))},
		{name: "a sinking count", seen: one(at(12, 5), at(15, 2)), measured: true},
		{name: "looks, rounds and a flush", seen: one(append(rounds(months(12), 4), at(13, 3), flushOn(months(15), 6))...), measured: true},
		{name: "two piles, one looked at", seen: [][]yard.Seen{{at(14, 0)}, none}, measured: true},
		{name: "two piles, both looked at", seen: [][]yard.Seen{{at(14, 0)}, {at(14, 6)}}, measured: true},
		{name: "two piles of one lot", lot: true, seen: [][]yard.Seen{{at(12, 8)}, {at(14, 10)}}, measured: true},
		{name: "two piles, weather unknown", seen: [][]yard.Seen{{at(9, 5)}, {at(9, 4)}}},
		{name: "two of one lot, one flushed, weather unknown", lot: true, seen: [][]yard.Seen{{flushOn(months(13), 1)}, rounds(months(13), 5)}},
		{name: "three piles", seen: [][]yard.Seen{{at(14, 2)}, {at(14, 9)}, {at(15, 7)}}, measured: true},
		{name: "three piles, one looked at", seen: [][]yard.Seen{none, none, {at(15, 10)}}, measured: true},
		{name: "three piles, weather unknown", seen: [][]yard.Seen{{at(10, 6)}, none, {at(10, 7)}}},
	}
}

// compare takes some draws of weather, every split of the variance with every
// curve as often as another, and samples each of them many times.
func (y *bruteYard) compare(t *testing.T, set *data.Set) {
	weathers := colonise.Kinds
	if !y.measured {
		weathers *= 2
	}
	samples := size(24000) / weathers
	if len(y.seen) == 3 {
		samples *= 4 // two that disagree leave thin ends
	}
	names := []string{"shiitake", "shiitake", "lion's mane"}
	strains := []string{"wide-range", "wide-range", ""}
	var piles []*yard.Pile
	for i, seen := range y.seen {
		p := referencePile(fmt.Sprint("pile ", i), bruteOn, names[i], strains[i])
		if y.lot {
			p.SpawnLot = "S-25-04"
		}
		p.Seen = seen
		piles = append(piles, p)
	}
	in := Input{State: yardOf(set, "oxford", months(17), piles...), Data: set, Draws: weathers, Seed: 11, Years: 1, Workers: 1}
	if y.measured {
		blind, err := prepare(in)
		if err != nil {
			t.Fatal(err)
		}
		in.State.Weather = measuredPast(blind, 3)
	}
	r, err := prepare(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.weather(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := r.learn(context.Background()); err != nil {
		t.Fatal(err)
	}
	var beliefs []*colonise.Belief
	for _, task := range r.tasks {
		beliefs = append(beliefs, task.belief)
	}
	tree := colonise.NewYard(beliefs)
	n := len(piles)
	ours, oursW := make([][]float64, n), make([][]float64, n)
	brute, bruteW := make([][]float64, n), make([][]float64, n)
	half := make([]float64, n)
	seen := make([][]colonise.Seen, weathers)
	logs := make([]float64, weathers)
	for d := range weathers {
		for _, task := range r.tasks {
			seen[d] = append(seen[d], r.hear(task, d).seen())
		}
		logs[d] = tree.Draw(half, seen[d], d)
	}
	r.weigh(logs)
	for d := range weathers {
		most := int(math.Ceil(float64(samples) * r.weight[d]))
		for k := range most { // draws with the same split and curve
			ll := tree.Draw(half, seen[d], d+weathers*k)
			for i := range n {
				ours[i], oursW[i] = append(ours[i], deviations(r, i, d, half[i])), append(oursW[i], math.Exp(ll)/float64(most))
			}
		}
		g := newBrute(r, d)
		for i := range n {
			x, w := g.posterior(i)
			brute[i], bruteW[i] = append(brute[i], x...), append(bruteW[i], w...)
		}
	}
	for i := range n {
		got, want := threeOf(ours[i], oursW[i], 0), threeOf(brute[i], bruteW[i], bruteStep)
		for j, tolerance := range []float64{0.02, 0.05, 0.05} {
			if math.Abs(got[j]-want[j]) > loose(tolerance) {
				t.Errorf("pile %d: mean, tenth and nine tenths %.3f, brute force %.3f, in deviations of before", i, got, want)
				break
			}
		}
	}
}

// measuredPast is a draw of weather as a record of its past.
func measuredPast(r *run, draw int) *yard.Weather {
	air := make([]climate.Day, r.days)
	r.source.Fill(air, nil, r.start, draw, r.seed)
	w := &yard.Weather{From: r.start}
	for _, d := range air[:r.today+1] {
		w.Days = append(w.Days, yard.WeatherDay{TMin: float64(d.TMin), TMax: float64(d.TMax), Rain: float64(d.Rain), HasTemp: true, HasRain: true})
	}
	return w
}

// deviations is half in standard deviations of before, about the mean.
func deviations(r *run, pile, draw int, half float64) float64 {
	need := r.tasks[pile].strain.Need
	_, sigma := need.On(colonise.Curve(draw))
	return (half - need.Mu) / (sigma * math.Sqrt(1-splitOf(r, draw)["log"].Value))
}

func splitOf(r *run, draw int) map[string]data.Number {
	pr := &r.data.Practice
	return []map[string]data.Number{pr.Split, pr.SplitShared, pr.SplitApart}[draw%3]
}

// brute sums over the effects of a yard in one draw on a grid in units of
// sigma.
type brute struct {
	r     *run
	draw  int
	share map[string]data.Number
	like  [][]float64 // by pile: likelihood on the fine grid
}

const (
	bruteStep = 0.03
	bruteHalf = 175
	bruteSize = 2*bruteHalf + 1
)

func bruteAt(i int) float64 { return float64(i-bruteHalf) * bruteStep }

func newBrute(r *run, draw int) *brute {
	g := &brute{r: r, draw: draw, share: splitOf(r, draw)}
	for _, task := range r.tasks {
		need := task.strain.Need
		_, sigma := need.On(colonise.Curve(draw))
		like := make([]float64, bruteSize)
		for i := range like {
			like[i] = writtenOut(r, task, draw, need.Mu+sigma*bruteAt(i), sigma*math.Sqrt(g.share["log"].Value))
		}
		g.like = append(g.like, like)
	}
	return g
}

func (g *brute) sd(parts ...string) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += g.share[p].Value
	}
	return math.Sqrt(sum)
}

// after is the mean of f over a normal step of some spread, at each point.
func after(f []float64, sd float64) []float64 {
	out := make([]float64, bruteSize)
	for i := range out {
		weight := 0.0
		for j := range f {
			z := (bruteAt(j) - bruteAt(i)) / sd
			w := math.Exp(-z * z / 2)
			out[i], weight = out[i]+w*f[j], weight+w
		}
		// What lies beyond the grid counts for nothing there.
		full := sd * math.Sqrt(2*math.Pi) / bruteStep
		out[i] /= math.Max(weight, full)
	}
	return out
}

// posterior is where a pile's effect lies, in deviations of before, with
// weights whose sum is the likelihood of all that was seen.
func (g *brute) posterior(pile int) (x, weight []float64) {
	own := g.sd("species", "spawn_lot", "pile") // alone under the yard's
	rest := make([]float64, bruteSize)          // of the others, by the effect shared with them
	for i := range rest {
		rest[i] = 1
	}
	common := g.sd("yard")
	switch n := len(g.like); {
	case n == 2 || n == 3 && pile < 2:
		// Two of one species; where there is a third, seen through the yard's effect.
		shared, alone := []string{"species"}, []string{"spawn_lot", "pile"}
		if g.r.tasks[0].pile.SpawnLot != "" {
			shared, alone = []string{"species", "spawn_lot"}, []string{"pile"}
		}
		other := after(g.like[1-pile], g.sd(alone...))
		own = g.sd(alone...)
		if n == 2 {
			common, rest = g.sd(append(shared, "yard")...), other
			break
		}
		third := after(g.like[2], g.sd("species", "spawn_lot", "pile"))
		// The effect of yard and species together, weighed by the third pile at
		// the yard's effect.
		at := make([]float64, bruteSize)
		for u := range bruteSize {
			pu := third[u] * math.Exp(-bruteAt(u)*bruteAt(u)/2/g.share["yard"].Value)
			for v := range bruteSize {
				if c := u + v - bruteHalf; c >= 0 && c < bruteSize {
					at[c] += pu * math.Exp(-bruteAt(v)*bruteAt(v)/2/g.share["species"].Value)
				}
			}
		}
		norm := 2 * math.Pi * g.sd("yard") * g.sd("species") / bruteStep / bruteStep
		return g.spread(pile, own, func(c int) float64 { return at[c] / norm * other[c] })
	case n == 3:
		a, b := after(g.like[0], g.sd("spawn_lot", "pile")), after(g.like[1], g.sd("spawn_lot", "pile"))
		for i := range a {
			a[i] *= b[i]
		}
		rest = after(a, g.sd("species"))
	}
	norm := common * math.Sqrt(2*math.Pi) / bruteStep
	return g.spread(pile, own, func(c int) float64 {
		z := bruteAt(c) / common
		return math.Exp(-z*z/2) / norm * rest[c]
	})
}

// spread goes from the effect that is shared, weighed by f, to the pile's.
func (g *brute) spread(pile int, own float64, f func(int) float64) (x, weight []float64) {
	norm := own * math.Sqrt(2*math.Pi) / bruteStep
	total := math.Sqrt(1 - g.share["log"].Value)
	sum := make([]float64, bruteSize)
	for c := range bruteSize {
		fc := f(c)
		for i := range sum {
			z := (bruteAt(i) - bruteAt(c)) / own
			sum[i] += fc * math.Exp(-z*z/2) / norm
		}
	}
	for i, s := range sum {
		x, weight = append(x, bruteAt(i)/total), append(weight, s*g.like[pile][i])
	}
	return x, weight
}

// writtenOut is the likelihood of a pile's evidence written out plainly.
func writtenOut(r *run, t *task, draw int, half, sd float64) float64 {
	pr, s := &r.data.Practice, t.setting
	since := int32(bruteOn - r.start)
	x := func(day int32) float64 {
		return (math.Log(math.Max(s.at(draw, day)-s.at(draw, since), 1e-6)) - half) / sd
	}
	phi := func(x float64) float64 { return 0.5 * (1 + math.Erf(x/math.Sqrt2)) }
	factorial := func(n int) float64 { return math.Gamma(float64(n + 1)) }
	binom := func(k, n int, p float64) float64 {
		return factorial(n) / factorial(k) / factorial(n-k) * math.Pow(p, float64(k)) * math.Pow(1-p, float64(n-k))
	}
	slip := pr.SlipRate.Value
	points, weights := [3]float64{-math.Sqrt(3), 0, math.Sqrt(3)}, [3]float64{1. / 6, 2. / 3, 1. / 6}
	bears := func(logs int, through float64) (p float64) {
		for i, z := range points {
			each := through * math.Min(colonise.Skewed(t.strain.Fruit.Share, z), 1)
			if logs > 0 {
				p += weights[i] * binom(logs, t.evidence.logs, each)
			} else {
				p += weights[i] * (1 - math.Pow(1-each, float64(t.evidence.logs)))
			}
		}
		return p
	}
	total, nothing := 0.0, 0.0
	for i, za := range points {
		for j, zb := range points {
			never, wrong := colonise.Skewed(r.takeFailOf(t.pile), za), colonise.Skewed(pr.FalseSign, zb)
			ring := func(x float64) float64 {
				p := (1 - never) * phi(x)
				return p*(1-wrong) + (1-p)*wrong/2
			}
			fresh, same, pairs, sinking := 1.0, 1.0, false, false
			for k, l := range t.evidence.looks {
				alone := (1-slip)*binom(l.rings, l.looked, ring(x(l.day))) + slip/float64(l.looked+1)
				fresh *= alone
				if k == 0 {
					same *= alone
					continue
				}
				if l.rings < t.evidence.looks[k-1].rings {
					sinking = true
					continue
				}
				pairs = true
				b := t.evidence.looks[k-1]
				p1, p2 := (1-never)*phi(x(b.day)), (1-never)*phi(x(l.day))
				miss, mistake := wrong, wrong/2
				none := p1*miss + (1-p1)*(1-mistake)
				both := p1*miss*(1-miss) + (p2-p1)*(1-mistake)*(1-miss) + (1-p2)*(1-mistake)*mistake
				n := l.looked - b.rings
				same *= (1-slip)*binom(l.rings-b.rings, n, both/none) + slip/float64(n+1)
			}
			like := fresh
			if pairs && !sinking {
				like = (1-pr.SameLogs.Value)*fresh + pr.SameLogs.Value*same
			}
			if f := t.evidence.fruited; f != nil {
				like *= (1-slip)*bears(f.logs, (1-never)*phi(x(f.day))) + slip/float64(t.evidence.logs+1)
			}
			total += weights[i] * weights[j] * like
		}
	}
	like := total
	for _, trig := range s.triggers[draw] {
		met := slices.ContainsFunc(t.evidence.rounds, func(w round) bool { return w.day >= trig.Pick-5 && w.day <= trig.Pick+7 })
		if !met {
			continue
		}
		nothing = 0
		for i, za := range points {
			never := colonise.Skewed(r.takeFailOf(t.pile), za)
			nothing += weights[i] * (1 - (1-slip)*t.strain.Fruit.Chance.Value*bears(0, (1-never)*phi(x(trig.Start))))
		}
		like *= nothing
	}
	if t.conflict > contradicts {
		like = math.Pow(like, t.testimony.temper)
	}
	return like
}

// threeOf are the mean, the tenth and the nine tenths of weighted values, which
// stand for cells of some width.
func threeOf(x, w []float64, cell float64) [3]float64 {
	order := make([]int, len(x))
	total, sum := 0.0, 0.0
	for i := range x {
		order[i] = i
		total, sum = total+w[i], sum+w[i]*x[i]
	}
	slices.SortFunc(order, func(a, b int) int {
		if x[a] < x[b] {
			return -1
		}
		return 1
	})
	at := func(p float64) float64 {
		acc := 0.0
		for _, i := range order {
			if acc += w[i]; acc >= p*total {
				return x[i] + cell*(0.5-(acc-p*total)/w[i])
			}
		}
		return math.NaN()
	}
	return [3]float64{sum / total, at(0.1), at(0.9)}
}
