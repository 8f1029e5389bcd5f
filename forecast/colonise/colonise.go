package colonise

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Logs is what the requirement depends on besides the strain. What is unknown
// widens it.
type Logs struct {
	Diameter  yard.Span // cm
	Spawn     string    // "sawdust", "plug", "thimble"; "" unknown
	WoodKnown bool
}

// Names says with which other piles a pile shares its effects.
type Names struct {
	Species  string // species and strain
	SpawnLot string // "" shares with no other pile
	Pile     string
}

// Belief is what is believed of one pile's requirement.
//
// Purpose: ln growing days that half of the pile's logs need, by draw.
// Equation: see the package. Parameters: Requirement (data), Split, Spawn,
// DiameterExponent, WoodFactor (data.Practice). State: none. Needs nothing
// from others. Errors: none.
type Belief struct {
	mu     float64
	sd     [parts]float64
	logSD  float64
	stream [parts]chance.Streams
	blank  chance.Streams
	logs   Logs
	pr     *data.Practice
	blanks bool // something unknown has to be drawn
}

// The effects that a pile shares or has for itself.
const (
	ofYard = iota
	ofSpecies
	ofLot
	ofPile
	parts
)

var partNames = [parts]string{"yard", "species", "spawn_lot", "pile"}

// Prior returns the belief before anything was seen.
func Prior(need data.Requirement, pr *data.Practice, logs Logs, n Names, seed uint64) *Belief {
	b := &Belief{mu: need.Mu, logs: logs, pr: pr}
	for i, name := range partNames {
		b.sd[i] = need.Sigma * math.Sqrt(pr.Split[name].Value)
	}
	b.logSD = need.Sigma * math.Sqrt(pr.Split["log"].Value)
	lot := n.SpawnLot
	if lot == "" {
		lot = "pile " + n.Pile
	}
	b.stream = [parts]chance.Streams{
		chance.NewStreams(seed, "effect of the yard", ""),
		chance.NewStreams(seed, "effect of the species", n.Species),
		chance.NewStreams(seed, "effect of the spawn lot", lot),
		chance.NewStreams(seed, "effect of the pile", n.Pile),
	}
	b.blank = chance.NewStreams(seed, "blanks of the pile", n.Pile)
	b.mu += math.Log(spawnFactor(pr, logs.Spawn, 0))
	reference := pr.ReferenceDiameter.Value
	if d := logs.Diameter; d.Known() && d.Low == d.High && d.High == reference && logs.Spawn != "" && logs.WoodKnown {
		return b
	}
	b.blanks = true
	b.mu = need.Mu
	return b
}

// LogSD is the standard deviation of ln growing days between the logs of a
// pile.
func (b *Belief) LogSD() float64 { return b.logSD }

// Half draws ln growing days that half of the pile's logs need.
func (b *Belief) Half(draw int) float64 {
	return b.before(draw) + b.sd[ofPile]*b.stream[ofPile].Draw(draw).NormFloat64()
}

// HalfAtMost draws as Half does, given that it is at most bound: a pile that
// has fruited was through somewhere by then.
func (b *Belief) HalfAtMost(draw int, bound float64) float64 {
	base, sd := b.before(draw), b.sd[ofPile]
	limit := (bound - base) / sd
	if limit < farTail {
		return bound
	}
	u := b.stream[ofPile].Draw(draw).Float64()
	p := math.Max(u*normalCDF(limit), math.SmallestNonzeroFloat64)
	return base + sd*math.Max(mathext.NormalQuantile(p), farTail)
}

// farTail is where the normal distribution is taken to end, in standard
// deviations.
const farTail = -8

// before is everything but the pile's own effect.
func (b *Belief) before(draw int) float64 {
	ln := b.mu
	for i := range ofPile {
		ln += b.sd[i] * b.stream[i].Draw(draw).NormFloat64()
	}
	if b.blanks {
		ln += b.drawBlanks(draw)
	}
	return ln
}

// drawBlanks draws the factors of diameter, spawn form and wood.
func (b *Belief) drawBlanks(draw int) float64 {
	rnd := b.blank.Draw(draw)
	exponent := Skewed(b.pr.DiameterExponent, rnd.NormFloat64())
	d := b.logs.Diameter
	cm := d.Low + (d.High-d.Low)*rnd.Float64()
	if !d.Known() {
		cm = Skewed(b.pr.UnknownDiameter, rnd.NormFloat64())
	}
	ln := exponent * math.Log(cm/b.pr.ReferenceDiameter.Value)
	ln += math.Log(spawnFactor(b.pr, b.logs.Spawn, rnd.NormFloat64()))
	if z := rnd.NormFloat64(); !b.logs.WoodKnown {
		ln += math.Log(Skewed(b.pr.WoodFactor, z))
	}
	return ln
}

func spawnFactor(pr *data.Practice, form string, z float64) float64 {
	r, ok := pr.Spawn[form]
	if !ok {
		r = pr.Spawn["unknown"]
	}
	return Skewed(r, z)
}

// Skewed draws from a range; see chance.Skewed.
func Skewed(r data.Range, z float64) float64 {
	return chance.Skewed(r.Low, r.Typical, r.High, z)
}

// Share is the share of a pile's living logs that are through, given the
// natural logarithm of the growing days so far and of those that half of its
// logs need.
func (b *Belief) Share(lnGrown, half float64) float64 {
	return normalCDF((lnGrown - half) / b.logSD)
}

// Cohorts are the standard normal deviations of the classes of logs, earliest
// first, each with the same number of logs.
var Cohorts = func() (z [5]float64) {
	for i := range z {
		z[i] = mathext.NormalQuantile((float64(i) + 0.5) / float64(len(z)))
	}
	return z
}()

func normalCDF(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
