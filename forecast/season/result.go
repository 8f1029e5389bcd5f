package season

import (
	"hodaba/forecast"
	"hodaba/forecast/season/takes"
	"hodaba/yard"
)

// Result is the plan of a season. Chances are fractions.
type Result struct {
	AsOf       yard.Date
	Horizon    yard.Date
	Year       int // in whose months the logs are inoculated
	Confidence float64
	Windfall   bool
	Margin     bool
	Seed       uint64
	Draws      int // planned on
	Fresh      int // judged on
	Species    []string

	Lines []Line
	Met   bool   // every target is met with its confidence on the draws planned on
	Meets []Meet // by target
	// Joint is the chance that all of them are met together; JointWeaker the
	// same with every crop a fifth smaller, JointAlone with nothing inoculated.
	Joint, JointWeaker, JointAlone float64

	Cost    float64 // of the plan, hours included, in Currency
	Cash    float64 // the part of it that is paid out
	Earns   float64 // by the grower's prices; 0 where there are none
	Bound   float64 // no plan is cheaper; valid where Bounded
	Bounded bool
	// Within is how much dearer than the best a plan of this size is in practice,
	// as a part.
	Within   float64
	Currency string
	Hours    float64

	Takes   takes.Takes              // of all lines that are inoculated
	Windows map[string]takes.Windows // by species: when one fells and inoculates here
	Weeks   []takes.Week             // hours, beside those of the tank
	Limits  []Used
	Lacking []Lack  // where it is not met
	Years   []Year  // by species and year
	Sways   []Sway  // by line
	Ifs     []If    // what if
	Renewal Renewal // for ever
	LeftOut []forecast.LeftOut
	Notes   []string
}

// Line is one pile or bed of the plan, or dried goods to buy.
type Line struct {
	Pile     string // a name for it
	Kind     string // "pile", "bed" or "buy"
	Species  string
	Strain   string
	Wood     string
	Diameter yard.Span // cm
	Length   yard.Span // cm
	Spawn    string
	Method   string
	Place    string
	Month    yard.Date // its first day
	Logs     int       // of goods to buy: 0
	BuyG     float64   // g dried to buy
	Cost     float64
	Hours    float64
	First    forecast.FirstHarvest
	Fresh    []YearKG // by calendar year to the horizon
	Guess    bool     // no log yield of it is published
}

// YearKG is kg fresh in a calendar year.
type YearKG struct {
	Year  int
	Fresh forecast.Amount
}

// Meet is how surely a target is met.
type Meet struct {
	Target
	Text     string
	Chance   float64 // on fresh draws
	Planning float64 // on the draws planned on
	Weaker   float64 // with every crop a fifth smaller
	Alone    float64 // with nothing inoculated
	// Short is by how much it is short where it is not met: the mean of those
	// draws, as a share of what is wanted.
	Short float64
	Worst string // the condition that fails oftenest, in words
}

// Used is how much of a limit a plan takes.
type Used struct {
	Name  string
	Unit  string
	Takes float64
	Room  float64
	// Saves is what one more of it would save, by the linear programme; 0 where
	// there is room to spare.
	Saves float64
}

// Lack is one way in which targets that cannot be met would be.
type Lack struct {
	Kind string // what gives way: "chance", "need" or "limit"
	From float64
	To   float64 // a chance, a share of what is wanted, or how much of the limit
	Text string
	Cost float64 // of the plan then; 0 not known
}

// Year is what comes of one species in one calendar year.
type Year struct {
	Year    int
	Species string
	Alone   forecast.Amount // kg fresh from what stands
	With    forecast.Amount // with the plan
	Wanted  float64         // kg fresh that the targets of the year ask for, at the middle of what dries; 0 nothing
}

// Sway is what a line's logs do: the chance of each target with one log more
// and ten fewer, on the draws planned on.
type Sway struct {
	Pile       string
	More, Less []float64
	MoreCost   float64
	LessCost   float64
}

// If is the plan in another world, on the same draws as Base.
type If struct {
	Name    string
	Chances []float64 // by target
	Joint   float64
}

// Renewal is what keeps the yard as it is wanted for ever, and when the present
// one is used up.
type Renewal struct {
	Lines []RenewalLine
	Cost  float64 // a year
	Met   bool
	// Short is the first wanted year in which what stands does not do; 0 none.
	Short int
	// Spent is the first year in which what stands brings under half of what it
	// brings in its best year to come; 0 none before the horizon.
	Spent int
}

// RenewalLine is logs to inoculate every year.
type RenewalLine struct {
	Species, Strain, Wood, Spawn string
	Logs                         int
}
