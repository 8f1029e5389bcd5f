package yard

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/data"
)

var bottledKind = kind{
	KindInfo: KindInfo{
		Name: "bottled", Says: "a batch is in its bottles",
		Example: `bottled 26-03 bottles="10 x 100 ml"`,
		Keys: slices.Concat([]Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "bottles", Holds: "how many of which size", Example: "10 x 100 ml", Kind: BottlesKey, Required: true},
			{Name: "kept_back", Holds: "kept back as a sample", Example: "50 ml", Kind: VolumeKey},
			{Name: "where", Holds: "where the bottles stand", Example: "dark cupboard", Kind: TextKey},
			{Name: "closed", Holds: "with what they are closed", Example: "pipette caps", Kind: TextKey},
		}, stepKeys("the liquid")),
	},
	make: func() readable { return &Bottled{} },
}

// Bottled ends a batch.
type Bottled struct {
	Batch    string
	Bottles  []BottleCount
	KeptBack Quantity // ml
	Where    string   // the bottles stand
	Closed   string   // with what
	Step
}

// Kind is "bottled".
func (b *Bottled) Kind() string { return bottledKind.Name }

func (b *Bottled) fields() []any {
	return append([]any{&b.Batch, &b.Bottles, &b.KeptBack, &b.Where, &b.Closed}, b.Step.fields()...)
}

// Apply ends the batch and puts its bottles on the shelf; those of a batch
// that is not known, too.
func (b *Bottled) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	batch, unknown := s.batchOf(b.Batch, e)
	if batch == nil {
		s.shelve(BottleStock{Lot: b.Batch, Bottles: sized(b.Bottles, nil)}, e)
		return unknown
	}
	batch.touch(e)
	r := s.recipe(batch.Recipe)
	bottles := sized(b.Bottles, r)
	problems := ofWhichSize(bottles, r, e)
	if batch.Ended == EndDiscarded {
		problems = append(problems, e.odd("batch", fmt.Sprintf("batch %s was discarded, on %s", batch.Lot, batch.Bottled), "look at the lot"))
	}
	batch.end(EndBottled, e)
	batch.Bottles = append(batch.Bottles, bottles...)
	batch.Bottlings = append(batch.Bottlings, Bottling{On: e.On, Bottles: bottles, KeptBackML: b.KeptBack.Mid(), Where: b.Where, Closed: b.Closed, Step: b.Step, Entry: e})
	batch.went(b.Step, e)
	batch.KeptBackML += b.KeptBack.Mid()
	s.shelve(BottleStock{Recipe: batch.Named(), Lot: batch.Lot, Bottles: bottles}, e)
	return append(problems, tooMuch(batch, e)...)
}

func spanningOr(a, b When) When {
	if a.IsZero() {
		return b
	}
	return spanning(a, b)
}

func (s *State) batchRemedy(lot string) string {
	names := make([]string, len(s.Batches))
	for i, b := range s.Batches {
		names[i] = b.Lot
	}
	if near, ok := data.Nearest(lot, names); ok {
		return fmt.Sprintf("did you mean %s?", near)
	}
	return "record when it was begun with [[macerated]]"
}

// mostOfSpirit is how many times the spirit that went in can come out as
// bottles, decoction and water included, before it is pointed at: our
// judgement, well above one to one.
const mostOfSpirit = 5

func tooMuch(b *Batch, e *Entry) []Problem {
	ml, _ := b.FilledML()
	if b.SpiritML > 0 && ml > mostOfSpirit*b.SpiritML {
		return []Problem{e.odd("bottles", fmt.Sprintf("%.0f ml in bottles came of %.0f ml of spirit", ml, b.SpiritML), "look at the number and the size of the bottles")}
	}
	return nil
}

// sized gives bottles without a size that of the recipe, where it fills only
// one.
func sized(bottles []BottleCount, r *Recipe) []BottleCount {
	out := make([]BottleCount, len(bottles))
	for i, b := range bottles {
		if b.SizeML == 0 && r != nil && len(r.BottleSizes()) == 1 {
			b.SizeML = r.BottleML
		}
		out[i] = b
	}
	return out
}

// ofWhichSize points at bottles of which nobody can tell how large they are.
func ofWhichSize(bottles []BottleCount, r *Recipe, e *Entry) []Problem {
	if r == nil || len(r.Bottles) < 2 || !slices.ContainsFunc(bottles, func(b BottleCount) bool { return b.SizeML == 0 && b.Count > 0 }) {
		return nil
	}
	var sizes []string
	for _, b := range r.Bottles {
		sizes = append(sizes, decimal(b.ML)+" ml")
	}
	return []Problem{e.odd("bottles", fmt.Sprintf("recipe %s fills bottles of %s, and of which size these are is not said", r.Name, strings.Join(sizes, " and ")),
		"correct the entry with how many of each, such as bottles=\"7 x "+sizes[0]+", 5 x "+sizes[1]+"\"")}
}

// bottlesOf reads a number of bottles, or a list of {size, count}.
func (t *table) bottlesOf(v any, to *[]BottleCount) error {
	const remedy = `write bottles = [{size = "100 ml", count = 10}], or just the number`
	if n, ok := v.(int64); ok {
		count, err := countOf(n)
		*to = []BottleCount{{Count: count}}
		return err
	}
	rows, err := rowsOf(v, remedy)
	if err != nil {
		return err
	}
	out := make([]BottleCount, 0, len(rows))
	for _, row := range rows {
		b, err := t.bottle(row, remedy)
		if err != nil {
			return err
		}
		out = append(out, b)
	}
	*to = out
	return nil
}

func (t *table) bottle(row map[string]any, remedy string) (b BottleCount, err error) {
	counted := false
	for _, k := range slices.Sorted(maps.Keys(row)) {
		v := row[k]
		switch k {
		case "size":
			s, ok := v.(string)
			if !ok {
				return b, mistake{shownValue(v) + " has no unit", fmt.Sprintf(`write size = "%s ml"`, shownValue(v))}
			}
			q, err := ParseQuantity(s, Millilitre, t.terms.Measures)
			if err != nil {
				return b, err
			}
			b.SizeML = q.Mid()
		case "count":
			if b.Count, err = countOf(v); err != nil {
				return b, err
			}
			counted = true
		default:
			return b, mistake{clippedName(k) + " is no key of bottles", remedy}
		}
	}
	if !counted {
		return b, mistake{"the number of bottles is missing", remedy}
	}
	return b, nil
}
