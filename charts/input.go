package charts

import (
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/score"
	"hodaba/forecast/season"
	"hodaba/yard"
)

// Input is what every form of output is made from: the yard, its forecast,
// and the reference values behind it. A nil State, Result or Data counts as
// an empty one, so that a new folder has pages too.
type Input struct {
	State    *yard.State
	Result   *forecast.Result
	Data     *data.Set
	Written  []*yard.Entry  // all that was written down, also what no longer counts; nil: the entries of State
	Problems []yard.Problem // of reading the folder; said on the page of today
	Score    *score.Report  // how right past forecasts were; nil: not looked into
	Missed   []score.Miss   // where the forecast of half a year ago was wrong
	Backup   Backup         // when the folder was last put into one archive
	Library  []byte         // the charting library, from script.Library; nil: pages do without
	Season   *season.Result // plan of a season, where one was worked out
	PlanPage bool           // a page of such a plan stands beside the others
}

// book is an Input with the look-ups that pages need, nothing of it nil.
type book struct {
	Input
	units   units
	ahead   map[string]*forecast.Pile // forecast by pile name
	left    map[string]string         // why a pile has no forecast
	slugs   map[string]string         // page file by pile name
	batches map[string]string         // page file by lot of a batch
	written written                   // where each entry stands
	tasks   []Task                    // of Work, for the pages
}

func newBook(in Input) *book {
	if in.State == nil {
		in.State = &yard.State{}
	}
	if in.Result == nil {
		in.Result = &forecast.Result{AsOf: in.State.AsOf}
	}
	if in.Data == nil {
		in.Data = &data.Set{}
	}
	b := &book{Input: in, units: units{us: in.State.Config.US}}
	b.ahead = map[string]*forecast.Pile{}
	for _, p := range in.Result.Piles {
		b.ahead[p.Name] = p
	}
	b.left = map[string]string{}
	for _, l := range in.Result.LeftOut {
		b.left[l.Pile] = l.Why
	}
	b.slugs = slugs(in.State.Piles)
	b.batches = batchSlugs(in.State.Batches)
	b.written = b.writtenDown()
	return b
}

// today is the day as of which everything is said.
func (b *book) today() yard.Date {
	if b.State.AsOf != 0 {
		return b.State.AsOf
	}
	return b.Result.AsOf
}
