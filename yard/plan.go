package yard

// Plan is what the grower wants of coming years and what there is to reach it
// with: the tables [plan] of yard.toml.
type Plan struct {
	Wants    []Want
	Logs     []LogsToHave
	Species  []string // to be planned with; empty: what the wants need
	Spawn    []string // forms of spawn to be had; empty: all
	Months   []int    // of inoculation, 1 to 12; empty: the site's window
	Hours    []MonthHours
	Room     []PlaceRoom
	Budget   float64 // in Currency; 0: not said
	Currency string
	Costs    Costs
	Prices   []Price
	Buys     []MayBuy
	Holes    HolePattern
}

// Want is one thing wanted of each of the years From to To. Exactly one of
// Recipe, Species with FreshKG, Species with HoldG, and CropKG is given, and
// above zero: a want of nothing is none.
type Want struct {
	From, To   int // calendar years
	Recipe     string
	Bottles    int
	Species    string
	FreshKG    float64 // a week, in the months of Season
	FirstMonth int     // of the season, 1 to 12; 0 the whole year
	LastMonth  int
	HoldG      float64 // dried, over at the end of each year
	CropKG     float64 // fresh in the year, of Species or, where that is "", of all
	Confidence float64 // fraction; 0: that of the plan
	line       int
}

// LogsToHave are logs that can be had.
type LogsToHave struct {
	Wood     string
	Diameter Span // cm
	Length   Span // cm
	Most     int  // 0: as many as are wanted
	Price    float64
	PriceSet bool
	// Logs that are sold ready-colonised, to be buried: with which species.
	Colonised bool
	Species   string

	line int
}

// MonthHours is how many hours of work a month of the year has room for.
type MonthHours struct {
	Month int // 1 to 12
	Hours float64
}

// PlaceRoom is how many more logs a place has room for.
type PlaceRoom struct {
	Place string // "" anywhere
	Logs  int
	line  int
}

// Costs are the grower's own, in Plan.Currency; NaN where not said.
type Costs struct {
	Log, SpawnKG, Plug, WaxKG, Hour float64
}

// Price is what something sells for, in Plan.Currency.
type Price struct {
	Species string  // with Fresh or Dry
	Recipe  string  // a bottle of it
	Fresh   float64 // per kg; 0: not said
	Dry     float64 // per kg; 0: not said
	Bottle  float64
	line    int
}

// MayBuy is a dried species that may be bought in rather than grown.
type MayBuy struct {
	Species string
	MostG   float64 // dry a year; 0: any amount
	PriceKG float64 // 0: not said
	line    int
}

// HolePattern is how logs are drilled. Zero values: as data.Practice has it.
type HolePattern struct {
	AlongCM float64 // between holes of a row
	RowsCM  float64 // between rows
	PerKG   float64 // holes by kg of log instead
	ByInch  bool    // as many rows as the log has inches across
}
