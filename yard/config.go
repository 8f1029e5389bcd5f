package yard

import "time"

// Config is yard.toml.
type Config struct {
	Format   int
	Name     string
	US       bool // units = "us"
	Farm     Farm
	Site     Site
	Places   []Place
	Own      []OwnSpecies
	Measures map[string]Quantity
	Drier    Drier
	Cold     Cold
	Soak     Soak
	Kitchen  Kitchen
	Working  Working
	Expected []Inflow
	Promised []Promise
	People   []string
	// Confidence is the chance at which dates are printed, a fraction; 0.8
	// where the grower says nothing.
	Confidence float64
	Targets    []Target // what a year shall bring
	Plan       Plan
}

// Farm is what is printed on records.
type Farm struct{ Name, Address, Area, OrganicRef string }

// Cold is the cold store. Zero values: not said.
type Cold struct {
	HoldsKG float64 // fresh
	Days    float64 // that a picked mushroom is kept there
}

// Soak is how logs are soaked. Zero values: not said.
type Soak struct {
	TankLogs   int
	CycleWeeks float64
	Hours      float64
	First      string // "after a year" or "after the first flush"
}

// Target is what a year shall bring: of one species, or of all where Species
// is "".
type Target struct {
	Year    int
	Species string
	Amount  Quantity
}

// Site is where the yard lies.
type Site struct {
	Station    string  // key of an embedded station; "" where Normals are given
	Latitude   float64 // degrees north; that of the station where not given, else NaN
	Longitude  float64 // degrees east; that of the station where not given, else NaN
	Elevation  float64 // m; NaN where not given
	Shade      float64 // percent; 80 where not given
	Exposure   string
	Warming    float64 // °C per decade since the middle of the normals' period
	WarmingSet bool
	Resample   bool     // put futures together from seasons of the own record, from twenty years on
	Normals    *Normals // own normals, else nil
}

// Normals are monthly means, January first.
type Normals struct {
	TMin, TMax [12]float64 // °C
	Rain       [12]float64 // mm
	RainDays   [12]float64 // zero: unknown
	RainDayMM  float64
}

// Place is a part of the yard with a shade of its own.
type Place struct {
	Name  string
	Shade float64 // percent; that of the site where not given
	Cover string  // "", "open", "fleece", "shelter", …
	Water string

	asSite bool // no shade of its own was written
}

// OwnSpecies is one that is not built in.
type OwnSpecies struct{ Name, Like string }

// Drier is what can be dried. Zero values: not said.
type Drier struct {
	LoadKG       float64 // fresh
	HoursPerLoad float64
	Share        float64 // of what is picked that goes to the drier, fraction; 1 where not said
}

// LoadsADay is how many loads go through in a day, one after the other; 1 where
// a load takes longer, and 0 where nobody said how long.
func (d Drier) LoadsADay() int {
	if d.HoursPerLoad <= 0 {
		return 0
	}
	return max(1, int(hoursOfDay/d.HoursPerLoad))
}

// Kitchen is what a batch needs. Zero values: not said.
type Kitchen struct {
	Jars    int
	JarML   float64
	PotML   float64
	BoilMLH float64 // ml boiled away per hour
	Press   string  // "hand" or "press"
	Batches int     // batches planned ahead per recipe; 0: as the stock allows
}

// Working says on which days work is done.
type Working struct {
	Country  string         // "gb", "us", … as in the calendar library; "" no holidays
	Weekdays []time.Weekday // empty: Monday to Friday
	Closed   []Date
	Open     []Date
	Away     []Absence
}

// Absence is a time in which nobody works, both days included.
type Absence struct{ From, To Date }

// Inflow is a steady or single delivery, e.g. from indoors.
type Inflow struct {
	Species string
	Grams   float64 // dry
	Every   int     // days; 0: once
	By      Date    // first or only day
	Chance  float64 // fraction; 1 where not said
}

// Promise is something that was promised.
type Promise struct {
	To, What string
	Amount   Quantity
	By       Date
	Every    int // days
}

// Recipe is a tincture recipe of recipes.toml.
type Recipe struct {
	Name        string
	Jars        int
	SpiritMLJar float64
	SpiritABV   float64 // % by volume
	MacerateMin int     // days
	MacerateMax int
	ShakeDays   int
	Method      string // "marc decocted", "split", "decoction only", "maceration only"
	WaterML     float64
	DecoctToML  float64
	SimmerHours float64
	SpiritPart  float64 // blend 1:1 is 1 and 1
	WaterPart   float64
	ToABV       float64       // 0: by ratio
	BottleML    float64       // of several sizes, the one that most goes into
	Bottles     []BottleShare // of several sizes; empty for one. See BottleSizes
	Ingredients []Ingredient
}

// Ingredient is one line of a recipe.
type Ingredient struct {
	Species  string
	Form     string // "pieces", "powder", "fresh"
	GramsJar float64
	Or       []string
	Optional bool
}
