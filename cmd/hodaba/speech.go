package main

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// spoken lists the keys of each kind of event in the order in which a grower
// says them. A word goes to the first of them that it fits and that has
// nothing yet; the last free-text key takes all words that are left.
var spoken = map[string][]string{
	"inoculated": {"pile", "species", "strain", "wood", "logs", "diameter", "length", "spawn", "method"},
	"arrived":    {"pile", "species", "strain", "wood", "logs", "inoculated", "state"},
	"buried":     {"bed", "species", "strain", "from", "wood", "logs", "diameter", "length", "depth"},
	"moved":      {"pile", "logs", "place"},
	"split":      {"pile", "logs", "into"},
	"felled":     {"lot", "wood", "logs", "diameter", "length", "from"},
	"joined":     {"piles", "into"},
	"renamed":    {"pile", "to"},
	"checked":    {"pile", "with_mycelium", "looked_at"},
	"walked":     {"piles"},
	"noticed":    {"pile", "logs", "what"},
	"pinned":     {"pile", "species", "logs"},
	"harvested":  {"piles", "species", "logs", "fresh"},
	"lost":       {"pile", "logs", "cause"},
	"retired":    {"pile", "logs"},
	"counted":    {"pile", "species", "recipe", "logs", "form", "dry", "bottles"},
	"dried":      {"species", "fresh", "dry", "lot"},
	"received":   {"species", "dry", "form", "from", "lot", "who"},
	"bought":     {"amount", "item"},
	"macerated":  {"batch", "recipe", "jars", "spirit"},
	"strained":   {"batch", "volume", "marc", "jars"},
	"decocted":   {"batch", "water", "volume", "simmer_hours"},
	"added":      {"batch", "species", "form", "dry", "lot"},
	"shaken":     {"batch", "days"},
	"blended":    {"batch", "from", "spirit_part", "decoction_part", "volume", "abv_percent"},
	"bottled":    {"batch", "bottles"},
	"discarded":  {"batch", "jars", "volume", "why"},
	"rained":     {"rain"},
	"watered":    {"piles", "hours", "how"},
	"weighed":    {"pile", "logs", "mass"},
	"soaked":     {"pile", "logs", "soak_hours", "part"},
	"loaded":     {"load", "species", "fresh", "from"},
	"ground":     {"species", "dry", "lot"},
	"spoiled":    {"amount", "what"},
	"sold":       {"species", "lot", "form", "fresh", "dry", "bottles", "logs", "to"},
	"given":      {"species", "lot", "form", "fresh", "dry", "bottles", "logs", "to"},
	"eaten":      {"species", "lot", "form", "fresh", "dry", "bottles", "logs", "to"},
	"cleaned":    {"what"},
	"broken":     {"until", "what"},
	"changed":    {"key", "value"},
	"planned":    {"pile", "species", "strain", "wood", "logs", "month", "diameter", "length", "spawn", "method"},
	"put_off":    {"until", "task"},
}

// speech puts the words of a command line in place.
type speech struct {
	kind    string
	keys    map[string]yard.Key
	order   []string
	values  map[string]string
	given   map[string]bool // keys that came with their name
	set     *data.Set
	terms   yard.Terms
	recipes []yard.Recipe
	named   map[string]bool // names and codes of piles that exist, in lower case
	left    []string        // words that nobody took
	apart   bool            // two numbers are two amounts: "dried shiitake 2 lb 4 oz"
}

// newSpeech starts from values that were given by key.
func newSpeech(kind string, given map[string]string, f *yard.Folder, set *data.Set) *speech {
	s := &speech{kind: kind, keys: map[string]yard.Key{}, values: maps.Clone(given), given: map[string]bool{}, set: set,
		terms: f.Terms(), recipes: f.Recipes(), named: map[string]bool{}}
	for k := range given {
		s.given[k] = true
	}
	for _, k := range yard.KeysOf(kind) {
		s.keys[k.Name] = k
	}
	s.order = s.spokenOrder()
	return s
}

// know tells which piles there are.
func (s *speech) know(names []string) {
	for _, n := range names {
		s.named[strings.ToLower(n)] = true
	}
}

func (s *speech) isPile(name string) bool { return s.named[strings.ToLower(name)] }

// spokenOrder is the order of speech, and for a kind without one the order of
// its keys.
func (s *speech) spokenOrder() []string {
	order := slices.DeleteFunc(slices.Clone(spoken[s.kind]), func(k string) bool { _, ok := s.keys[k]; return !ok })
	if len(order) > 0 {
		return order
	}
	for _, k := range yard.KeysOf(s.kind) {
		if !k.Common {
			order = append(order, k.Name)
		}
	}
	return order
}

// hear takes words in the order in which they were said. Several words that
// make one thing, such as "white oak", "40 logs" or "3 lb 2 oz", need no
// quotes: the longest run of words that fits a key goes there.
func (s *speech) hear(words []string) {
	if s.kind == "planned" && (s.values["soak"] != "" || len(words) > 0 && words[0] == "soak") {
		s.order = []string{"soak", "week", "part"}
		words = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "soak" })
	}
	words = s.between(words, "joined", "into")
	words = s.between(words, "renamed", "to")
	words = s.loadFirst(words)
	s.apart = s.kind == "dried" && len(numbers.FindAllString(strings.Join(words, " "), -1)) == 2
	for i := 0; i < len(words); {
		i += s.take(words[i:])
	}
	s.leftovers()
	s.single()
}

// between takes the name that is said last, after the word that is also its
// key: "joined a b into c".
func (s *speech) between(words []string, kind, key string) []string {
	n := len(words)
	if s.kind != kind || n < 3 || words[n-2] != key || s.values[key] != "" {
		return words
	}
	s.values[key] = words[n-1]
	return words[:n-2]
}

// loadFirst takes the word that is said first of what goes into the drier: a
// pile is where it came from, and what can be nothing else is the name of the
// load, such as A.
func (s *speech) loadFirst(words []string) []string {
	if s.kind != "loaded" || len(words) == 0 {
		return words
	}
	name := "load"
	if s.isPile(words[0]) {
		name = "from"
	} else if s.saysOfLoad(words) {
		return words
	}
	if s.values[name] != "" {
		return words
	}
	s.values[name] = words[0]
	return words[1:]
}

// saysOfLoad reports whether the first words say what went into the drier, how
// much or when, perhaps with a slip of the pen.
func (s *speech) saysOfLoad(words []string) bool {
	for n := 1; n <= min(longestRun, len(words)); n++ {
		said := strings.Join(words[:n], " ")
		if s.isSpecies(said) || isDay(said) || s.quantity(said, yard.Kilogram) {
			return true
		}
	}
	_, near := s.meant(words[0])
	return near
}

// single moves one pile from the list of piles to the key for one, where a
// kind has both. The only weight of a drying is what came out, and what went
// of a form that only dried goods have is dry.
func (s *speech) single() {
	if s.goes() && s.values["form"] != "" && s.values["dry"] == "" && !s.given["fresh"] {
		s.values["dry"] = s.values["fresh"]
		delete(s.values, "fresh")
	}
	if s.kind == "dried" && s.values["dry"] == "" && s.values["fresh"] != "" && !s.given["fresh"] {
		s.values["dry"] = s.values["fresh"]
		delete(s.values, "fresh")
	}
	if _, both := s.keys["pile"]; both && s.values["pile"] == "" && !strings.Contains(s.values["piles"], ",") {
		s.values["pile"] = s.values["piles"]
		delete(s.values, "piles")
	}
	if s.values["pile"] == "" {
		delete(s.values, "pile")
	}
}

// goes reports whether the event is of goods that go.
func (s *speech) goes() bool { return s.kind == "sold" || s.kind == "given" || s.kind == "eaten" }

// mostWords is how many words an event can be said in: more than anybody has
// piles to name; each word is tried in runs and under every key.
const mostWords = 500

// longestRun is how many words at most make one thing: "about 3 lb 2 oz".
const longestRun = 5

// take finds a place for the first words and says how many it took.
func (s *speech) take(words []string) int {
	if n := s.takeShare(words); n > 0 {
		return n
	}
	for n := min(longestRun, len(words)); n > 1; n-- {
		if s.place(strings.Join(words[:n], " "), true) {
			return n
		}
	}
	if !s.place(words[0], false) {
		s.left = append(s.left, words[0])
	}
	return 1
}

// takeShare reads "7/10" and "7 of 10" for logs with mycelium of logs looked
// at.
func (s *speech) takeShare(words []string) int {
	if s.kind != "checked" {
		return 0
	}
	k, n, ok := strings.Cut(words[0], "/")
	took := 1
	if !ok && len(words) > 2 && words[1] == "of" {
		k, n, ok, took = words[0], words[2], true, 3
	}
	if !ok || !isCount(k) || !isCount(n) {
		return 0
	}
	s.values["with_mycelium"], s.values["looked_at"] = k, n
	return took
}

// place puts what was said under the first free key that it fits.
func (s *speech) place(said string, several bool) bool {
	if name := s.dayFor(said); name != "" {
		s.values[name] = said
		return true
	}
	for _, name := range s.order {
		key := s.keys[name]
		if s.values[name] != "" && name != "piles" && key.Kind != yard.PartsKey {
			continue
		}
		if several && !s.mayBeSeveral(key) {
			continue
		}
		if v, ok := s.fits(key, said); ok {
			if old := s.values[name]; old != "" {
				v = old + ", " + v
			}
			s.values[name] = v
			return true
		}
	}
	return false
}

// dayFor is the key of a day: of the events about what is to come, that is the
// day until which, the month or the week; else the day of the event.
func (s *speech) dayFor(said string) string {
	if !isDay(said) {
		return ""
	}
	for _, name := range []string{"until", "month", "week"} {
		if slices.Contains(s.order, name) && s.values[name] == "" && said != "today" && said != "yesterday" {
			return name
		}
	}
	if s.values["on"] == "" {
		return "on"
	}
	return ""
}

// mayBeSeveral reports whether a key may be said in several words: names of
// the trade and quantities, but never a pile or free text, which would
// swallow what comes after.
func (s *speech) mayBeSeveral(k yard.Key) bool {
	switch k.Kind {
	case yard.SpeciesKey, yard.StrainKey, yard.WoodKey, yard.ChoiceKey, yard.RecipeKey, yard.BottlesKey, yard.PartsKey,
		yard.LengthKey, yard.WeightKey, yard.VolumeKey, yard.RainKey, yard.AmountKey, yard.CountKey, yard.NumberKey, yard.ValueKey:
		return true
	}
	return false
}

// fits reports whether what was said can stand under a key, and how to write
// it there.
func (s *speech) fits(k yard.Key, said string) (string, bool) {
	switch k.Kind {
	case yard.PileKey, yard.NewPileKey, yard.PilesKey:
		return said, s.likePile(k, said)
	case yard.SpeciesKey:
		return said, s.isSpecies(said)
	case yard.RecipeKey:
		return said, s.isRecipe(said)
	case yard.CountKey:
		n := strings.TrimSuffix(said, "s")
		n = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(n, "log"), strings.TrimSuffix(k.Name, "s")))
		return n, isCount(n) && !(s.goes() && n == said) // of goods, a bare number is bottles
	case yard.WeightKey:
		return said, s.quantity(said, yard.Kilogram)
	case yard.LengthKey:
		return said, s.quantity(said, yard.Centimetre)
	case yard.VolumeKey:
		return said, s.quantity(said, yard.Millilitre)
	case yard.RainKey:
		return said, s.quantity(said, yard.Millimetre)
	case yard.NumberKey:
		if strings.HasSuffix(k.Name, "abv_percent") {
			return percentOf(said)
		}
		return hoursOf(k, said)
	case yard.AmountKey:
		return said, s.quantity(said, yard.Kilogram) || s.quantity(said, yard.Millilitre) || isCount(said)
	case yard.BottlesKey:
		return s.bottles(said)
	case yard.PartsKey:
		return said, s.likePart(said)
	case yard.DayKey:
		_, err := yard.ParseWhen(said)
		return said, err == nil
	case yard.SettingKey:
		return said, strings.Contains(said, ".")
	case yard.ValueKey:
		return said, s.values["key"] != ""
	case yard.BatchKey:
		return said, !s.looksLikeQuantity(said)
	case yard.LotKey:
		return said, !s.looksLikeQuantity(said) && strings.ContainsAny(said, "0123456789")
	}
	return s.fitsWord(k, said)
}

// bottles reads "10 x 100 ml, 3 x 50 ml" and "6 bottles"; of goods that go, a
// bare number is bottles, too.
func (s *speech) bottles(said string) (string, bool) {
	n := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(said, "s"), "bottle"))
	if isCount(n) && (n != said || s.goes()) {
		return n, true
	}
	for _, part := range strings.Split(said, ", ") {
		count, size, ok := strings.Cut(part, " x ")
		if !ok || !isCount(strings.TrimSpace(count)) || !s.quantity(size, yard.Millilitre) {
			return "", false
		}
	}
	return said, true
}

// fitsWord takes the words of a closed list and names of woods and strains.
// Free text waits for the end.
func (s *speech) fitsWord(k yard.Key, said string) (string, bool) {
	switch k.Kind {
	case yard.WoodKey:
		_, ok := s.set.FindWood(said)
		return said, ok
	case yard.StrainKey:
		return said, s.isStrain(said)
	case yard.ChoiceKey:
		for _, w := range k.OneOf {
			if strings.EqualFold(w, said) {
				return w, true
			}
		}
	}
	return "", false
}

var inHours = regexp.MustCompile(`(?i)^(\d+(?:[.,]\d+)?)\s*(?:h|hrs?|hours?)$`)

// hoursOf reads "3h" and "3 hours" for a number of hours. Other numbers have a
// unit that nobody says, so they need their key.
func hoursOf(k yard.Key, said string) (string, bool) {
	m := inHours.FindStringSubmatch(said)
	if m == nil || k.Name != "hours" && k.Name != "simmer_hours" && k.Name != "soak_hours" {
		return "", false
	}
	return strings.Replace(m[1], ",", ".", 1), true
}

var inPercent = regexp.MustCompile(`^(\d+(?:[.,]\d+)?)\s*%$`)

// percentOf reads "24%" and "24 %" for a strength.
func percentOf(said string) (string, bool) {
	m := inPercent.FindStringSubmatch(said)
	if m == nil {
		return "", false
	}
	return strings.Replace(m[1], ",", ".", 1), true
}

// likePart takes "26-04" and "26-04 400 ml" as a batch that went into
// another, once that one is named.
func (s *speech) likePart(said string) bool {
	lot, volume, _ := strings.Cut(said, " ")
	return s.values["batch"] != "" && strings.ContainsAny(lot, "0123456789") && !s.looksLikeQuantity(lot) && !inPercent.MatchString(lot) &&
		(volume == "" || s.quantity(volume, yard.Millilitre))
}

func (s *speech) isStrain(said string) bool {
	sp, ok := s.set.FindSpecies(s.values["species"])
	if !ok {
		return false
	}
	_, ok = sp.FindStrain(said)
	return ok
}

func (s *speech) isSpecies(said string) bool {
	if _, ok := s.set.FindSpecies(said); ok {
		return true
	}
	for _, o := range s.terms.Own {
		if yard.SameName(o.Name, said) {
			return true
		}
	}
	return false
}

func (s *speech) isRecipe(said string) bool {
	for _, r := range s.recipes {
		if yard.SameName(r.Name, said) {
			return true
		}
	}
	return false
}

// likePile takes the first word as a pile whatever it is, later ones of a
// list only where they are not something else. Where dried goods or bottles
// may be meant instead, a pile must be one that is known or none of the
// others.
func (s *speech) likePile(k yard.Key, said string) bool {
	if s.looksLikeQuantity(said) && !s.isPile(said) {
		return false
	}
	switch {
	case s.kind == "counted":
		return s.values["species"] == "" && s.values["recipe"] == "" && !s.isSpecies(said) && !s.isRecipe(said)
	case s.kind == "buried" && k.Name == "from" && !s.isPile(said):
		_, wood := s.set.FindWood(said)
		return !wood && s.nearPile(said)
	case s.kind == "watered" && s.values[k.Name] == "" && !s.isPile(said):
		return s.nearPile(said) // "sprinkler" is with what; a pile mistyped is still one
	case k.Kind == yard.PilesKey && s.values[k.Name] != "" && s.kind != "walked":
		return s.isPile(said)
	}
	return true
}

// nearPile reports whether a word is nearly the name of a pile.
func (s *speech) nearPile(said string) bool {
	_, ok := data.Nearest(said, slices.Sorted(maps.Keys(s.named)))
	return ok
}

func (s *speech) quantity(said string, unit yard.Unit) bool {
	_, err := yard.ParseQuantity(said, unit, s.terms.Measures)
	two := s.apart && len(numbers.FindAllString(said, -1)) > 1
	return err == nil && !two && oneAmount(said)
}

var (
	numbers = regexp.MustCompile(`\d+([.,]\d+)?(/\d+)?`)
	ranges  = regexp.MustCompile(`\d\s*(-|–|to)\s*\d`)
	pounds  = regexp.MustCompile(`(?i)\d\s*(lbs?|pounds?|ft|feet|foot)\s*\d+([.,/]\d+)?\s*(oz|ounces?|in|inch(es)?)$`)
)

// oneAmount tells one amount from two said after another: "3 lb 2 oz" and
// "10 to 15 cm" are one, "1.2kg 140g" are what went in and what came out.
func oneAmount(said string) bool {
	n := len(numbers.FindAllString(said, -1))
	return n < 2 || n == 2 && (ranges.MatchString(said) || pounds.MatchString(said))
}

// looksLikeQuantity reports whether a word is a number, with or without a
// unit, so that it cannot be meant as a name.
func (s *speech) looksLikeQuantity(said string) bool {
	return isCount(said) || inHours.MatchString(said) || s.quantity(said, yard.Kilogram) || s.quantity(said, yard.Millilitre) || s.quantity(said, yard.Centimetre)
}

// leftovers gives the words that nobody took to the kind's free text, unless
// something that is needed is missing: then a word was mistyped.
func (s *speech) leftovers() {
	if len(s.left) == 0 || s.lacks() {
		return
	}
	for _, name := range slices.Backward(s.order) {
		k := s.keys[name]
		if s.values[name] == "" && k.Kind == yard.TextKey {
			if n := len(s.left) - 1; n > 0 && s.left[n] == "until" && s.values["until"] != "" {
				s.left = s.left[:n]
			}
			s.values[name] = strings.Join(s.left, " ")
			s.left = nil
			return
		}
	}
}

// lacks reports whether a key is missing that is needed and is not free text:
// of a load, the mushroom where a word that nobody took is nearly one.
func (s *speech) lacks() bool {
	for name, k := range s.keys {
		if k.Required && name != "on" && k.Kind != yard.TextKey && s.values[name] == "" {
			return true
		}
	}
	_, near := s.meant(s.left[0])
	return near && s.kind == "loaded" && s.values["species"] == ""
}

// meant is what a word that nobody took may have been meant to be.
func (s *speech) meant(word string) (near string, ok bool) {
	var among []string
	for _, name := range s.order {
		switch k := s.keys[name]; {
		case s.values[name] != "":
		case k.Kind == yard.SpeciesKey:
			among = append(among, s.set.SpeciesNames()...)
		case k.Kind == yard.WoodKey:
			among = append(among, s.set.WoodNames()...)
		case k.Kind == yard.ChoiceKey:
			among = append(among, k.OneOf...)
		}
	}
	return data.Nearest(word, among)
}

func isCount(s string) bool {
	_, err := strconv.ParseUint(s, 10, 31)
	return err == nil
}

// isDay takes what can be nothing but a day: a bare year could be a number.
func isDay(s string) bool {
	if s == "today" || s == "yesterday" {
		return true
	}
	if len(s) < len("2022-05") || s[4] != '-' || !isCount(s[:4]) {
		return false
	}
	_, err := yard.ParseWhen(s)
	return err == nil
}
