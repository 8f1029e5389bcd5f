package data

import (
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

func TestRequirementsReadBack(t *testing.T) {
	want := []NamedRequirement{
		{"shiitake", "wide-range", Requirement{Mu: 5.123456, Sigma: 0.25, Solved: true}},
		{"lion's mane", "", Requirement{Note: "no \"solution\": a\\b\nsecond line, °C"}},
		{"reishi", "asian", Requirement{Mu: 5.5, Sigma: 0.5, Solved: true, Note: "widest", OtherMu: [OtherCurves]float64{5, 5.25, 6}, OtherSigma: [OtherCurves]float64{0.2, 0.3, 0.25}}},
	}
	files := copied(t)
	files[RequirementFile()] = &fstest.MapFile{Data: EncodeRequirements(want)}
	s, err := load(files)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range want {
		if got := exactStrain(s, r.Species, r.Strain).Need; got != r.Requirement {
			t.Errorf("%s %s: %+v, want %+v", r.Species, r.Strain, got, r.Requirement)
		}
	}
	cold := exactStrain(s, "shiitake", "cold-weather")
	if cold.Need.Solved {
		t.Error("a strain without an entry counts as solved")
	}
	again := EncodeRequirements(s.Requirements())
	files[RequirementFile()] = &fstest.MapFile{Data: again}
	s2, err := load(files)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(again), string(EncodeRequirements(s2.Requirements()))); diff != "" {
		t.Error(diff)
	}
}

func TestRequirementsListEveryStrain(t *testing.T) {
	s := loaded(t)
	strains := 0
	for i := range s.Species {
		strains += len(s.Species[i].Strains)
	}
	if got := len(s.Requirements()); got != strains || strains < 11 {
		t.Errorf("%d requirements of %d strains", got, strains)
	}
}
