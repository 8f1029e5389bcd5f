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
	sigma  [curves]float64        // of all effects together, by curve of the response
	share  [splits][parts]float64 // square roots of the shares of the variance
	ofLog  [splits]float64
	names  Names
	stream [parts]chance.Streams
	blank  chance.Streams
	logs   Logs
	pr     *data.Practice
	blanks bool // something unknown has to be drawn
	// Once something is seen, what is unknown is reckoned with as a normal of
	// this mean and standard deviation, ln growing days.
	blankMean, blankSD float64
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
	for k, split := range [splits]map[string]data.Number{pr.Split, pr.SplitShared, pr.SplitApart} {
		for i, name := range partNames {
			b.share[k][i] = math.Sqrt(split[name].Value)
		}
		b.ofLog[k] = math.Sqrt(split["log"].Value)
	}
	for k := range b.sigma {
		_, b.sigma[k] = need.On(k)
	}
	lot := n.SpawnLot
	if lot == "" {
		lot = "pile " + n.Pile
	}
	b.names = Names{n.Species, lot, n.Pile}
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
	b.blankMean, b.blankSD = b.momentsOfBlanks()
	return b
}

// blankDraws are enough to know the mean and spread of what is unknown.
const blankDraws = 200

func (b *Belief) momentsOfBlanks() (mean, sd float64) {
	var sum, square float64
	for d := range blankDraws {
		x := b.drawBlanks(d)
		sum, square = sum+x, square+x*x
	}
	mean = sum / blankDraws
	return mean, math.Sqrt(max(square/blankDraws-mean*mean, 0))
}

// splits is the number of ways in which the variance may be split; draws take
// them in turn, because nobody knows.
const splits = 3

// curves is the number of shapes of the response to temperature, likewise.
const curves = 1 + data.OtherCurves

// Curve is the shape of the response that a draw takes, one of those of
// data.Practice: the strain's own every other time, because its limits are read
// from sources, else one of the others, those with other limits twice as often
// as the one of another shape. Every split of the variance meets every curve.
func Curve(draw int) int { return turns[draw/splits%len(turns)] }

var turns = [10]int{0, 2, 0, 3, 0, 1, 0, 2, 0, 3}

// Kinds is after how many draws splits and curves have met in every way.
const Kinds = splits * len(turns)

// spread is sigma in one draw.
func (b *Belief) spread(draw int) float64 { return b.sigma[Curve(draw)] }

// LogSD is the standard deviation of ln growing days between the logs of a
// pile, in one draw.
func (b *Belief) LogSD(draw int) float64 { return b.spread(draw) * b.ofLog[draw%splits] }

// Half draws ln growing days that half of the pile's logs need.
func (b *Belief) Half(draw int) float64 { return b.base(draw) + b.spread(draw)*b.effects(draw) }

// effects draws all effects but the log's own, in units of sigma.
func (b *Belief) effects(draw int) (sum float64) {
	for i := range parts {
		sum += b.effect(i, draw)
	}
	return sum
}

// effect draws one effect before anything was seen.
func (b *Belief) effect(part, draw int) float64 {
	return b.share[draw%splits][part] * b.stream[part].Draw(draw).NormFloat64()
}

// base is what is not an effect: the strain's and what diameter, spawn and
// wood add.
func (b *Belief) base(draw int) float64 {
	if b.blanks {
		return b.mu + b.drawBlanks(draw)
	}
	return b.mu
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
// logs need, in one draw.
func (b *Belief) Share(lnGrown, half float64, draw int) float64 {
	return normalCDF((lnGrown - half) / b.LogSD(draw))
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
