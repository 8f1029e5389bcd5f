package yard

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/data"
)

var blendedKind = kind{
	KindInfo: KindInfo{
		Name: "blended", Says: "spirit and decoction were mixed, or one batch with another",
		Example: `blended 26-03 spirit_part="610 ml" decoction_part="500 ml" volume="1090 ml"`,
		Keys: slices.Concat([]Key{
			{Name: "batch", Holds: "lot of the batch that it becomes", Example: "26-05", Kind: BatchKey, Required: true},
			{Name: "from", Holds: "other batches that went in; all of one where no volume is said", Example: "26-03 400 ml, 26-04", Kind: PartsKey},
			{Name: "spirit_part", Holds: "strained spirit that went in: a volume, or a number of parts", Example: "610 ml", Kind: AmountKey},
			{Name: "decoction_part", Holds: "decoction that went in: a volume, or a number of parts", Example: "500 ml", Kind: AmountKey},
			{Name: "volume", Holds: "what it made, measured", Example: "1090 ml", Kind: VolumeKey},
			{Name: "abv_percent", Holds: "its measured strength, % by volume at 20 °C", Example: "24", Kind: NumberKey, most: 100},
		}, stepKeys("the liquid when it was measured")),
	},
	make: func() readable { return &Blended{ABV: NotSaid} },
}

// Blended mixes the liquids of a batch, or of several into one.
type Blended struct {
	Batch                 string
	From                  []Part
	SpiritPart, Decoction Quantity // ml, or pieces: parts
	Volume                Quantity // ml
	ABV                   float64  // % by volume
	Step
}

// Part is liquid of one batch that went into another.
type Part struct {
	Batch  string   // as written; "" of no batch that is named
	Volume Quantity // ml; Text "" all that was left
}

// Blending is one mixing of a batch.
type Blending struct {
	On                When
	From              []Part
	Spirit, Decoction Quantity
	ML                float64 // that it made; 0 not measured
	ABV               float64 // % by volume; 0 not measured
	Step              Step
	Entry             *Entry
}

// BlendedInto is liquid that left a batch for another one.
type BlendedInto struct {
	On    When
	Batch string
	ML    float64 // 0 not said: all that was left
	Entry *Entry
}

// Kind is "blended".
func (x *Blended) Kind() string { return blendedKind.Name }

func (x *Blended) fields() []any {
	return append([]any{&x.Batch, &x.From, &x.SpiritPart, &x.Decoction, &x.Volume, &x.ABV}, x.Step.fields()...)
}

// Apply notes it on the batch, and on those it was made of. A lot that nobody
// has begun begins here, where it is made of others.
func (x *Blended) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	b := s.batch(x.Batch)
	sources, problems := x.sources(s, e)
	switch {
	case b != nil:
		b.touch(e)
	case len(sources) == 0:
		_, unknown := s.batchOf(x.Batch, e)
		return append(problems, unknown...)
	default:
		b = s.begunOf(x.Batch, sources, e)
	}
	problems = append(problems, x.odd(b, sources, e)...)
	emptied := map[*Batch]bool{}
	for _, p := range x.From {
		if o := s.batch(p.Batch); o != nil && o != b && !emptied[o] {
			emptied[o] = p.Volume.Text == "" // there is nothing more to take
			b.carry(o, p)
			problems = append(problems, o.pour(p, b.Lot, e)...)
		}
	}
	b.Blended = spanningOr(b.Blended, e.On)
	b.Blendings = append(b.Blendings, Blending{On: e.On, From: x.From, Spirit: x.SpiritPart, Decoction: x.Decoction, ML: x.Volume.Mid(), ABV: max(0, x.ABV), Step: x.Step, Entry: e})
	b.went(x.Step, e)
	if x.Volume.High > 0 {
		b.BlendedML = x.Volume.Mid()
		b.intoBefore, b.discardsBefore = len(b.Into), len(b.Discards)
	}
	if x.ABV >= 0 {
		b.ABV = x.ABV
	}
	return problems
}

// sources are the other batches that it is made of, as far as they are known.
func (x *Blended) sources(s *State, e *Entry) (out []*Batch, problems []Problem) {
	twice := map[*Batch]bool{}
	for _, p := range x.From {
		if o := s.batch(p.Batch); o != nil && slices.Contains(out, o) && !twice[o] {
			twice[o] = true
			problems = append(problems, e.odd("from", fmt.Sprintf("batch %s stands in it twice", o.Lot), "name it once, with all that went in of it"))
		}
		switch o := s.batch(p.Batch); {
		case p.Batch == "" || folded(p.Batch) == folded(x.Batch): // its own liquid
		case o == nil:
			problems = append(problems, e.odd("from", fmt.Sprintf("no batch is called %s", shown(p.Batch)), s.batchRemedy(p.Batch)))
		case !slices.Contains(out, o):
			out = append(out, o)
		}
	}
	return out, problems
}

// begunOf begins a batch that is made of others: it never stood in a jar.
func (s *State) begunOf(lot string, sources []*Batch, e *Entry) *Batch {
	b := &Batch{Lot: lot, Recipe: sources[0].Recipe, On: e.On, Strained: e.On, Decocted: e.On, Made: true}
	for _, o := range sources {
		if o.Recipe != b.Recipe || len(o.Others) > 0 {
			b.Recipe = ""
		}
	}
	for _, o := range sources {
		b.SpiritABV = max(b.SpiritABV, o.SpiritABV)
	}
	b.touch(e)
	s.Batches = append(s.Batches, b)
	return b
}

// odd points at what cannot be: liquids contract when they are mixed, and a
// blend is never stronger than the spirit in it.
func (x *Blended) odd(b *Batch, sources []*Batch, e *Entry) (problems []Problem) {
	say := func(is bool, key, text, remedy string) {
		if is {
			problems = append(problems, e.odd(key, text, remedy))
		}
	}
	spirit, decoction := x.SpiritPart, x.Decoction
	say(spirit.Unit == Millilitre && b.StrainedML > 0 && spirit.Low > b.StrainedML, "spirit_part",
		fmt.Sprintf("%s of strained spirit went into batch %s, and %.0f ml were strained", spirit.Text, b.Lot, b.StrainedML), "look at both volumes")
	say(decoction.Unit == Millilitre && b.DecoctionML > 0 && decoction.Low > b.DecoctionML, "decoction_part",
		fmt.Sprintf("%s of decoction went into batch %s, and %.0f ml were made", decoction.Text, b.Lot, b.DecoctionML), "look at both volumes")
	for _, part := range []struct {
		key string
		q   Quantity
	}{{"spirit_part", spirit}, {"decoction_part", decoction}} {
		liquid := part.q.Unit == Millilitre || part.q.Unit == Kilogram || part.q.Unit == Piece
		say(!liquid, part.key, part.q.Text+" is no amount of liquid", `write "500 ml", or a number of parts`)
	}
	parts, all := x.partsML(b)
	say(all && x.Volume.Low > parts, "volume", fmt.Sprintf("%s came of %.0f ml, and liquids never grow when they are mixed", x.Volume.Text, parts),
		"look at all volumes; water that was poured in is part of the decoction")
	strongest := b.SpiritABV
	for _, o := range sources {
		strongest = max(strongest, o.SpiritABV, o.ABV)
	}
	say(strongest > 0 && x.ABV > strongest, "abv_percent", fmt.Sprintf("batch %s has %s %% by volume, and its spirit had %s %%", b.Lot, decimal(x.ABV), decimal(strongest)),
		"look at both, and at the temperature when you measured")
	say(b.Ended == EndBottled, "batch", fmt.Sprintf("batch %s is in its bottles already, since %s", b.Lot, b.Bottled), "look at the lot and the day")
	return problems
}

// Carried is dried goods that came into a batch with the liquid of another.
type Carried struct {
	Taken          // by the share of the liquid that went over; 0 g where that is not known
	Batch   string // from which it came
	Counted bool   // how much is known
}

// carry notes the recipes and the goods that come with a part of another
// batch.
func (b *Batch) carry(o *Batch, p Part) {
	for _, name := range append([]string{o.Recipe}, o.Others...) {
		if name != "" && name != b.Recipe && !slices.Contains(b.Others, name) {
			b.Others = append(b.Others, name)
		}
	}
	share, known := o.share(p)
	if len(o.Ingredients)+len(o.Carried) == 0 { // nobody wrote what went in
		b.carried(Carried{Batch: o.Lot})
	}
	for _, in := range o.Ingredients {
		in.Grams *= share
		b.carried(Carried{in, o.Lot, known})
	}
	for _, in := range o.Carried {
		in.Grams *= share
		b.carried(Carried{in.Taken, o.Lot, known && in.Counted})
	}
}

// carried adds goods to those of the same lot that came from the same batch
// already: blends of blends would otherwise double their list with every step.
func (b *Batch) carried(c Carried) {
	for i := range b.Carried {
		if is := &b.Carried[i]; is.Species == c.Species && is.Lot == c.Lot && is.Batch == c.Batch {
			is.Grams += c.Grams
			is.Counted = is.Counted && c.Counted
			return
		}
	}
	b.Carried = append(b.Carried, c)
}

// share is what part of all the liquid that a batch ever had goes over.
func (b *Batch) share(p Part) (share float64, known bool) {
	left := b.LiquidML()
	gone, counted := b.GoneML()
	switch {
	case !counted:
		return 0, false
	case p.Volume.Text == "" && gone == 0:
		return 1, true
	case p.Volume.Text == "" && left > 0:
		return left / (left + gone), true
	case left > 0 && p.Volume.Text != "":
		return min(p.Volume.Mid(), left) / (left + gone), true
	}
	return 0, false
}

// Named is the recipe of a batch in words; of one that is blended of batches of
// several recipes, the names of all.
func (b *Batch) Named() string {
	var names []string
	for _, name := range append([]string{b.Recipe}, b.Others...) {
		if name != "" {
			names = append(names, name)
		}
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// GoodsG is the dried goods in a batch, g, those included that came with the
// liquid of other batches; known says whether that is all of them.
func (b *Batch) GoodsG() (g float64, known bool) {
	known = true
	for _, in := range b.Carried {
		g += in.Grams
		known = known && in.Counted
	}
	return g + b.dryGrams(), known
}

// Species names the mushrooms in a batch, each once, those included that came
// with the liquid of other batches.
func (b *Batch) Species() (names []string) {
	add := func(name string) {
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, in := range b.Ingredients {
		add(in.Species)
	}
	for _, in := range b.Carried {
		add(in.Species)
	}
	return names
}

// partsML adds up what went in; all is whether every part is said as a
// volume, and what it becomes is theirs alone. A part left blank is not nothing
// where there is such a liquid.
func (x *Blended) partsML(b *Batch) (ml float64, all bool) {
	own := x.SpiritPart.Text != "" || x.Decoction.Text != ""
	all = own || b.Made
	for _, q := range []Quantity{x.SpiritPart, x.Decoction} {
		ml += q.High
		all = all && (q.Text == "" || q.Unit == Millilitre)
	}
	for _, p := range x.From {
		ml += p.Volume.High
		all = all && p.Volume.Text != ""
	}
	if own && !b.Made {
		all = all && (x.SpiritPart.Text != "" || b.Strained.IsZero() && b.SpiritML == 0) && (x.Decoction.Text != "" || b.Decocted.IsZero())
	}
	return ml, all && ml > 0 && len(b.Blendings) == 0
}

// pour takes liquid out of a batch for another; where no volume is said it is
// all that was left, and the batch ends.
func (b *Batch) pour(p Part, into string, e *Entry) (problems []Problem) {
	had := b.LiquidML()
	if n := b.JarsStanding(); n > 0 && b.Bottled.IsZero() && p.Volume.Text == "" {
		problems = append(problems, e.odd("from", fmt.Sprintf("all of batch %s went into %s, and %d of its jars are not strained", b.Lot, into, n), "record the straining with [[strained]]"))
	}
	if had > 0 && p.Volume.Low > had {
		problems = append(problems, e.odd("from", fmt.Sprintf("%s of batch %s went into %s, and there were %.0f ml", p.Volume.Text, b.Lot, into, had), "look at the volume and its unit"))
	}
	b.Entries = append(b.Entries, e)
	b.Into = append(b.Into, BlendedInto{On: e.On, Batch: into, ML: p.Volume.Mid(), Entry: e})
	if p.Volume.Text == "" && b.Bottled.IsZero() {
		b.end(EndBlended, e)
	}
	return problems
}

// LiquidML is what is left of a batch as liquid out of its jars, ml, as far as
// it was measured: what it was blended to, else what was strained and
// decocted, less what went into other batches or to waste. 0 is not known.
func (b *Batch) LiquidML() float64 {
	ml := b.BlendedML
	if ml == 0 {
		ml = b.StrainedML + b.DecoctionML
	}
	gone, _ := b.GoneML()
	return max(0, ml-gone)
}

// GoneML is what of the liquid of a batch went into other batches or to waste
// since its volume was measured, ml; known is false where some of it was not
// measured. What the blending left over and was thrown away is none of it.
func (b *Batch) GoneML() (ml float64, known bool) {
	known = true
	for _, o := range b.Into[min(b.intoBefore, len(b.Into)):] {
		ml, known = ml+o.ML, known && o.ML > 0
	}
	for _, k := range b.Discards[min(b.discardsBefore, len(b.Discards)):] {
		if k.Jars == 0 && (k.Of == "" || len(b.Blendings) == 0) {
			ml, known = ml+k.ML, known && k.ML > 0
		}
	}
	return ml, known
}

// LeftOver is what the blending left of the strained spirit and of the
// decoction, ml; 0 where nothing was left or it is not known.
func (b *Batch) LeftOver() (spirit, decoction float64) {
	took := func(of func(Blending) Quantity, had float64) float64 {
		used, said := 0.0, false
		for _, k := range b.Blendings {
			if q := of(k); q.Unit == Millilitre && q.Text != "" {
				used, said = used+q.Mid(), true
			}
		}
		if !said || had == 0 {
			return 0
		}
		return max(0, had-used)
	}
	spirit, decoction = took(func(k Blending) Quantity { return k.Spirit }, b.StrainedML), took(func(k Blending) Quantity { return k.Decoction }, b.DecoctionML)
	for _, k := range b.Discards {
		switch k.Of {
		case "spirit":
			spirit = max(0, spirit-k.ML)
		case "decoction":
			decoction = max(0, decoction-k.ML)
		}
	}
	return spirit, decoction
}

const partRemedy = `write from = [{batch = "26-03", volume = "400 ml"}], or just the lots: from = ["26-03", "26-04"]`

// partsOf reads lots, or rows of lot and volume.
func (t *table) partsOf(v any, to *[]Part) error {
	list, ok := v.([]any)
	if !ok {
		list = []any{v}
	}
	if rows, ok := v.([]map[string]any); ok {
		list = nil
		for _, row := range rows {
			list = append(list, row)
		}
	}
	var out []Part
	for _, x := range list {
		switch x := x.(type) {
		case string:
			out = append(out, t.partSaid(x))
		case int64:
			out = append(out, Part{Batch: fmt.Sprint(x)})
		case map[string]any:
			p, err := t.part(x)
			if err != nil {
				return err
			}
			out = append(out, p)
		default:
			return mistake{shownValue(x) + " is no batch", partRemedy}
		}
	}
	*to = slices.DeleteFunc(out, func(p Part) bool { return p.Batch == "" && p.Volume.Text == "" })
	return nil
}

func (t *table) part(row map[string]any) (p Part, err error) {
	for _, k := range slices.Sorted(maps.Keys(row)) {
		s, isText := row[k].(string)
		switch {
		case k != "batch" && k != "volume":
			return p, mistake{clippedName(k) + " is no key of a part", partRemedy}
		case k == "volume" && !isText:
			return p, mistake{shownValue(row[k]) + " has no unit", fmt.Sprintf(`write volume = "%s ml"`, shownValue(row[k]))}
		case k == "volume":
			if p.Volume, err = ParseQuantity(s, Millilitre, t.terms.Measures); err != nil {
				return p, err
			}
		case isText:
			p.Batch = strings.TrimSpace(s)
		default:
			n, isNumber := row[k].(int64)
			if !isNumber {
				return p, mistake{shownValue(row[k]) + " is no batch", partRemedy}
			}
			p.Batch = fmt.Sprint(n)
		}
	}
	return p, nil
}

// partSaid reads "26-03 400 ml", a lot alone, or a volume alone.
func (t *table) partSaid(s string) Part {
	batch, volume := partWords(s, t.terms.Measures)
	p := Part{Batch: batch}
	if volume != "" {
		p.Volume, _ = ParseQuantity(volume, Millilitre, t.terms.Measures)
	}
	return p
}

// partWords parts a lot from the volume behind it.
func partWords(s string, measures map[string]Quantity) (batch, volume string) {
	words := strings.Fields(s)
	for i := range words {
		rest := strings.Join(words[i:], " ")
		if _, err := ParseQuantity(rest, Millilitre, measures); err == nil {
			return strings.Join(words[:i], " "), rest
		}
	}
	return strings.Join(words, " "), ""
}

// partsLiteral reads "26-03 400 ml, 26-04" as it was typed.
func partsLiteral(s string) (string, error) {
	if strings.HasPrefix(s, "[") {
		return oneLine(s)
	}
	var rows []string
	for _, part := range splitForm.Split(s, -1) {
		batch, volume := partWords(part, nil)
		var keys []string
		if batch != "" {
			keys = append(keys, "batch = "+quote(batch))
		}
		if volume != "" {
			keys = append(keys, "volume = "+quote(volume))
		}
		if len(keys) > 0 {
			rows = append(rows, "{"+strings.Join(keys, ", ")+"}")
		}
	}
	return "[" + strings.Join(rows, ", ") + "]", nil
}

// said is a part in words: "26-03 400 ml".
func (p Part) said() string { return strings.TrimSpace(p.Batch + " " + p.Volume.Text) }
