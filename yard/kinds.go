package yard

import (
	"slices"

	"hodaba/data"
)

// KeyKind is what a key holds: how `record` may ask for it and how it is
// written in the journal.
type KeyKind int

// The kinds of keys.
const (
	TextKey        KeyKind = iota
	NewPileKey             // the name of a pile or bed that begins here
	CodeKey                // at most four signs for a tag
	PileKey                // name or code of a pile or bed
	PilesKey               // one or several, with commas between
	SpeciesKey             // built in, or the yard's own
	StrainKey              // a strain class of the species
	WoodKey                // kind of wood
	RecipeKey              // name of a recipe
	BatchKey               // lot of a tincture batch
	LotKey                 // lot of anything else
	EntryKey               // identifier of an entry
	KindKey                // kind of an event
	DayKey                 // a day, as vaguely as it is known
	CountKey               // a whole number
	NumberKey              // a number; its unit ends the key's name
	YesNoKey               // true or false
	ChoiceKey              // one of OneOf
	LengthKey              // centimetres or inches
	WeightKey              // kilograms, grams, pounds, own measures
	VolumeKey              // millilitres, litres, fluid ounces
	RainKey                // millimetres or inches of rain
	AmountKey              // any of them, or pieces
	IngredientsKey         // "shiitake 50 g, reishi 50 g from D-12"
	PartsKey               // "26-03 400 ml, 26-04"
	BottlesKey             // "10 x 100 ml", or a number of bottles of the recipe's size
	SettingKey             // table and key of yard.toml: "soak.tank_logs"
	ValueKey               // a value as it stands in yard.toml
	ClockKey               // a time of day: "14:05"
	TemperatureKey         // "57 C", "135 F"
	CoolingKey             // "14:30 57C, 16:10 21C, 19:00 5C"
)

// unit is the base unit of a key that holds a quantity.
func (k KeyKind) unit() Unit {
	switch k {
	case LengthKey:
		return Centimetre
	case WeightKey:
		return Kilogram
	case VolumeKey:
		return Millilitre
	case RainKey:
		return Millimetre
	}
	return Piece
}

// names reports whether the key holds a name, which may look like a number.
func (k KeyKind) names() bool {
	return k == NewPileKey || k == PileKey || k == PilesKey || k == BatchKey
}

// Key describes one key of a kind of event.
type Key struct {
	Name     string
	Holds    string // in a few words
	Example  string // as a grower would type it
	Kind     KeyKind
	Required bool
	OneOf    []string // of a ChoiceKey
	Common   bool     // every kind has it

	least, most float64 // in the base unit; both zero: no limits of its own
}

// KindInfo describes one kind of event.
type KindInfo struct {
	Name    string
	Says    string // what it records, in a few words
	Example string // as typed: `record` and this
	Keys    []Key  // its own, then those that every kind has
}

// kind is everything about one kind of event; each stands in its own file.
type kind struct {
	KindInfo
	make  func() readable
	known []string // names of the keys that may stand in a table of this kind
}

// readable is an event that says into which variables its keys are read.
type readable interface {
	Event
	// fields names the variables in the order of the kind's own keys.
	fields() []any
}

// checked is an event with rules between its keys.
type checker interface{ check(t *table) }

// kinds are all kinds that are known, in the order in which they are listed.
// Filled by init, because some of their methods look into it.
var kinds []*kind

func init() {
	kinds = []*kind{
		&inoculatedKind, &felledKind, &arrivedKind, &buriedKind, &movedKind, &splitKind, &joinedKind, &renamedKind,
		&checkedKind, &walkedKind, &noticedKind, &pinnedKind, &harvestedKind,
		&lostKind, &retiredKind, &countedKind, &driedKind, &receivedKind,
		&boughtKind, &maceratedKind, &addedKind, &shakenKind, &strainedKind, &decoctedKind,
		&blendedKind, &bottledKind, &discardedKind,
		&rainedKind, &weighedKind, &wateredKind, &soakedKind, &loadedKind, &groundKind,
		&spoiledKind, &soldKind, &givenKind, &eatenKind, &cleanedKind, &brokenKind,
		&changedKind, &plannedKind, &putOffKind, &correctedKind,
	}
	for _, k := range kinds {
		for _, c := range commonKeys {
			if !slices.ContainsFunc(k.Keys, func(own Key) bool { return own.Name == c.Name }) {
				k.Keys = append(k.Keys, c)
			}
		}
		k.known = append(k.keyNames(), "written", "entry")
	}
}

// commonKeys are those that every kind has.
var commonKeys = []Key{
	{Name: "on", Holds: "the day, or week, month or year if that is all that is known", Example: "2026-04-12", Kind: DayKey, Required: true, Common: true},
	{Name: "by", Holds: "who did it, initials", Example: "mk", Kind: TextKey, Common: true},
	{Name: "hours", Holds: "hours of work", Example: "1.5", Kind: NumberKey, Common: true, most: 1000},
	{Name: "people", Holds: "how many worked", Example: "2", Kind: CountKey, Common: true},
	{Name: "note", Holds: "anything else", Example: "rain all day", Kind: TextKey, Common: true},
	{Name: "place", Holds: "where in the yard", Example: "under the hazel", Kind: TextKey, Common: true},
}

// Kinds describes every kind of event that is known.
func Kinds() []KindInfo {
	out := make([]KindInfo, len(kinds))
	for i, k := range kinds {
		out[i] = k.KindInfo
	}
	return out
}

// KeysOf describes the keys of a kind of event; nil if the kind is not known.
func KeysOf(kindName string) []Key {
	if k := kindOf(kindName); k != nil {
		return k.Keys
	}
	return nil
}

// NearestKind is the kind of event whose name is nearest to word, or "".
func NearestKind(word string) string {
	near, _ := data.Nearest(word, kindNames())
	return near
}

func kindNames() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = k.Name
	}
	return out
}

func kindOf(name string) *kind {
	for _, k := range kinds {
		if k.Name == name {
			return k
		}
	}
	return nil
}

func (k *kind) keyNames() []string {
	out := make([]string, len(k.Keys))
	for i := range k.Keys {
		out[i] = k.Keys[i].Name
	}
	return out
}
