package forecast

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"hodaba/forecast/chance"
	"hodaba/forecast/harvest"
)

// noise is by how much the crops of one pile differ beside the factors, in
// the periods in which something was picked: as the draws of the forecast do,
// and as records miss. Periods of one pile go together.
type noise struct {
	amounts []*period
	spread  []float64  // of ln kg between draws
	extra   []float64  // standard deviation beside them
	lower   *mat.Dense // inverse of the Cholesky factor of the covariance
	streams chance.Streams
}

// noiseOf is a pile's. What the forecast hardly thought possible tells of
// timing more than of crops: its variance is taken over the chance that
// something comes at all, as if the likelihood were raised to that power.
func (r *run) noiseOf(t *task) *noise {
	z := &noise{streams: r.streams("record of the pile", t.pile.Name)}
	for _, p := range r.yields.ledgers[t].periods {
		if !p.zero && p.expect.tells() {
			z.amounts = append(z.amounts, p)
		}
	}
	n := len(z.amounts)
	if n == 0 {
		return z
	}
	record := r.data.Practice.RecordSpread.Value
	cov := mat.NewSymDense(n, nil)
	for i, p := range z.amounts {
		_, v := p.expect.moments()
		whole := (v + record*record) / (1 - p.expect.nothingAtAll())
		z.spread, z.extra = append(z.spread, math.Sqrt(v)), append(z.extra, math.Sqrt(whole-v))
		cov.SetSym(i, i, whole)
		for j, q := range z.amounts[:i] {
			cov.SetSym(j, i, p.expect.covariance(&q.expect, r.weight))
		}
	}
	z.lower = inverseLower(cov)
	return z
}

// inverseLower is the inverse of the lower Cholesky factor; where the pairs of
// periods do not make a covariance together, that of each by itself.
func inverseLower(cov *mat.SymDense) *mat.Dense {
	n := cov.SymmetricDim()
	inv := mat.NewDense(n, n, nil)
	var c mat.Cholesky
	if c.Factorize(cov) {
		var l, li mat.TriDense
		c.LTo(&l)
		if li.InverseTri(&l) == nil {
			inv.Copy(&li)
			return inv
		}
	}
	for i := range n {
		inv.Set(i, i, 1/math.Sqrt(cov.At(i, i)))
	}
	return inv
}

// apart mixes cells so that their noise is independent, of a deviation of one.
func (z *noise) apart(cells []harvest.Cell) []harvest.Cell {
	out := make([]harvest.Cell, len(cells))
	for i := range cells {
		out[i].Noise = 1
		for j := range i + 1 {
			by := z.lower.At(i, j)
			out[i].Above += by * cells[j].Above
			for _, l := range cells[j].Loads {
				out[i].Loads = append(out[i].Loads, harvest.Load{Factor: l.Factor, By: by * l.By})
			}
		}
	}
	return out
}

// draw is the noise of the cells of apart in one draw of the forecast. Where
// that had no crop it is drawn.
func (z *noise) draw(n int) []float64 {
	rnd := z.streams.Draw(n)
	plain, out := make([]float64, len(z.amounts)), make([]float64, len(z.amounts))
	for i, p := range z.amounts {
		mean, _ := p.expect.moments()
		blank, extra := rnd.NormFloat64(), rnd.NormFloat64()
		plain[i] = p.expect.lns[n] - mean
		if math.IsNaN(plain[i]) {
			plain[i] = z.spread[i] * blank
		}
		plain[i] += z.extra[i] * extra
	}
	for i := range out {
		for j := range i + 1 {
			out[i] += z.lower.At(i, j) * plain[j]
		}
	}
	return out
}
