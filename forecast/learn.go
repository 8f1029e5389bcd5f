package forecast

import (
	"context"
	"math"

	"hodaba/forecast/colonise"
)

// learn draws what each pile needs, given what was seen on all of them, and
// weighs the draws of past weather by how well they fit it.
func (r *run) learn(ctx context.Context) error {
	var piles []*task
	var beliefs []*colonise.Belief
	for _, t := range r.tasks {
		if !t.through() {
			piles, beliefs = append(piles, t), append(beliefs, t.belief)
		}
		t.half = make([]float64, r.draws)
	}
	tree := colonise.NewYard(beliefs)
	for _, t := range r.tasks {
		t.nuisances = nuisancesOf(r.takeFailOf(t.pile), r.data.Practice.FalseSign)
	}
	for _, t := range piles {
		if t.testimony = r.testimonyOf(t); t.testimony != nil {
			r.soften(t)
		}
	}
	logs := make([]float64, r.draws)
	err := r.parallel(ctx, r.draws, func() func(int) {
		seen, half := make([]colonise.Seen, len(piles)), make([]float64, len(piles))
		return func(n int) {
			for i, t := range piles {
				seen[i] = r.hear(t, n).seen()
			}
			logs[n] = tree.Draw(half, seen, n)
			for i, t := range piles {
				t.half[n] = half[i]
			}
		}
	})
	r.weigh(logs)
	return err
}

// weigh turns log likelihoods into weights whose sum is the number of draws.
func (r *run) weigh(logs []float64) {
	r.weight = make([]float64, r.draws)
	most := math.Inf(-1)
	for _, l := range logs {
		most = math.Max(most, l)
	}
	sum, square := 0.0, 0.0
	for n, l := range logs {
		r.weight[n] = math.Exp(l - most)
		sum += r.weight[n]
	}
	for n := range r.weight {
		r.weight[n] *= float64(r.draws) / sum
		square += r.weight[n] * r.weight[n]
	}
	r.effective = float64(r.draws) * float64(r.draws) / square
}

// stockDraws are the draws of the stock to which each draw's drying goes, as many
// as its weight says: systematic resampling (Kitagawa 1996, Journal of
// Computational and Graphical Statistics 5:1–25), which gives every draw its
// own where all weigh the same.
func (r *run) stockDraws() [][]int32 {
	out := make([][]int32, r.draws)
	sum, next := 0.0, 0
	for n, w := range r.weight {
		sum += w
		for next < r.draws && float64(next)+0.5 < sum {
			out[n] = append(out[n], int32(next))
			next++
		}
	}
	for ; next < r.draws; next++ { // what rounding left over
		out[r.draws-1] = append(out[r.draws-1], int32(next))
	}
	return out
}
