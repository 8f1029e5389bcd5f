package forecast

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// Run forecasts a yard. Each finished pile is handed to each, in the order of
// the yard, where each is not nil; an error of it ends the run. What cannot
// be forecast is listed in Result.LeftOut, not an error. The error says what
// is wrong with the site or the input, or is the context's.
func Run(ctx context.Context, in Input, each func(*Pile) error) (*Result, error) {
	r, err := learned(ctx, in)
	if err != nil {
		return nil, err
	}
	res := r.result()
	if err := r.walkPiles(ctx, res, each); err != nil {
		return nil, err
	}
	res.Answers = r.answers(in.Asked)
	res.Loads, res.Tank = r.closeLoads(), r.tank
	res.Species = r.species()
	if res.Supply, err = r.supply(ctx, res.Species, res.Loads); err != nil {
		return nil, err
	}
	res.Stock = r.stock()
	if res.Plan, err = r.calendar(res.Stock, in.Order); err != nil {
		return nil, err
	}
	if len(res.Plan.Batches) > 0 {
		res.Plan.Notes = append(res.Plan.Notes, r.drierWords(res.Supply)...)
	}
	return res, nil
}

// learned is a forecast as far as its weathers are drawn and what was seen and
// picked is learned from.
func learned(ctx context.Context, in Input) (*run, error) {
	r, err := prepare(in)
	if err != nil {
		return nil, err
	}
	for _, step := range []func(context.Context) error{r.weather, r.learn, r.learnYields} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// walkPiles forecasts the piles on all workers and keeps their order.
func (r *run) walkPiles(ctx context.Context, res *Result, each func(*Pile) error) error {
	done := make([]*Pile, len(r.tasks))
	err := r.parallel(ctx, len(r.tasks), func() func(int) {
		w := newWalker(r)
		return func(i int) { done[i] = w.pile(r.tasks[i]) }
	})
	if err != nil {
		return err
	}
	for _, p := range done {
		res.Piles = append(res.Piles, p)
		if each != nil {
			if err := each(p); err != nil {
				return fmt.Errorf("forecast of %s: %w", p.Name, err)
			}
		}
	}
	return nil
}

// parallel calls a worker's function for 0 … n−1, each once. What a call
// writes must depend on its number alone.
func (r *run) parallel(ctx context.Context, n int, worker func() func(int)) error {
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(r.workers, max(n, 1)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			work := worker()
			for i := range next {
				work(i)
			}
		}()
	}
	var err error
	for i := 0; i < n && err == nil; i++ {
		select {
		case next <- i:
		case <-ctx.Done():
			err = ctx.Err()
		}
	}
	close(next)
	wg.Wait()
	return err
}

// result is the frame of the Result that all piles share.
func (r *run) result() *Result {
	s := r.site
	res := &Result{
		AsOf: r.asOf, Seed: r.seed, Draws: r.draws, Years: r.years, Horizon: r.horizon,
		LeftOut: r.leftOut,
		Site: Site{
			Name: "own normals", DistanceKM: s.Distance, HeightM: s.Height, Borrowed: s.Borrowed,
			Warming: s.Warming, WarmerNow: s.Warmer(r.asOf), Source: "yard.toml",
		},
	}
	res.Site.Record, res.Site.Resampled = r.record, r.resampled
	res.Site.Normals, res.Site.Ahead = r.normals(), r.ahead()
	res.Site.Notes = r.unknownWords()
	if r.record.Strange != "" {
		res.Site.Notes = append(res.Site.Notes, r.record.Strange)
	}
	if st := s.Station; st != nil {
		res.Site.Name, res.Site.Key = st.Name, st.Key
		res.Site.Period = fmt.Sprintf("%d-%d", st.From, st.To)
		res.Site.Source, res.Site.Licence, res.Site.Quality = st.Source, st.Licence, st.Quality
	}
	return res
}

// expected adds a steady or single inflow from elsewhere.
func (r *run) expected(s *harvest.Stock, i int, e yard.Inflow) {
	name := r.like(e.Species)
	r.comes(i, e, func(draw int, day yard.Date) { s.Add(name, draw, day, e.Grams) })
}

// comes tells of each delivery of an inflow after today, draw by draw.
func (r *run) comes(i int, e yard.Inflow, each func(draw int, day yard.Date)) {
	streams := r.streams("expected from elsewhere", fmt.Sprint(i, " ", e.Species))
	for d := range r.draws {
		rnd := streams.Draw(d)
		for day := e.By; day <= r.horizon; day += yard.Date(e.Every) {
			if comes := rnd.Float64() < e.Chance; comes && day > r.asOf {
				each(d, day)
			}
			if e.Every <= 0 {
				break
			}
		}
	}
}

// like is the name under which stock of a species is kept: that of the data
// set where it is known there, else the grower's own.
func (r *run) like(species string) string {
	if sp, ok := r.data.FindSpecies(species); ok {
		return sp.Name
	}
	return species
}

func workersOr(n int) int {
	if n > 0 {
		return n
	}
	return runtime.GOMAXPROCS(0)
}
