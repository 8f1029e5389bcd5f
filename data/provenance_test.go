package data

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Goes through the types by itself, not by walk: below every number stands a
// quality that is known and a citation of the list.
func TestEveryValueHasQualityAndSource(t *testing.T) {
	s := loaded(t)
	var citations []string
	for _, c := range s.Sources {
		citations = append(citations, c)
	}
	seen := 0
	var look func(v reflect.Value, where string, founded bool)
	look = func(v reflect.Value, where string, founded bool) {
		switch v.Kind() {
		case reflect.Slice:
			for i := range v.Len() {
				look(v.Index(i), where, founded)
			}
		case reflect.Map:
			for _, k := range v.MapKeys() {
				look(v.MapIndex(k), where+"."+k.String(), founded)
			}
		case reflect.Float64:
			if seen++; !founded {
				t.Errorf("%s: a number without a source", where)
			}
		case reflect.Struct:
			if v.IsZero() {
				return
			}
			q, src := v.FieldByName("Quality"), v.FieldByName("Source")
			if q.IsValid() && src.IsValid() {
				founded = true
				if !Quality(q.String()).Known() || !slices.Contains(citations, src.String()) {
					t.Errorf("%s: quality %q, source %q", where, q, src)
				}
			}
			for i := range v.NumField() {
				f := v.Type().Field(i)
				if !f.IsExported() || f.Type == reflect.TypeFor[Requirement]() {
					continue
				}
				weights := f.Name == "YearWeights" && slices.Contains(citations, v.FieldByName("YearSource").String())
				look(v.Field(i), where+"."+f.Name, founded && v.Type() != reflect.TypeFor[Fruit]() || weights)
			}
		}
	}
	look(reflect.ValueOf(*s), "set", false)
	if seen < 1000 {
		t.Errorf("only %d numbers seen", seen)
	}
}

func TestProvenanceListsEverything(t *testing.T) {
	s := loaded(t)
	all := s.Provenance()
	find := func(where string) Provenance {
		i := slices.IndexFunc(all, func(p Provenance) bool { return p.Where == where })
		if i < 0 {
			t.Fatalf("nothing listed at %q", where)
		}
		return all[i]
	}
	got := find("species shiitake, strain wide-range, growth, t_opt_c")
	want := Provenance{"species shiitake, strain wide-range, growth, t_opt_c", "24.5", Read,
		"Japanese prefectural manual on shiitake log cultivation, chapters 1-3", "24 to 25; 22 to 25 in Ohio State F-0041"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if p := find("wood white oak"); !strings.Contains(p.Value, "gravity 0.6, moisture 68.26667") || p.Quality != Read {
		t.Errorf("white oak: %+v", p)
	}
	if p := find("region british-isles"); !strings.Contains(p.Value, "mean_wet_sd 0") || !strings.Contains(p.Note, "our judgement: range_cv") {
		t.Errorf("british-isles: %+v", p)
	}
	if p := find("practice, marc_ml_per_g, hand"); p.Value != "1.56 / 1.7 / 1.83" {
		t.Errorf("marc: %+v", p)
	}
	if p := find("species shiitake, strain wide-range, yield, year"); !strings.HasPrefix(p.Value, "year_weights 0.166667") {
		t.Errorf("year weights: %+v", p)
	}
	for _, p := range all {
		if p.Value == "" || p.Source == "" || !p.Quality.Known() {
			t.Errorf("incomplete: %+v", p)
		}
	}
	if diff := cmp.Diff(all, s.Provenance()); diff != "" {
		t.Errorf("listing changed the set: %s", diff)
	}
}

// What is not read or derived says so in words.
func TestQualitySays(t *testing.T) {
	for q, want := range map[Quality]string{
		Read: "", Derived: "", SecondHand: "second-hand", FromMemory: "from memory, not checked",
		Judgement: "our judgement, no published source", Practised: "common practice, no source",
	} {
		if q.Says() != want || !q.Known() {
			t.Errorf("%q says %q, want %q", q, q.Says(), want)
		}
	}
	if Quality("sure").Known() {
		t.Error("an unknown quality is known")
	}
}

// A value that nobody published must not name a publication as if it were
// read there: "from memory" and "common practice" carry keys that say so, or
// a citation that does.
func TestMemoryAndPracticeSaySo(t *testing.T) {
	for _, p := range loaded(t).Provenance() {
		if p.Quality == FromMemory && !strings.Contains(p.Source, "from memory") {
			t.Errorf("%s: from memory, but the source is %q", p.Where, p.Source)
		}
		if p.Quality == Practised && !strings.Contains(p.Source, "no source") {
			t.Errorf("%s: common practice, but the source is %q", p.Where, p.Source)
		}
		if strings.Contains(p.Source, "our own judgement") && p.Quality != Judgement {
			t.Errorf("%s: our judgement, but the quality is %q", p.Where, p.Quality)
		}
	}
}
