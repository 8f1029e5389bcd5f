package tincture

import (
	"hodaba/yard"
)

// Stock is the dried stock that batches draw on; harvest.Stock is one.
type Stock interface {
	Draws() int
	// FirstDay is the first day on which g grams of a species have come in
	// altogether that can be had in a form; the zero Date where they are on hand
	// from the start. What can be had fresh can be had as pieces too, and what
	// as pieces, as powder.
	FirstDay(species, form string, draw int, g float64) (day yard.Date, ok bool)
}

// Workdays says on which days work is done.
type Workdays interface {
	Open(d yard.Date) bool
	// Next is the first open day on or after d.
	Next(d yard.Date) yard.Date
}

// Wish is one batch wanted. The order of wishes is the order of priority.
type Wish struct {
	Recipe yard.Recipe
	Lot    string
	OnHand func(species, form string) float64 // grams on hand today for a form, shown beside what is needed
}

// Terms is what a calendar is bound by.
type Terms struct {
	AsOf       yard.Date
	Until      yard.Date // horizon: what starts later counts as never
	Confidence float64   // fraction at which dates are printed
	Kitchen    yard.Kitchen
	Recipes    []yard.Recipe // all recipes, in which standing batches find theirs; those of the wishes are known anyway
	Standing   []*yard.Batch // batches that are not bottled yet
	Record     []*yard.Batch // all batches that were ever put up, from which the kitchen's figures are learned; may be empty
	Seed       uint64
	Shelf      []yard.BottleStock // bottles on hand
	Promised   []yard.Promise     // what was promised; of it only bottles of recipes count
	Lots       []DryLot           // dried goods on hand, in the order in which they are used
	Order      *Order             // a question to plan back from a day; nil: none
}

// Amount is a low, likely and high value.
type Amount struct{ P10, P50, P90, Mean float64 }

// Plan is the tincture calendar.
type Plan struct {
	Standing []Batch  // put up already: their remaining steps
	Batches  []Batch  // still to start, in order of priority
	Holds    float64  // chance that every batch with a date can start on it, all together; 1 where none has a date
	Marc     Learned  // liquor held by the marc, ml per g of dried goods
	Boil     Learned  // water boiled away, litres per hour
	Made     []Made   // how the batches on record came out
	Worked   []Worked // strength of finished batches of which it was not measured
	Promises []Kept   // bottles promised by a day, in order of day
	Keeps    float64  // chance that all of Promises are kept, all together; 1 where there are none
	Back     *Back    // the answer to Terms.Order; nil without one
	Notes    []string
}

// Batch is one batch of the calendar. Dates are zero where the start is not
// reached with the confidence asked for.
type Batch struct {
	Lot, Recipe string
	Start       yard.Date
	StartChance float64   // that all is there on Start; 1 for a standing batch
	Early, Late yard.Date // P10 and P90 of the earliest feasible start, zero where not reached
	Reached     float64   // chance that it can start at all before the horizon
	StrainedOn  yard.Date // when the last of its jars was strained already, or its pot boiled; zero while one stands
	BlendedOn   yard.Date // when it was blended already: it is only to be bottled
	ShakeUntil  yard.Date
	Strain      yard.Date
	StrainFrom  yard.Date // first working day on which it may be strained
	StrainTo    yard.Date // last one; zero where there is none between
	Decoct      yard.Date
	Blend       yard.Date
	Bottled     yard.Date
	JarCount    int   // jars it stands in
	Jars        []int // their numbers, from 1; none where it has no date
	Bottles     Amount
	BottleML    float64 // of several sizes, the one that most goes into
	Sizes       []Sized // bottles by size, as the recipe has them
	MeasuredML  bool    // Blended was measured, not worked out
	MeasuredABV bool    // ABV was measured
	ABV         Amount  // % by volume at 20 °C of the finished liquid
	Strained    Amount  // ml
	Blended     Amount  // ml
	SpiritML    float64
	Needs       []Need
	SpiritABV   float64 // % by volume of the spirit in the jars
	DriedG      float64 // dried goods that go in, g
	Ratio       Amount  // of drug to finished liquid, as 1 : n; ml per g of dried goods, 0 without any
	Solvent     float64 // of drug to spirit, as 1 : n, ml per g
	Pot         Pot     // at the likely boiling-down rate
	Without     []Gain  // what leaving ingredients out that hold it up would bring
	Cautions    []string
	Why         string   // what holds it up, where something does
	Notes       []string // what else must be known: a pot too small, decoction short of the blend, liquid left over
}

// Need is one ingredient of a batch.
type Need struct {
	Species     string
	Grams       float64
	OnHand      float64
	ShortChance float64 // that it is not there on Start, or by the horizon where there is no Start
	Optional    bool
	Or          []string   // species that can stand in for it, in order
	Form        string     // "pieces", "powder", "fresh"; Grams of fresh ones are fresh grams
	Grind       []Grinding // pieces to be ground for it before the start
}
