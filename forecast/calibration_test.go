//go:build slow

package forecast

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"hodaba/data"
	"hodaba/forecast/colonise"
	"hodaba/yard"
)

// Simulation-based calibration (Talts et al. 2018, arXiv:1804.06788): where
// yards are drawn from what is believed beforehand, and looks from the yards,
// the truth is as likely to have any rank among draws from what is believed
// afterwards. Ranks of the effects of the yard, of a species and of a pile, and
// of the day on which half of its logs are through, for three seeds; the same
// with afterwards narrowed by a tenth must be caught.
func TestCalibration(t *testing.T) {
	set := mustLoad(t)
	c := newCalibration(t, set)
	for _, seed := range []uint64{1, 2, 3} {
		ranks, narrow := c.ranks(*calibrationYards, seed)
		for k, name := range calibrated {
			p := uniform(ranks[k])
			t.Logf("seed %d, %-8s p %.4f", seed, name, p)
			if p < 0.001 {
				t.Errorf("seed %d: ranks of the %s are not uniform, p %.6f: %v", seed, name, p, ranks[k])
			}
			if p := uniform(narrow[k]); p > 0.001 {
				t.Errorf("seed %d: what is believed of the %s, narrowed by a tenth, goes unnoticed: p %.4f", seed, name, p)
			}
		}
	}
}

var calibrated = [4]string{"yard", "species", "pile", "day"}

const (
	futures   = 18 * colonise.Kinds // draws of weather with the past measured
	drawnEach = 99                  // from afterwards, for a rank of 0 to 99
	rankBins  = 10
)

type calibration struct {
	r     *run
	tasks int
}

func newCalibration(t *testing.T, set *data.Set) *calibration {
	t.Helper()
	on := bruteOn
	piles := []*yard.Pile{
		referencePile("a", on, "shiitake", "wide-range"), referencePile("b", on, "shiitake", "wide-range"), referencePile("c", on, "lion's mane", ""),
	}
	in := Input{State: yardOf(set, "oxford", on.AddMonths(17), piles...), Data: set, Draws: futures, Seed: 5, Years: 6}
	blind, err := prepare(in)
	if err != nil {
		t.Fatal(err)
	}
	in.State.Weather = measuredPast(blind, 7)
	r, err := prepare(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.weather(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := r.learn(context.Background()); err != nil { // for what nobody knows
		t.Fatal(err)
	}
	return &calibration{r: r, tasks: len(piles)}
}

// ranks counts the ranks of the truth in bins, as drawn and narrowed.
func (c *calibration) ranks(yards int, seed uint64) (ranks, narrow [4][rankBins]int) {
	var mu sync.Mutex
	var wg sync.WaitGroup
	next := make(chan int)
	for range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			own := *c.r
			own.pairs = map[pairKey]*pair{}
			for y := range next {
				as, slim := c.one(&own, seed*1_000_000+uint64(y))
				mu.Lock()
				for k := range as {
					ranks[k][as[k]]++
					narrow[k][slim[k]]++
				}
				mu.Unlock()
			}
		}()
	}
	for y := range yards {
		next <- y
	}
	close(next)
	wg.Wait()
	return ranks, narrow
}

// one makes a yard, looks at it and learns from the looks.
func (c *calibration) one(r *run, seed uint64) (rank, narrow [4]int) {
	rnd := rand.New(rand.NewPCG(seed, 3))
	var tasks []*task
	var beliefs []*colonise.Belief
	for i, known := range r.tasks {
		task := *known
		p := task.pile
		task.belief = colonise.Prior(task.strain.Need, &r.data.Practice,
			colonise.Logs{Diameter: p.Diameter, Spawn: p.Spawn, WoodKnown: true},
			colonise.Names{Species: task.species.Name, Pile: fmt.Sprint(i)}, seed)
		tasks, beliefs = append(tasks, &task), append(beliefs, task.belief)
	}
	tree := colonise.NewYard(beliefs)
	half := make([]float64, len(tasks))
	var e colonise.Effects
	truth := rnd.IntN(futures)
	tree.DrawEffects(half, &e, make([]colonise.Seen, len(tasks)), truth)
	is := c.told(r, tasks, &e, half, truth)
	for i, task := range tasks {
		task.evidence = c.look(r, task, half[i], truth, rnd)
		task.testimony = r.testimonyOf(task) // never softened: nothing here contradicts what is believed
	}
	// By split and curve, how likely all that was seen is; the past is the same
	// in every draw.
	const kinds = colonise.Kinds
	seen := make([][]colonise.Seen, kinds)
	logs, sum := make([]float64, kinds), 0.0
	for k := range kinds {
		for _, task := range tasks {
			seen[k] = append(seen[k], r.hear(task, k).seen())
		}
		logs[k] = math.Exp(tree.Draw(half, seen[k], k))
		sum += logs[k]
	}
	var after [4][]float64
	for n := range drawnEach {
		u := rnd.Float64() * sum
		k := 0
		for k < kinds-1 && u > logs[k] {
			u -= logs[k]
			k++
		}
		future := k + kinds*rnd.IntN(futures/kinds)
		tree.DrawEffects(half, &e, seen[k], k+kinds*(1000+n))
		for j, v := range c.told(r, tasks, &e, half, future) {
			after[j] = append(after[j], v)
		}
	}
	for j, draws := range after {
		mean := 0.0
		for _, v := range draws {
			mean += v / drawnEach
		}
		below, slim := 0, 0
		for _, v := range draws {
			if v < is[j] {
				below++
			}
			if mean+0.9*(v-mean) < is[j] {
				slim++
			}
		}
		rank[j], narrow[j] = below*rankBins/(drawnEach+1), slim*rankBins/(drawnEach+1)
	}
	return rank, narrow
}

// told is what is ranked: effects, and the day of the first pile, with a
// fraction of a day so that no two are equal.
func (c *calibration) told(r *run, tasks []*task, e *colonise.Effects, half []float64, draw int) [4]float64 {
	since := int32(bruteOn - r.start)
	s := tasks[0].setting
	sum := s.at(draw, since) + math.Exp(half[0])
	day := float64(r.reach(s, draw, since, sum))
	return [4]float64{e.Yard, e.Species[0] - e.Yard, e.Pile[0] - e.Species[0], day - math.Exp(-half[0])}
}

// look draws three looks at ten ends of a pile as the forecast believes them
// to come about.
func (c *calibration) look(r *run, t *task, half float64, draw int, rnd *rand.Rand) *evidence {
	e := &evidence{logs: 40}
	q := t.nuisances[weighted(rnd, t.nuisances)]
	pr := &r.data.Practice
	same := rnd.Float64() < pr.SameLogs.Value
	sd := t.belief.LogSD(draw)
	before := 0.0
	for i, m := range []int{10, 13, 16} {
		l := look{day: int32(bruteOn.AddMonths(m) - r.start), looked: 10, spots: -1, springy: -1, dull: -1}
		through := q.through((r.grown(t, draw, l.day) - half) / sd)
		n, from, p := l.looked, 0, q.ring(through)
		if same && i > 0 {
			from = e.looks[i-1].rings
			n, p = n-from, q.ringAfterNone(before, through)
		}
		switch {
		case rnd.Float64() < pr.SlipRate.Value:
			l.rings = from + rnd.IntN(n+1)
		default:
			l.rings = from
			for range n {
				if rnd.Float64() < p {
					l.rings++
				}
			}
		}
		before = through
		e.looks = append(e.looks, l)
	}
	return e
}

func weighted(rnd *rand.Rand, all []nuisance) int {
	u := rnd.Float64()
	for i, q := range all {
		if u -= q.weight; u < 0 {
			return i
		}
	}
	return len(all) - 1
}

// uniform is the p value of Pearson's test that all bins are alike.
func uniform(bins [rankBins]int) float64 {
	n := 0
	for _, b := range bins {
		n += b
	}
	want, x := float64(n)/rankBins, 0.0
	for _, b := range bins {
		x += (float64(b) - want) * (float64(b) - want) / want
	}
	return distuv.ChiSquared{K: rankBins - 1}.Survival(x)
}
