package yard

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// dimension is what a unit measures.
type dimension int

const (
	pieces dimension = iota
	mass
	volume
	length
	duration
	rain
)

var dimensionWords = [...]string{"a number", "a weight", "a volume", "a length", "a time", "a depth of rain"}

// scale turns a number in some unit into the base unit of its dimension:
// times mul, through div. Two numbers, because a tenth has no exact float.
type scale struct {
	dim      dimension
	mul, div float64
}

// units names every unit that is understood. Pound, inch and foot are those
// of the international yard and pound agreement of 1959 (exact); the fluid
// ounce is that of the United States, 231 cubic inches through 128 (exact).
// Pints, quarts and gallons are left out: they differ by country.
var units = map[string]scale{
	"":   {pieces, 1, 1},
	"kg": {mass, 1, 1}, "g": {mass, 1, 1000}, "mg": {mass, 1, 1e6}, "t": {mass, 1000, 1},
	"lb": {mass, 0.45359237, 1}, "oz": {mass, 0.028349523125, 1},
	"ml": {volume, 1, 1}, "cl": {volume, 10, 1}, "dl": {volume, 100, 1}, "l": {volume, 1000, 1},
	"floz": {volume, 29.5735295625, 1},
	"mm":   {length, 1, 10}, "cm": {length, 1, 1}, "m": {length, 100, 1},
	"in": {length, 2.54, 1}, "ft": {length, 30.48, 1},
	"h": {duration, 1, 1}, "min": {duration, 1, 60}, "d": {duration, 24, 1},
}

// rainUnits are those of length again, in millimetres.
var rainUnits = map[string]scale{
	"mm": {rain, 1, 1}, "cm": {rain, 10, 1}, "in": {rain, 25.4, 1},
}

// unitWords are other spellings of units.
var unitWords = map[string]string{
	"piece": "", "pc": "", "pcs": "",
	"kilogram": "kg", "kilogramme": "kg", "kilo": "kg", "kgs": "kg",
	"gram": "g", "gramme": "g", "gr": "g", "milligram": "mg", "tonne": "t",
	"lbs": "lb", "pound": "lb", "ounce": "oz",
	"millilitre": "ml", "milliliter": "ml", "centilitre": "cl", "decilitre": "dl",
	"litre": "l", "liter": "l", "ltr": "l",
	"fl oz": "floz", "fluid ounce": "floz", "fl ounce": "floz",
	"millimetre": "mm", "millimeter": "mm", "centimetre": "cm", "centimeter": "cm",
	"metre": "m", "meter": "m", "inch": "in", "inches": "in", "\"": "in", "foot": "ft", "feet": "ft",
	"hr": "h", "hrs": "h", "hour": "h", "minute": "min", "day": "d",
}

// wanted says what a base unit measures, what it looks like when written, and
// beyond what it can only be a slip of the pen.
type want struct {
	dim     dimension
	example string
	most    float64
	mostIs  string
}

var wants = map[Unit]want{
	Kilogram:   {mass, "2.4 kg", 100e3, "100 t"},
	Millilitre: {volume, "250 ml", 100e6, "100,000 l"},
	Centimetre: {length, "12 cm", 10e3, "100 m"},
	Hour:       {duration, "24 h", 100e3, "11 years"},
	Millimetre: {rain, "12 mm", 3000, "3,000 mm"},
	Piece:      {pieces, "12", 1e9, "1,000,000,000"},
}

// leastQuantity is the smallest amount above nothing, in any base unit: what
// is less can be neither weighed nor measured, and is a slip of the pen.
const leastQuantity = 1e-6

// longestQuantity is the number of characters at which reading stops.
const longestQuantity = 120

// ParseQuantity reads an amount with its unit into the base unit want:
// "12 cm", "5 in", "10-15 cm", "1.4 kg", "1,4 kg", "3 lb 2 oz", "1 1/2 in",
// "about 2 kg", "8 floz", or in the yard's own measures, "2 baskets". Where a
// volume is wanted, oz is refused, because it is a weight. The error says what
// to write instead.
func ParseQuantity(s string, unit Unit, measures map[string]Quantity) (Quantity, error) {
	w, ok := wants[unit]
	if !ok {
		panic("yard: ParseQuantity wants a base unit, not " + string(unit))
	}
	return measurer{s, w, unit, measures, false}.read()
}

// ParseAmount reads an amount of any dimension, as things are bought: "5 kg",
// "10 l", "200" pieces. The unit written decides the base unit.
func ParseAmount(s string, measures map[string]Quantity) (Quantity, error) {
	return measurer{s, wants[Piece], Piece, measures, true}.read()
}

// String is q in its base unit: what ParseQuantity reads back into the same
// Low, High, Unit and About.
func (q Quantity) String() string {
	var b strings.Builder
	if q.About {
		b.WriteString("about ")
	}
	b.WriteString(decimal(q.Low))
	if q.High != q.Low {
		b.WriteString("-" + decimal(q.High))
	}
	if q.Unit != Piece {
		b.WriteString(" " + string(q.Unit))
	}
	return b.String()
}

// Known reports whether anything was written.
func (q Quantity) Known() bool { return q.Text != "" || q.High > 0 }

func decimal(v float64) string {
	if v == 0 {
		v = 0 // nought has no sign
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// measurer reads one quantity.
type measurer struct {
	text     string
	want     want
	unit     Unit
	measures map[string]Quantity
	any      bool // take the dimension of the first unit met
}

func (m measurer) read() (Quantity, error) {
	if len(m.text) > longestQuantity {
		return Quantity{}, mistake{shown(m.text) + " is too long for an amount", m.write()}
	}
	body, about := cutAbout(strings.ToLower(strings.TrimSpace(m.text)))
	if body == "" {
		return Quantity{}, mistake{"the amount is empty", m.write()}
	}
	if strings.HasPrefix(body, "-") || strings.HasPrefix(body, "−") {
		return Quantity{}, mistake{shown(m.text) + " is less than nothing", m.write()}
	}
	low, high, twoSides := cutRange(body)
	q := Quantity{About: about, Text: strings.TrimSpace(m.text)}
	hi, first, err := m.sum(high, "")
	if err != nil {
		return Quantity{}, err
	}
	lo := hi
	if twoSides {
		if lo, _, err = m.sum(low, first); err != nil {
			return Quantity{}, err
		}
	}
	q.Low, q.High = min(lo.Low, hi.Low), max(lo.High, hi.High)
	q.Unit = hi.Unit
	return q, m.sane(q)
}

func (m measurer) write() string {
	if m.any {
		return `write an amount with its unit, such as "5 kg", "10 l" or "200"`
	}
	return `write an amount such as "` + m.want.example + `"`
}

// sane refuses what can only be a slip of the pen.
func (m measurer) sane(q Quantity) error {
	w := wants[q.Unit]
	switch {
	case !(q.High <= w.most): // also NaN
		return mistake{fmt.Sprintf("%s is more than %s", shown(m.text), w.mostIs), "look at the number and its unit"}
	case q.Low < 0, q.Low > 0 && q.Low < leastQuantity, q.High > 0 && q.High < leastQuantity:
		return mistake{shown(m.text) + " is too little to be measured", "look at the number and its unit"}
	}
	return nil
}

// sum adds up the terms of one side: "3 lb 2 oz". lend is the unit of the
// other side, for "10-15 cm". It returns the first unit met.
func (m measurer) sum(s, lend string) (q Quantity, first string, err error) {
	terms, err := m.terms(s)
	if err != nil {
		return q, "", err
	}
	for i, t := range terms {
		unit := t.unit
		if unit == "" && i == len(terms)-1 && len(terms) == 1 {
			unit = lend
		}
		v, err := m.convert(t.number, unit)
		if err != nil {
			return q, "", err
		}
		if i == 0 {
			q, first = v, unit
			continue
		}
		if v.Unit != q.Unit || unit == "" {
			return q, "", mistake{shown(m.text) + " mixes things that cannot be added", m.write()}
		}
		q.Low += v.Low
		q.High += v.High
	}
	return q, first, nil
}

// convert brings a number in a unit to the base unit.
func (m measurer) convert(v float64, unit string) (Quantity, error) {
	name := unitName(unit)
	if own, ok := m.ownMeasure(unit); ok {
		if !m.any && own.Unit != m.unit {
			return Quantity{}, m.misfit(wants[own.Unit].dim, v, name)
		}
		return Quantity{Low: v * own.Low, High: v * own.High, Unit: own.Unit}, nil
	}
	sc, ok := units[name]
	if r, isRain := rainUnits[name]; isRain && m.want.dim == rain {
		sc = r
	}
	switch {
	case !ok:
		return Quantity{}, m.unknownUnit(unit)
	case m.any:
		base := baseOf[sc.dim]
		return Quantity{Low: v * sc.mul / sc.div, High: v * sc.mul / sc.div, Unit: base}, nil
	case sc.dim != m.want.dim:
		return Quantity{}, m.misfit(sc.dim, v, name)
	}
	return Quantity{Low: v * sc.mul / sc.div, High: v * sc.mul / sc.div, Unit: m.unit}, nil
}

var baseOf = map[dimension]Unit{pieces: Piece, mass: Kilogram, volume: Millilitre, length: Centimetre, duration: Hour}

// misfit explains a unit of another dimension.
func (m measurer) misfit(got dimension, v float64, unit string) error {
	switch {
	case got == pieces:
		example := m.want.example[strings.LastIndexByte(m.want.example, ' ')+1:]
		return mistake{shown(m.text) + " has no unit", fmt.Sprintf("write \"%s %s\"", strings.TrimSpace(m.text), example)}
	case m.want.dim == volume && unit == "oz":
		return mistake{shown(m.text) + " is a weight, and a volume is wanted",
			fmt.Sprintf("write %q for fluid ounces, or the millilitres", decimal(v)+" floz")}
	case m.want.dim == pieces:
		return mistake{fmt.Sprintf("%s is %s, and a number is wanted", shown(m.text), dimensionWords[got]), m.write()}
	}
	return mistake{fmt.Sprintf("%s is %s, and %s is wanted", shown(m.text), dimensionWords[got], dimensionWords[m.want.dim]), m.write()}
}

func (m measurer) unknownUnit(unit string) error {
	known := make([]string, 0, len(units)+len(m.measures))
	for _, u := range []string{"kg", "g", "lb", "oz", "ml", "cl", "l", "floz", "mm", "cm", "m", "in", "ft", "h", "min"} {
		if m.any || units[u].dim == m.want.dim || (m.want.dim == rain && rainUnits[u].div > 0) {
			known = append(known, u)
		}
	}
	text := fmt.Sprintf("%s: %q is no unit that is known", shown(m.text), unit)
	return mistake{text, fmt.Sprintf("write one of %s, or give the measure its size under [measures] in yard.toml",
		strings.Join(known, ", "))}
}

// ownMeasure finds one of the yard's own measures, also in the plural.
func (m measurer) ownMeasure(unit string) (Quantity, bool) {
	if len(m.measures) == 0 || unit == "" {
		return Quantity{}, false
	}
	for name, q := range m.measures {
		n := strings.ToLower(name)
		if unit == n || unit == n+"s" || unit == n+"es" {
			return q, true
		}
	}
	return Quantity{}, false
}

// unitName brings other spellings and plurals of a unit to its sign.
func unitName(word string) string {
	if len(word) < 2 {
		return word
	}
	for _, w := range []string{word, strings.TrimSuffix(word, "s")} {
		if _, ok := units[w]; ok {
			return w
		}
		if sign, ok := unitWords[w]; ok {
			return sign
		}
	}
	return word
}

// A term is one number and what follows it.
type term struct {
	number float64
	unit   string
}

// terms cuts "3 lb 2 oz" into numbers and units.
func (m measurer) terms(s string) ([]term, error) {
	var out []term
	rest := strings.TrimSpace(s)
	for rest != "" {
		end := strings.IndexFunc(rest, func(r rune) bool { return !isNumeral(r) })
		if end < 0 {
			end = len(rest)
		}
		if end == 0 {
			return nil, mistake{shown(m.text) + " is not an amount", m.write()}
		}
		v, err := m.number(strings.TrimSpace(rest[:end]))
		if err != nil {
			return nil, err
		}
		rest = rest[end:]
		end = strings.IndexFunc(rest, unicode.IsDigit)
		if end < 0 {
			end = len(rest)
		}
		unit := strings.Join(strings.Fields(strings.ReplaceAll(rest[:end], ".", "")), " ")
		out = append(out, term{v, unit})
		rest = rest[end:]
	}
	if len(out) == 0 {
		return nil, mistake{shown(m.text) + " is not an amount", m.write()}
	}
	return out, nil
}

func isNumeral(r rune) bool { return r >= '0' && r <= '9' || strings.ContainsRune(" .,/", r) }

// number reads "12", "1.4", "1,4", "1/2" and "1 1/2". A comma or point that
// could be of thousands is refused.
func (m measurer) number(s string) (float64, error) {
	whole, fraction, mixed := strings.Cut(s, " ")
	if !mixed && strings.Contains(s, "/") {
		whole, fraction, mixed = "0", s, true
	}
	if mixed {
		return m.mixed(whole, strings.TrimSpace(fraction))
	}
	before, after, comma := strings.Cut(s, ",")
	if comma && len(after) == 3 && len(before) <= 3 && before != "0" && before != "" && !strings.Contains(s, ".") {
		return 0, mistake{fmt.Sprintf("%s can be read in two ways", shown(m.text)),
			fmt.Sprintf("write %s.%s or %s%s", before, after, before, after)}
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, mistake{shown(m.text) + " is not an amount", m.write()}
	}
	return v, nil
}

func (m measurer) mixed(whole, fraction string) (float64, error) {
	top, bottom, ok := strings.Cut(fraction, "/")
	w, e1 := strconv.ParseUint(whole, 10, 32)
	t, e2 := strconv.ParseUint(strings.TrimSpace(top), 10, 16)
	b, e3 := strconv.ParseUint(strings.TrimSpace(bottom), 10, 16)
	if !ok || e1 != nil || e2 != nil || e3 != nil || b == 0 {
		return 0, mistake{shown(m.text) + " is not an amount", m.write()}
	}
	return float64(w) + float64(t)/float64(b), nil
}

// cutAbout takes off a word that says that the amount is rough.
func cutAbout(s string) (rest string, about bool) {
	for _, word := range []string{"about ", "approximately ", "approx. ", "approx ", "roughly ", "circa ", "ca. ", "ca ", "c. ", "~", "≈"} {
		if r, ok := strings.CutPrefix(s, word); ok {
			return fractions.Replace(strings.TrimSpace(r)), true
		}
	}
	return fractions.Replace(s), false
}

var fractions = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3", "\u00a0", " ", "\u202f", " ")

// cutRange cuts "10-15 cm" and "10 to 15 cm" in two; without a range both
// sides are the whole.
func cutRange(s string) (low, high string, ok bool) {
	for _, sep := range []string{" to ", "–", "—", "-"} {
		a, b, found := strings.Cut(s, sep)
		b = strings.TrimSpace(b)
		if found && strings.TrimSpace(a) != "" && b != "" && b[0] >= '0' && b[0] <= '9' {
			return a, b, true
		}
	}
	return s, s, false
}
