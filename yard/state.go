package yard

import (
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// State is the yard as it stands on a day, derived by replay of the journal;
// nothing of it is stored.
type State struct {
	AsOf    Date
	Config  Config   // yard.toml, with what was changed up to AsOf
	Recipes []Recipe // recipes.toml, in the grower's order, which is their priority
	Piles   []*Pile  // in the order in which they were first mentioned
	Dry     []*DryLot
	Picks   []*Pick  // every harvest, also those of piles unknown
	Batches []*Batch // every maceration, oldest first
	Bottles []BottleStock
	Bought  []Purchase
	Dryings []Drying // loads of which both weights are known, in the order of replay
	Loads   []Load   // of the drier, in the order of replay
	Went    []Went   // sold, given, eaten and spoiled, in the order of replay
	PutOff  []PutOff // tasks that were put off, in the order of replay
	Broken  []Breakage
	Cleaned []Cleaning
	Planned []Planning   // as far as they were done up to AsOf
	Felled  []*FelledLot // in the order of replay
	Changed []Change     // of yard.toml, in the order in which they came into force
	Entries []*Entry     // live entries up to AsOf, by day, then by order of writing
	Sort    []*Entry     // the tray "to sort": entries that name something unknown
	Weather *Weather     // measured up to AsOf, from weather.csv and rain gauge; nil: none

	DryMoves    []DryMove    // everything that came to the shelf of dried goods or left it
	BottleMoves []BottleMove // everything that came to the shelf of bottles or left it

	inoculated []inoculation // days of inoculating, in the order of replay

	unloaded  []Load            // dried, with the fresh weight, and never recorded as a load
	byName    map[string]*Pile  // piles by every name and code they ever had, folded
	named     int               // how many piles it holds
	remedies  map[string]string // for names of piles that are not known
	sought    int               // how many of them were made
	placeless []string          // places that were pointed at
	gauge     gauge
}

// Pile is a pile of inoculated logs or a bed of buried ones.
type Pile struct {
	Name, Code string
	Formerly   []string // names it had before, oldest first; it answers to them
	Kind       string   // "pile" or "bed"
	Species    string   // the name in data.Set, or the grower's own
	Like       string   // the built-in species it is forecast as; == Species where built in, "" where it cannot be forecast
	Strain     string   // as resolved in data.Set; "" for the only or first one
	Wood       string   // as written; "" unknown
	Place      string
	Since      When   // inoculated; for a bed, buried; for arrived logs, inoculated
	Arrived    When   // when ready-made logs came, else zero
	Origin     string // "inoculated", "arrived", "buried" or "counted"
	State      string // of arrived logs: "new", "part", "through", ""
	Colonised  bool   // ready-colonised logs were buried: no requirement left
	Started    int    // logs at the start, 0 where nobody counted
	Logs       int    // logs standing now; never below zero
	LogsKnown  bool   // false: Logs is a guess, the number was never written
	Diameter   Span   // cm
	UnderBark  bool   // the diameter is of the logs without their bark
	Length     Span   // cm
	Depth      Span   // cm of soil over a bed
	Spawn      string // "sawdust", "plug", "thimble", ""
	Method     string // "holes", "totem", "wedge", ""
	SpawnLot   string
	Gone       []LogLoss  // lost, retired, split off
	Seen       []Seen     // evidence in order of day
	Picks      []*Pick    // harvests from this pile, alone or with others
	Weighed    []Weighing // of some of its logs, in order of day
	Watered    []Watering // in order of day
	Soaked     []Soaking  // of the pile, a part of it or some logs, in order of day
	LogMoves   []LogMove  // everything that changed the number of its logs
	Entries    []*Entry   // every entry that names it
	Closed     Date       // when the last log went, else zero
}

// LogLoss is a number of logs that left a pile.
type LogLoss struct {
	On    When
	Logs  int
	How   string // "lost", "retired", "moved"
	Cause string
}

// Seen is one thing that was looked at on a pile: evidence for the forecast.
type Seen struct {
	On       When
	Written  Moment
	Kind     string // "checked", "walked", "pinned", "harvested", "noticed"
	LookedAt int    // logs looked at, checked
	With     int    // of them with a white ring at the end; -1 not said
	Spots    int    // of them with rim spots; -1 not said
	Springy  int    // -1 not said
	Dull     int    // -1 not said
	Logs     int    // logs concerned, pinned or noticed; 0 not said
	What     string // noticed
	Part     string // walked: the part of the pile that was passed; "" all of it
	Entry    *Entry
}

// Pick is one harvest.
type Pick struct {
	On      When
	Piles   []string // one or several: one basket may come from several piles
	Species string
	Part    string // of its pile; "" nobody said which bore
	Logs    int    // logs that fruited; 0 not said
	Fresh   Span   // kg; zero where nobody weighed
	Weighed bool
	Lot     string
	Season  bool // On spans months: a whole season's kilograms
	Entry   *Entry
}

// DryLot is dried stock of one lot.
type DryLot struct {
	Lot, Species, Form string // Form: "pieces" or "powder"
	On                 When
	From               string  // "own", "indoor", "gathered", "gift", "bought", "counted", "ground"
	Of                 string  // the lot it was ground from, where From is "ground"
	InG, LeftG         float64 // grams; LeftG may sink below zero in the record, and is pointed at
	IdentifiedBy       string
	Entry              *Entry
}

// Drying is one load of the drier that was weighed before and after. Nothing
// says that the two weights fit together.
type Drying struct {
	On      When
	Species string
	FreshKG float64
	DryG    float64
	Entry   *Entry
}

// Taken is what went from one lot of stock into a batch.
type Taken struct {
	Species, Lot string
	Grams        float64
}

// BottleCount is a number of bottles of one size.
type BottleCount struct {
	SizeML float64
	Count  int
}

// BottleStock is what is on hand of a recipe in bottles.
type BottleStock struct {
	Recipe, Lot string
	Bottles     []BottleCount
}

// Purchase is something bought: spirit, wax, bottles, spawn.
type Purchase struct {
	On     When
	Item   string
	Amount Quantity
	Lot    string
	Entry  *Entry
}

// Span is a quantity known only between two bounds, in the unit its field
// names. A point has Low == High; unknown is the zero Span.
type Span struct{ Low, High float64 }

// Mid is the middle of s.
func (s Span) Mid() float64 { return (s.Low + s.High) / 2 }

// Known reports whether anything was written.
func (s Span) Known() bool { return s.High > 0 }

// Pile returns the pile of a name or code, or nil. Capitals do not matter.
func (s *State) Pile(nameOrCode string) *Pile {
	want := folded(nameOrCode)
	if want == "" {
		return nil
	}
	if p, ok := s.byName[want]; ok {
		return p
	}
	if s.byName != nil && s.named == len(s.Piles) {
		return nil // no pile ever had that name
	}
	for _, p := range s.Piles { // a state that was not replayed
		if folded(p.Name) == want || folded(p.Code) == want || slices.ContainsFunc(p.Formerly, func(n string) bool { return folded(n) == want }) {
			return p
		}
	}
	return nil
}

// SameName reports whether two names are one, as names are compared.
func SameName(a, b string) bool { return folded(a) == folded(b) }

// folded is a name as names are compared: without capitals, and with letters
// and their marks as one sign, whether a keyboard sends them as one or as two.
func folded(name string) string {
	if isFolded(name) {
		return name
	}
	return norm.NFC.String(strings.ToLower(strings.Join(strings.Fields(name), " ")))
}

// isFolded reports whether a name is plainly one that folding leaves as it
// is. Names are compared with all others; most are such.
func isFolded(name string) bool {
	for i := range len(name) {
		if c := name[i]; c <= ' ' && (c != ' ' || i == 0 || i == len(name)-1 || name[i-1] == ' ') || c >= 0x7f || c >= 'A' && c <= 'Z' {
			return false
		}
	}
	return true
}
