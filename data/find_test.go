package data

import (
	"testing"

	"pgregory.net/rapid"
)

func TestFindTakesTheGrowersWords(t *testing.T) {
	s := loaded(t)
	for word, want := range map[string]string{
		"shiitake": "shiitake", "Shii-Take": "shiitake", " SHIITAKE ": "shiitake", "Lentinula edodes": "shiitake", "Lentinula  edodes": "shiitake",
		"lion's mane": "lion's mane", "lion’s mane": "lion's mane", "lions mane": "lion's mane", "lions-mane": "lion's mane", "Lion´s Mane": "lion's mane", "hericium": "lion's mane",
		"black poplar mushroom": "piopino", "Pioppino": "piopino", "ling zhi": "reishi", "Ling-Zhi": "reishi",
		"hen of the woods": "maitake", "hen-of-the-woods": "maitake", "turkeytail": "turkey tail", "turkey_tail": "turkey tail",
		"pleurotus": "oyster", "tremella": "snow fungus", "Cordyceps militaris": "cordyceps", "chaga": "chaga",
	} {
		if sp, ok := s.FindSpecies(word); !ok || sp.Name != want {
			t.Errorf("FindSpecies(%q) = %v, %v; want %s", word, sp, ok, want)
		}
	}
	for word, want := range map[string]string{
		"oak": "oak", "Oaks": "oak", "Quercus alba": "white oak", "red oak": "northern red oak", "white oaks": "white oak group",
		"English oak": "English oak", "beech": "beech", "Fagus sylvatica": "European beech", "birch": "birch", "musclewood": "American hornbeam",
		"tulip poplar": "yellow-poplar", "yellow poplar": "yellow-poplar", "box elder": "boxelder", "willow": "willow", "Linden": "lime",
	} {
		if w, ok := s.FindWood(word); !ok || w.Name != want {
			t.Errorf("FindWood(%q) = %v, %v; want %s", word, w, ok, want)
		}
	}
	for word, want := range map[string]string{"oxford": "oxford", "Oxford": "oxford", "london": "heathrow", "New York": "new_york", "new-york": "new_york"} {
		if st, ok := s.FindStation(word); !ok || st.Key != want {
			t.Errorf("FindStation(%q) = %v, %v; want %s", word, st, ok, want)
		}
	}
	for _, word := range []string{"", " ", "'", "fly agaric", "shiitak"} {
		if sp, ok := s.FindSpecies(word); ok {
			t.Errorf("FindSpecies(%q) found %s", word, sp.Name)
		}
	}
}

func TestFindStrain(t *testing.T) {
	s := loaded(t)
	for _, c := range []struct{ species, word, want string }{
		{"shiitake", "", "wide-range"}, {"shiitake", "Wide Range", "wide-range"}, {"shiitake", "WW", "warm-weather"}, {"shiitake", "cold weather", "cold-weather"},
		{"reishi", "", "asian"}, {"reishi", "European", "european"}, {"oyster", "", ""},
	} {
		sp, _ := s.FindSpecies(c.species)
		if st, ok := sp.FindStrain(c.word); !ok || st.Name != c.want {
			t.Errorf("%s: FindStrain(%q) = %v, %v; want %q", c.species, c.word, st, ok, c.want)
		}
	}
	for _, c := range [][2]string{{"shiitake", "hot"}, {"oyster", "grey"}, {"cordyceps", ""}} {
		sp, _ := s.FindSpecies(c[0])
		if st, ok := sp.FindStrain(c[1]); ok {
			t.Errorf("%s: FindStrain(%q) found %q", c[0], c[1], st.Name)
		}
	}
}

// Every name, Latin name and alias leads to its own, with the index and
// without it.
func TestEveryNameLeadsHome(t *testing.T) {
	s := loaded(t)
	byHand := &Set{Species: s.Species, Woods: s.Woods, Stations: s.Stations}
	for _, set := range []*Set{s, byHand} {
		for i := range s.Species {
			for _, name := range s.Species[i].calls() {
				if sp, ok := set.FindSpecies(name); !ok || sp != &s.Species[i] {
					t.Errorf("species %q leads to %v", name, sp)
				}
			}
		}
		for i := range s.Woods {
			for _, name := range s.Woods[i].calls() {
				if w, ok := set.FindWood(name); !ok || w != &s.Woods[i] {
					t.Errorf("wood %q leads to %v", name, w)
				}
			}
		}
		for i := range s.Stations {
			for _, name := range s.Stations[i].calls() {
				if st, ok := set.FindStation(name); !ok || st != &s.Stations[i] {
					t.Errorf("station %q leads to %v", name, st)
				}
			}
		}
	}
}

func TestNearest(t *testing.T) {
	s := loaded(t)
	for word, want := range map[string]string{
		"shitake": "shiitake", "shittake": "shiitake", "Shiitkae": "shiitake", "lionsmane": "lion's mane", "oister": "oyster",
		"namecko": "nameko", "raishi": "reishi", "mitake": "maitake", "turky tale": "turkey tail",
	} {
		if got, ok := Nearest(word, s.SpeciesNames()); !ok || got != want {
			t.Errorf("Nearest(%q) = %q, %v; want %q", word, got, ok, want)
		}
	}
	for _, word := range []string{"", "x", "truffle", "chanterelle", "fly agaric"} {
		if got, ok := Nearest(word, s.SpeciesNames()); ok {
			t.Errorf("Nearest(%q) = %q; too far to be meant", word, got)
		}
	}
	if got, _ := Nearest("okk", []string{"oak", "elk"}); got != "oak" {
		t.Errorf("the first of equals is %q, want oak", got)
	}
}

// Distances of neighbours that changed places and of other edits, by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"ca", "abc", 3}, {"kitten", "sitting", 3}, {"ähre", "ahre", 1}} {
		if got := distance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestDistanceLaws(t *testing.T) {
	word := rapid.StringMatching(`[a-d]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := []rune(word.Draw(t, "a")), []rune(word.Draw(t, "b"))
		d := distance(a, b)
		if d != distance(b, a) {
			t.Errorf("%q, %q: not the same both ways", string(a), string(b))
		}
		if (d == 0) != (string(a) == string(b)) {
			t.Errorf("%q, %q: distance %d", string(a), string(b), d)
		}
		if low, high := max(len(a), len(b))-min(len(a), len(b)), max(len(a), len(b)); d < low || d > high {
			t.Errorf("%q, %q: distance %d is not from %d to %d", string(a), string(b), d, low, high)
		}
	})
}

func BenchmarkFindWood(b *testing.B) {
	s, err := Load()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.FindWood("European beech")
	}
}
