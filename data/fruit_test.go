package data

import "testing"

// What sets shiitake off: wide-range and warm-weather strains answered
// significant rain, cold-weather strains temperature (Bruhn, Mihail and Pickens
// 2009, Bioresource Technology 100(24):6472-6480, abstract).
func TestAgainstTriggersOfShiitake(t *testing.T) {
	s := mustSpecies(t, "shiitake")
	for name, want := range map[string]string{"wide-range": "rain", "warm-weather": "rain", "cold-weather": "cooling"} {
		st, ok := s.FindStrain(name)
		if !ok || st.Fruit.Trigger != want {
			t.Errorf("shiitake %s: trigger %q, want %q", name, st.Fruit.Trigger, want)
		}
	}
}

// Maitake crops once a year (Ibaraki Prefecture Forestry Technology Centre
// 2007), nameko too (a supplier's sheet), and so do the other polypores, whose
// fruit bodies grow for weeks.
func TestOnceASeason(t *testing.T) {
	once := map[string]bool{"maitake": true, "nameko": true, "reishi": true, "turkey tail": true}
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for i := range set.Species {
		for j := range set.Species[i].Strains {
			if sp := &set.Species[i]; sp.Strains[j].Fruit.Once != once[sp.Name] {
				t.Errorf("%s %s: once %v, want %v", sp.Name, sp.Strains[j].Name, !once[sp.Name], once[sp.Name])
			}
		}
	}
}

func mustSpecies(t *testing.T, name string) *Species {
	t.Helper()
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	s, ok := set.FindSpecies(name)
	if !ok {
		t.Fatalf("no %s", name)
	}
	return s
}
