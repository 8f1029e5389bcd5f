package yard

import (
	"reflect"
	"strings"
	"testing"
)

// examples are values for every key of a kind that can stand together.
func examples(k KindInfo) map[string]string {
	v := map[string]string{}
	for _, key := range k.Keys {
		v[key.Name] = key.Example
	}
	switch k.Name {
	case "counted":
		for _, name := range []string{"form", "dry", "lot", "recipe", "bottles"} {
			delete(v, name)
		}
	case "planned":
		for _, name := range []string{"soak", "part", "week"} {
			delete(v, name)
		}
	case "corrected":
		delete(v, "kind")
	}
	return v
}

// otherExamples are values of a kind that says one of two things, for the one
// that examples leaves out.
func otherExamples(k KindInfo) map[string]string {
	v := map[string]string{}
	for _, key := range k.Keys {
		v[key.Name] = key.Example
	}
	switch k.Name {
	case "planned":
		for _, name := range []string{"pile", "species", "logs", "month", "strain", "wood", "diameter", "length", "spawn", "spawn_lot", "method"} {
			delete(v, name)
		}
		return v
	}
	return nil
}

// Every kind binds each of its own keys, in order, to a variable into which
// the key's example can be read.
func TestKindsAreWhole(t *testing.T) {
	for _, k := range kinds {
		fields := k.make().fields()
		for i, key := range k.Keys {
			if i < len(fields) == key.Common {
				t.Errorf("%s: key %s and its variable do not stand at the same place", k.Name, key.Name)
			}
			if key.Holds == "" || key.Example == "" {
				t.Errorf("%s: key %s is not described", k.Name, key.Name)
			}
		}
		if k.Says == "" || !strings.HasPrefix(k.Example, k.Name) {
			t.Errorf("%s is not described", k.Name)
		}
		if got := k.make().Kind(); got != k.Name {
			t.Errorf("%s calls itself %s", k.Name, got)
		}
	}
}

// Each key, changed alone, changes the event or the entry: none is read and
// forgotten.
func TestEveryKeyIsRead(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for _, k := range Kinds() {
		if k.Name == "corrected" {
			continue // TestCorrected
		}
		for _, all := range []map[string]string{examples(k), otherExamples(k)} {
			eachKeyIsRead(t, k, all, terms)
		}
	}
}

func eachKeyIsRead(t *testing.T, k KindInfo, all map[string]string, terms Terms) {
	t.Helper()
	for name := range all {
		read := func(v map[string]string) *Entry {
			text, problems := Compose(k.Name, v, terms)
			if text == "" {
				return nil
			}
			entries, _ := readText(text, &terms)
			if len(problems) > 0 {
				t.Errorf("%s: %v", k.Name, problems)
			}
			e := entries[0]
			e.Text, e.ID = "", ""
			return e
		}
		without := map[string]string{}
		for n, v := range all {
			if n != name {
				without[n] = v
			}
		}
		with, less := read(all), read(without)
		if with == nil {
			t.Fatalf("%s: the examples do not make an entry", k.Name)
		}
		if less != nil && reflect.DeepEqual(with, less) {
			t.Errorf("%s: %s changes nothing", k.Name, name)
		}
	}
}

func TestRequiredKeys(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for _, k := range Kinds() {
		for _, key := range k.Keys {
			if !key.Required || key.Name == "on" {
				continue
			}
			v := examples(k)
			delete(v, key.Name)
			if text, problems := Compose(k.Name, v, terms); text != "" || !has(problems, 0, key.Name) {
				t.Errorf("%s without %s: %q, %v", k.Name, key.Name, text, problems)
			}
		}
	}
}

func TestNearestKind(t *testing.T) {
	for word, want := range map[string]string{"harvestd": "harvested", "inocculated": "inoculated", "xyzzy": ""} {
		if got := NearestKind(word); got != want {
			t.Errorf("%s: %q, want %q", word, got, want)
		}
	}
	if KeysOf("nonsense") != nil {
		t.Error("an unknown kind has keys")
	}
}

// Every kind can be corrected to, and then says what it would say by itself.
func TestEveryKindCanBeCorrectedTo(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for _, k := range Kinds() {
		if k.Name == "corrected" {
			continue
		}
		for _, v := range []map[string]string{examples(k), otherExamples(k)} {
			if v == nil {
				continue
			}
			right, problems := Compose(k.Name, v, terms)
			by := map[string]string{"replaces": "kitchen-1", "kind": k.Name}
			for name, value := range v {
				by[name] = value
			}
			text, more := Compose("corrected", by, terms)
			if right == "" || text == "" || len(problems)+len(more) > 0 {
				t.Fatalf("%s: %q\n%s%s", k.Name, text, lines(problems), lines(more))
			}
			one, _ := readText(right, &terms)
			other, _ := readText(text, &terms)
			if e := other[0].effective(); !reflect.DeepEqual(e.Event, one[0].Event) || e.Hours != one[0].Hours {
				t.Errorf("%s: corrected to %+v, want %+v", k.Name, e.Event, one[0].Event)
			}
		}
	}
}
