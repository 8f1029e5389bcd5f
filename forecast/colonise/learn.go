package colonise

import "math"

// Seen is the natural logarithm of how likely it is to see on a pile what was
// seen, given ln growing days that half of its logs need; nil where nothing
// was. It belongs to one draw of weather.
type Seen func(half float64) float64

// Yard is what is believed of the piles of a yard together.
//
// Purpose: ln growing days that half of each pile's logs need, by draw, after
// what was seen. Equation: the effects form a tree, yard → species → spawn
// lot → pile, normal at each branch; what was seen on a pile is carried down
// to the root by one-dimensional quadrature on a grid, and from the root up
// each effect is drawn given the one below it (the forward-filtering and
// backward-sampling of a Gaussian tree, with likelihoods of any shape at its
// leaves). Parameters: those of Belief. State: none. Needs Seen. Errors: none.
type Yard struct {
	piles   []*Belief
	species []branch
	kernels [splits]kernels
	own     [][splits][curves][]float64 // by pile: the kernel of its own effect, with what is unknown of it
}

// branch is a species with its spawn lots.
type branch struct {
	lots []lot
}

// lot is a spawn lot with the numbers of its piles.
type lot struct{ piles []int }

// The grid of effects, in units of sigma: far enough, and fine against what
// can be told from logs.
const (
	gridHalf = 45
	gridStep = 0.1
	gridSize = 2*gridHalf + 1
)

func gridAt(i int) float64 { return float64(i-gridHalf) * gridStep }

// kernels are the normal weights of steps on the grid, by part of the tree.
type kernels [parts][]float64

// NewYard puts beliefs together; piles share by the names given to Prior.
func NewYard(piles []*Belief) *Yard {
	y := &Yard{piles: piles}
	species, lots := map[string]int{}, map[[2]string][2]int{}
	for i, b := range piles {
		s, ok := species[b.names.Species]
		if !ok {
			s = len(y.species)
			species[b.names.Species] = s
			y.species = append(y.species, branch{})
		}
		key := [2]string{b.names.Species, b.names.SpawnLot}
		at, ok := lots[key]
		if !ok {
			at = [2]int{s, len(y.species[s].lots)}
			lots[key] = at
			y.species[s].lots = append(y.species[s].lots, lot{})
		}
		l := &y.species[at[0]].lots[at[1]]
		l.piles = append(l.piles, i)
	}
	y.own = make([][splits][curves][]float64, len(piles))
	for i, b := range piles {
		for k := range splits {
			for c := range curves {
				y.own[i][k][c] = normalKernel(math.Hypot(b.share[k][ofPile], b.blankSD/b.sigma[c]))
			}
		}
	}
	if len(piles) > 0 {
		for k := range y.kernels {
			for p, sd := range piles[0].share[k] {
				y.kernels[k][p] = normalKernel(sd)
			}
		}
	}
	return y
}

// normalKernel is the normal density of a spread at steps of the grid, cut off
// at five deviations and summing to one.
func normalKernel(sd float64) []float64 {
	reach := min(int(math.Ceil(5*sd/gridStep)), gridSize-1)
	k, sum := make([]float64, 2*reach+1), 0.0
	for i := range k {
		z := float64(i-reach) * gridStep / sd
		k[i] = math.Exp(-z * z / 2)
		sum += k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	return k
}

// grid is a function of an effect.
type grid [gridSize]float64

// blur is the mean of g over a normal step away from each point.
func (g *grid) blur(kernel []float64) (out grid) {
	reach := len(kernel) / 2
	for i := range out {
		sum := 0.0
		for j := max(-reach, -i); j <= min(reach, gridSize-1-i); j++ {
			sum += kernel[j+reach] * g[i+j]
		}
		out[i] = sum
	}
	return out
}

// times multiplies g by h and takes out the largest value, whose logarithm it
// returns, so that many factors cannot vanish.
func (g *grid) times(h *grid) float64 {
	most := 0.0
	for i := range g {
		g[i] *= h[i]
		most = max(most, g[i])
	}
	if most <= 0 {
		return math.Inf(-1)
	}
	for i := range g {
		g[i] /= most
	}
	return math.Log(most)
}

func ones() (g grid) {
	for i := range g {
		g[i] = 1
	}
	return g
}

// upward is what was seen above each knot of the tree, as a function of the
// effects up to it.
type upward struct {
	pile    []*grid // nil where nothing was seen
	lot     [][]*grid
	species []*grid
}

// Draw draws ln growing days that half of each pile's logs need, given what
// was seen on them, into half; it returns the natural logarithm of how likely
// all of it is in this draw. With nothing seen it draws what each pile's Half
// does. seen has an entry for each pile.
func (y *Yard) Draw(half []float64, seen []Seen, draw int) float64 {
	return y.DrawEffects(half, nil, seen, draw)
}

// Effects are what makes a yard, its species and its piles faster or slower,
// in units of the standard deviation of all effects together; each includes
// those above it in the tree. A pile's includes what is unknown of it.
type Effects struct {
	Yard    float64
	Species []float64 // in the order in which species first came
	Pile    []float64
}

// DrawEffects is Draw, and notes the effects where e is not nil.
func (y *Yard) DrawEffects(half []float64, e *Effects, seen []Seen, draw int) float64 {
	if e != nil {
		*e = Effects{Species: make([]float64, len(y.species)), Pile: make([]float64, len(y.piles))}
	}
	k := &y.kernels[draw%splits]
	up := upward{pile: make([]*grid, len(y.piles))}
	root, logSum, any := ones(), 0.0, false
	for _, br := range y.species {
		here, lots := ones(), make([]*grid, len(br.lots))
		has := false
		for li, l := range br.lots {
			g, ll := y.seenOfLot(&up, l, seen, draw)
			if g == nil {
				continue
			}
			lots[li], has = g, true
			blurred := g.blur(k[ofLot])
			logSum += ll + here.times(&blurred)
		}
		up.lot = append(up.lot, lots)
		if !has {
			up.species = append(up.species, nil)
			continue
		}
		up.species = append(up.species, &here)
		blurred := here.blur(k[ofSpecies])
		logSum += root.times(&blurred)
		any = true
	}
	if !any && e == nil {
		for i, b := range y.piles {
			half[i] = b.Half(draw)
		}
		return 0
	}
	return logSum + y.down(half, e, &root, &up, k, draw)
}

// seenOfLot multiplies what was seen on the piles of a lot; nil where nothing
// was.
func (y *Yard) seenOfLot(up *upward, l lot, seen []Seen, draw int) (g *grid, logSum float64) {
	for _, i := range l.piles {
		if seen[i] == nil {
			continue
		}
		b := y.piles[i]
		base := b.mu + b.blankMean
		p := grid{}
		most := math.Inf(-1)
		for j := range p {
			p[j] = seen[i](base + b.spread(draw)*gridAt(j))
			most = max(most, p[j])
		}
		for j := range p {
			p[j] = math.Exp(p[j] - most)
		}
		up.pile[i] = &p
		blurred := p.blur(y.own[i][draw%splits][Curve(draw)])
		if g == nil {
			one := ones()
			g = &one
		}
		logSum += most + g.times(&blurred)
	}
	return g, logSum
}

// down draws the effects from the yard's to the piles'.
func (y *Yard) down(half []float64, e *Effects, root *grid, up *upward, k *kernels, draw int) float64 {
	u, logSum := pick(root, 0, k[ofYard], y.piles[0].stream[ofYard].Draw(draw).Float64())
	for s, br := range y.species {
		first := y.piles[br.lots[0].piles[0]]
		v := u + first.effect(ofSpecies, draw)
		if g := up.species[s]; g != nil {
			v, _ = pick(g, u, k[ofSpecies], first.stream[ofSpecies].Draw(draw).Float64())
		}
		if e != nil {
			e.Yard, e.Species[s] = u, v
		}
		for li, l := range br.lots {
			one := y.piles[l.piles[0]]
			w := v + one.effect(ofLot, draw)
			if g := up.lot[s][li]; g != nil {
				w, _ = pick(g, v, k[ofLot], one.stream[ofLot].Draw(draw).Float64())
			}
			for _, i := range l.piles {
				b := y.piles[i]
				if g := up.pile[i]; g != nil {
					x, _ := pick(g, w, y.own[i][draw%splits][Curve(draw)], b.stream[ofPile].Draw(draw).Float64())
					half[i] = b.mu + b.blankMean + b.spread(draw)*x
				} else {
					half[i] = b.base(draw) + b.spread(draw)*(w+b.effect(ofPile, draw))
				}
				if e != nil {
					e.Pile[i] = (half[i] - b.mu - b.blankMean) / b.spread(draw)
				}
			}
		}
	}
	return logSum
}

// pick draws an effect that lies a normal step from at, given g of it, from a
// uniform number; it returns the logarithm of the mean of g over that step.
func pick(g *grid, at float64, kernel []float64, uniform float64) (x, logMean float64) {
	reach := len(kernel) / 2
	centre := at/gridStep + gridHalf
	near := int(math.Round(centre))
	shift := float64(near) - centre // the kernel stands on the grid point next to at, and g is read as far beside its own
	read := func(i int) float64 {
		if shift >= 0 {
			return g[i]*(1-shift) + g[max(i-1, 0)]*shift
		}
		return g[i]*(1+shift) - g[min(i+1, gridSize-1)]*shift
	}
	var weight [gridSize]float64
	total := 0.0
	lo, hi := max(near-reach, 0), min(near+reach, gridSize-1)
	for i := lo; i <= hi; i++ {
		weight[i] = read(i) * kernel[i-near+reach]
		total += weight[i]
	}
	if total <= 0 {
		return at, math.Inf(-1)
	}
	want := uniform * total
	for i := lo; i <= hi; i++ {
		if want <= weight[i] || i == hi {
			// Within a cell the draw is even, so that no grid shows.
			part := 0.5
			if weight[i] > 0 {
				part = min(max(want/weight[i], 0), 1)
			}
			x = gridAt(i) + (part-0.5-shift)*gridStep
			break
		}
		want -= weight[i]
	}
	return x, math.Log(total)
}
