package data

import (
	"maps"
	"reflect"
	"slices"
	"strings"
)

// sourced is one value or group of values that has a quality and a source of
// its own, found by walk.
type sourced struct {
	where   []string      // the way to it, e.g. shiitake, strain wide-range, growth, t_min_c
	value   reflect.Value // the struct
	quality *Quality
	source  *string
	// fields are the keys of the struct that the quality speaks of.
	fields []int
}

// Where names the place in words.
func (s sourced) Where() string { return strings.Join(s.where, ", ") }

// walk visits every value below v that has a quality and a source, in the
// order of the types in data.go. A number or range that was left out
// altogether is not visited.
func walk(v any, visit func(sourced)) { walkValue(reflect.ValueOf(v), nil, visit) }

func walkValue(v reflect.Value, where []string, visit func(sourced)) {
	switch v.Kind() {
	case reflect.Pointer:
		walkValue(v.Elem(), where, visit)
	case reflect.Slice:
		for i := range v.Len() {
			walkValue(v.Index(i), where, visit)
		}
	case reflect.Map:
		walkMap(v, where, visit)
	case reflect.Struct:
		walkStruct(v, where, visit)
	}
}

// walkMap visits copies of the map's values, because a map's values cannot be
// changed in place, and puts back what was changed.
func walkMap(v reflect.Value, where []string, visit func(sourced)) {
	if v.Type().Key().Kind() != reflect.String || v.Type().Elem().Kind() != reflect.Struct {
		return
	}
	keys := map[string]reflect.Value{}
	for _, k := range v.MapKeys() {
		keys[k.String()] = k
	}
	for _, name := range slices.Sorted(maps.Keys(keys)) {
		elem := reflect.New(v.Type().Elem()).Elem()
		elem.Set(v.MapIndex(keys[name]))
		walkStruct(elem, with(where, name), visit)
		if !elem.Equal(v.MapIndex(keys[name])) {
			v.SetMapIndex(keys[name], elem)
		}
	}
}

func walkStruct(v reflect.Value, where []string, visit func(sourced)) {
	if v.IsZero() || !v.CanSet() {
		return
	}
	if own := label(v); own != "" {
		where = with(where, own)
	}
	found := sourcedOf(v)
	for _, s := range found {
		s.where = with(where, s.where...)
		visit(s)
	}
	for i := range v.NumField() {
		field, key := v.Field(i), tomlKey(v.Type().Field(i))
		switch {
		case key == "-":
		case field.Kind() == reflect.Struct || field.Kind() == reflect.Map:
			walkValue(field, with(where, key), visit)
		case field.Kind() == reflect.Slice || field.Kind() == reflect.Pointer:
			walkValue(field, where, visit)
		}
	}
}

// sourcedOf finds the quality and the source of a struct: its own pair, and
// pairs for part of it such as year_quality and year_source, which speak of
// the fields whose keys begin alike.
func sourcedOf(v reflect.Value) []sourced {
	var found []sourced
	for i := range v.NumField() {
		prefix, isQuality := strings.CutSuffix(v.Type().Field(i).Name, "Quality")
		source := v.FieldByName(prefix + "Source")
		if !isQuality || !source.IsValid() {
			continue
		}
		s := sourced{
			value:   v,
			quality: v.Field(i).Addr().Interface().(*Quality),
			source:  source.Addr().Interface().(*string),
		}
		if prefix != "" {
			s.where = []string{strings.ToLower(prefix)}
		}
		s.fields = plainFields(v.Type(), prefix)
		found = append(found, s)
	}
	return found
}

// besides are the keys that say something about a value and are none.
var besides = []string{
	"-", "quality", "source", "note", "licence", "key", "name", "aliases", "judged", "basis",
}

// plainFields lists the fields of a struct that hold values themselves and
// whose names begin with prefix.
func plainFields(t reflect.Type, prefix string) []int {
	var out []int
	for i := range t.NumField() {
		f := t.Field(i)
		rest, ours := strings.CutPrefix(f.Name, prefix)
		nested := f.Type.Kind() == reflect.Struct || f.Type.Kind() == reflect.Map
		if nested || !ours || slices.Contains(besides, tomlKey(f)) || rest == "Quality" || rest == "Source" {
			continue
		}
		out = append(out, i)
	}
	return out
}

// label names an item of a list by its kind and name, or by its kind alone
// where items have no name; "" for the only strain of a species.
func label(v reflect.Value) string {
	switch x := v.Addr().Interface().(type) {
	case *Species:
		return "species " + x.Name
	case *Strain:
		if x.Name == "" {
			return ""
		}
		return "strain " + x.Name
	case *Wood:
		return "wood " + x.Name
	case *Station:
		return "station " + x.Key
	case *Region:
		return "region " + x.Key
	case *Practice:
		return "practice"
	case *Inoculating:
		return "inoculating"
	case *SpawnForm:
		return "form " + x.Name
	case *Budget:
		return "budget of " + x.Name
	case *Rest:
		return "rest"
	case *Warmth:
		if x.Species+x.Method == "" {
			return "warmth"
		}
		return "warmth for " + x.Species + x.Method
	case *Recipe:
		return "recipe " + x.Name
	case *TradeWindow:
		return x.Name
	case *WoodYield:
		return "on " + strings.Join(x.Woods, ", ")
	case *Suit:
		return "woods"
	}
	return ""
}

// tomlKey is the key of a field, "-" where it has none.
func tomlKey(f reflect.StructField) string {
	if key := f.Tag.Get("toml"); key != "" {
		return key
	}
	return "-"
}

func with(where []string, more ...string) []string { return append(slices.Clip(where), more...) }
