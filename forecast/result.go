package forecast

import (
	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/climate"
	"hodaba/forecast/harvest"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// Input is everything a forecast is made from. The same Input gives the same
// Result for any number of workers.
type Input struct {
	State    *yard.State
	Data     *data.Set
	Draws    int    // 0: DefaultDraws
	Seed     uint64 // 0: DefaultSeed
	Years    int    // horizon in years; 0: DefaultYears
	Workers  int    // 0: one per processor
	Decision Decision
	Asked    []Ask // answered in Result.Answers
	Order    Order // bottles wanted by a day, answered in Plan.Back; the zero Order asks nothing
	// Planned are piles that do not stand yet. Crops alone looks at them: their
	// weather, growth and yields are those of the yard, and they change nothing of
	// the piles that stand.
	Planned []*yard.Pile
	// NormalsOnly forecasts by thermal time and monthly normals alone: mean
	// years, nothing measured, nothing seen. It is there to be scored against.
	NormalsOnly bool

	lean bool // without what the site's page says
}

// The defaults of Input.
const (
	DefaultDraws = 2000
	DefaultSeed  = 1
	DefaultYears = 6
)

// Order asks for bottles of a recipe by a day.
type Order struct {
	Recipe  string // its name in recipes.toml
	By      yard.Date
	Bottles int // 0: how many can be promised
}

// Decision is what the grower could do otherwise; the zero Decision is the
// yard as it stands. A what-if is another value on the same draws.
type Decision struct {
	// Soaks are planned soaks by pile. Nil are those of the tank book, which is
	// drawn up where the grower said what the tank holds; an empty map is none.
	Soaks map[string][]Soak
	// Dry is a drought to come; nil none beyond what the weather brings.
	Dry *Drought
	// Skip are weeks, by their Mondays, in which the tank book leaves the tank
	// empty.
	Skip []yard.Date
}

// Drought is some days ahead in which less rain falls than the weather would
// bring.
type Drought struct {
	From, To yard.Date // both included
	Rain     float64   // share of the rain that falls
}

// Result is the forecast of a yard.
type Result struct {
	AsOf    yard.Date
	Seed    uint64
	Draws   int
	Years   int
	Horizon yard.Date // last day forecast
	Site    Site
	Piles   []*Pile // in the order of the yard
	Species []Species
	Stock   *harvest.Stock
	Plan    *tincture.Plan
	LeftOut []LeftOut
	Loads   []Load      // the tank book, week by week; nil without a tank
	Tank    *Tank       // what it rests on; nil without soaks
	Answers [][]float64 // to Input.Asked, see Ask
	Supply  *Supply     // what comes fresh against promises, cold room and drier; nil by normals only
}

// Site says on what weather the forecast rests.
type Site struct {
	Name       string  // "Oxford", or "own normals"
	Key        string  // station key, "" for own normals
	DistanceKM float64 // of the station from the yard; 0 unknown
	HeightM    float64 // yard above station; 0 unknown
	Period     string  // "1991-2020"
	Source     string
	Licence    string
	Borrowed   []string // what came from a regional set, in words
	Warming    float64  // °C per decade
	WarmerNow  float64  // °C by which the present is taken to be warmer than the normals
	Quality    data.Quality
	Record     climate.Record // what the grower's own weather says
	Resampled  bool           // futures are put together from seasons of that record
	Normals    [12]SiteNormal // as forecast with, January first
	Ahead      SiteAhead
	Notes      []string // what else must be said of the site
}

// SiteNormal is one month of a mean year: °C and mm.
type SiteNormal struct{ TMin, TMax, Rain, WetDays float64 }

// SiteAhead is what the weather ahead is like at the yard, for a reference
// log in the yard's shade and a bed at the usual depth.
type SiteAhead struct {
	HardFrost FirstHarvest // next night of hard frost, within the year ahead
	LastFrost FirstHarvest // last frost before the coming summer, the dates where there is one
	HotDays   Amount       // days over HotDay in the year ahead
	Months    []SiteMonth  // twelve, that of AsOf first
	Weeks     []SiteWeek   // moisture of the reference log, week by week
	Strain    string       // whose growing days are counted: the yard's commonest
	Species   string
	SoFar     Amount      // growing days of this calendar year up to AsOf
	Usual     Amount      // of a year to come up to the same day
	Past      []YearSoFar // of measured years up to the same day
}

// SiteMonth is one month ahead: °C.
type SiteMonth struct {
	Month          yard.Date
	Air, Log, Soil Amount // daily means
	Rain           Amount // mm
}

// SiteWeek is the moisture of the reference log at the end of a week ahead.
type SiteWeek struct {
	Day       yard.Date
	Moisture  Amount  // wet-basis fraction
	DryChance float64 // that it is under the mark at which watering is due
}

// YearSoFar is the growing days of one measured year.
type YearSoFar struct {
	Year int
	Days float64
}

// Moisture is that of a pile's logs; coarse.
type Moisture struct {
	Now       Amount  // wet-basis fraction
	DryChance float64 // that within two weeks it is under the mark at which watering is due
	Lost      float64 // chance that the spawn has been lost to drought
}

// LeftOut is a pile that could not be forecast.
type LeftOut struct{ Pile, Why string }

// Dates are an early, likely and late day: the tenth, half and nine tenths of
// draws. A zero Date is not reached before the horizon.
type Dates struct{ P10, P50, P90 yard.Date }

// Amount is a low, likely, high and mean value, in the unit of its field.
type Amount struct{ P10, P50, P90, Mean float64 }

// Pile is the forecast of one pile or bed.
type Pile struct {
	Name, Code   string
	Kind         string // "pile" or "bed"
	Species      string
	Strain       string
	Since        yard.When
	Logs         int
	LogsKnown    bool
	Colonised    *Colonised // nil for a bed of ready-colonised logs
	First        FirstHarvest
	Picked       bool      // it has fruited already, so First is the next harvest
	Months       []Month   // from the month of AsOf to the horizon
	Past         []Through // share through by month's end, from Since to AsOf
	YearsAhead   []Year    // the rest of the year of AsOf, then whole years
	GrowingDays  Amount    // growing days so far
	NeedDays     Amount    // growing days that half of the logs need
	GrowthNeeded bool      // false for logs that were through when they came
	Moisture     *Moisture // nil in a bed
	Notes        []Note
	Yield        YieldBasis
	Retire       *Retirement
	Why          *Why // nil for logs that were through when they came
	// Whole distributions, days being numbers of a yard.Date: the day on which
	// half of the logs are through (nil for logs that were through when they
	// came), and that of the next first picking; kg of each of YearsAhead.
	HalfDays, FirstDays *chance.Tally
	YearKG              []*chance.Tally
}

// Note is something that must be said beside a forecast.
type Note struct {
	Kind string // "extrapolation", "no season", "unpublished yield", "conflict", "wood", "guess", "odd", "retire"
	Text string
}

// YieldBasis is what the kilograms rest on.
type YieldBasis struct {
	DryWoodKG   Amount     // dry wood of one log
	Efficiency  data.Range // as published: fresh kg over a log's life per kg of wood
	Per, Over   string     // the logs that it counts and the wood that it is over, as in data.Yield
	Wood        string     // on which it was measured, where the pile's own; "" any
	PerLog      data.Range // the same over dry wood, per log inoculated
	Unpublished bool
	Wide        string     // what must stand beside the kilograms where it is: a clause
	Conflict    string     // what sources say that do not agree; sentences, "" where they do
	Recorded    []Recorded // crops on record, oldest first
	Stopped     float64    // chance that the pile has stopped bearing, after years of nothing
	// Level is the life crop by weight of wood, given what is on record here
	// and on other piles, over the middle of what was thought before; zero
	// where nothing is learned.
	Level Amount
}

// Recorded is one time in which the crop of a pile is on record.
type Recorded struct {
	From, To yard.Date
	Picked   float64 // kg, from the logs that still stand
	Expected Amount  // kg, as thought before any crop was on record
	Zero     bool    // nothing was picked, although somebody went round
}

// Colonised is how far the mycelium is.
type Colonised struct {
	ShareNow           float64 // expected share of living logs through
	ChanceNow          float64 // chance that at least half of the logs that took are through
	Dates                      // of that half
	ShareP10, ShareP90 float64 // range of the share now
}

// FirstHarvest is the next first picking; for a pile that has not fruited,
// the first of its life.
type FirstHarvest struct {
	Chance float64 // before the horizon
	Dates
}

// Month is one month ahead.
type Month struct {
	Month               yard.Date // its first day
	ColonisedChance     float64   // at its end, cumulative
	ShareThrough        float64   // at its end, cumulative
	ShareLow, ShareHigh float64   // tenth and nine tenths of draws
	HarvestChance       float64   // that something is picked in it
	Fresh               Amount    // kg
	Winter              bool      // mean air temperature below the growth minimum: hatched
}

// Through is the share of living logs through at a month's end.
type Through struct {
	Month     yard.Date
	Share     float64
	Low, High float64 // tenth and nine tenths of draws
}

// Year is one calendar year ahead.
type Year struct {
	Year  int
	Fresh Amount // kg
}

// Species is the expected crop of one species over the yard.
type Species struct {
	Species     string
	Months      []SpeciesMonth
	Years       []SpeciesYear
	Weeks       []SpeciesWeek // the year ahead, from the Monday of today's week
	DryRatio    Amount        // kg fresh per kg dry
	DryingsSeen int           // loads weighed before and after, from which it was learned
	Unpublished bool
	Wide        string // as that of a pile
}

// SpeciesMonth is one month of one species.
type SpeciesMonth struct {
	Month         yard.Date
	HarvestChance float64
	Fresh         Amount // kg
	Dry           Amount // kg, were all of it dried
}

// SpeciesWeek is one week of one species.
type SpeciesWeek struct {
	Week          yard.Date // its Monday
	HarvestChance float64
	Fresh         Amount // kg
}

// SpeciesYear is one calendar year of one species.
type SpeciesYear struct {
	Year  int
	Fresh Amount // kg
	Dry   Amount // kg
	// Since AsOf, at this year's end.
	Sum, DrySum Amount // kg
}
