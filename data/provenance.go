package data

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// Provenance is one line of the listing of where the numbers come from.
type Provenance struct {
	Where   string // "species shiitake, strain wide-range, growth, t_min_c"
	Value   string // "3", "0.09 / 0.2 / 0.3", "gravity 0.6, moisture 68.3, …"
	Quality Quality
	Source  string // the citation; of a judgement, what guided it
	Note    string
}

// Provenance lists every value with its source, in the order species, woods,
// stations, regions, practice, inoculating, recipes.
func (s *Set) Provenance() []Provenance {
	var all []Provenance
	each := func(v sourced) {
		all = append(all, Provenance{v.Where(), v.text(), *v.quality, *v.source, v.note()})
	}
	for _, part := range []any{s.Species, s.Woods, s.Stations, s.Regions, &s.Practice, &s.Inoculating, s.Recipes} {
		walk(part, each)
	}
	return all
}

// text writes the value: numbers and ranges bare, of a group each key with
// its value.
func (v sourced) text() string {
	switch x := v.value.Addr().Interface().(type) {
	case *Number:
		return short(x.Value)
	case *Range:
		return short(x.Low) + " / " + short(x.Typical) + " / " + short(x.High)
	case *Saying:
		return x.Says
	case *TradeWindow:
		return x.Says
	case *Rest:
		return x.Says
	}
	var parts []string
	for _, i := range v.fields {
		if f := v.value.Field(i); !f.IsZero() || v.value.Type() == reflect.TypeFor[Region]() {
			parts = append(parts, tomlKey(v.value.Type().Field(i))+" "+scalar(f))
		}
	}
	return strings.Join(parts, ", ")
}

// note is the note beside the value, with the basis of a range before it.
func (v sourced) note() string {
	var parts []string
	for _, name := range []string{"Basis", "Note"} {
		if f := v.value.FieldByName(name); f.IsValid() && f.String() != "" {
			parts = append(parts, f.String())
		}
	}
	if f := v.value.FieldByName("Judged"); f.IsValid() && f.Len() > 0 {
		parts = append(parts, "our judgement: "+strings.Join(f.Interface().([]string), ", "))
	}
	return strings.Join(parts, "; ")
}

func scalar(f reflect.Value) string {
	switch x := f.Interface().(type) {
	case float64:
		return short(x)
	case []float64:
		parts := make([]string, len(x))
		for i := range x {
			parts[i] = short(x[i])
		}
		return strings.Join(parts, " ")
	case []string:
		return strings.Join(x, ", ")
	default:
		return fmt.Sprint(x)
	}
}

func short(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
