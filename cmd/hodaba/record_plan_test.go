package main

import (
	"maps"
	"strings"
	"testing"

	"hodaba/yard"
)

// What is said of wood, plans and piles that change their names.
func TestSpeechOfPlans(t *testing.T) {
	f, set := speakers(t)
	for said, want := range map[string]string{
		"planned b shiitake wide-range birch 30 2027-03 12cm plug":  "pile=b species=shiitake strain=wide-range wood=birch logs=30 month=2027-03 diameter=12cm spawn=plug",
		"felled F-27-01 white oak 60 logs 10-15 cm 100cm own hedge": "lot=F-27-01 wood=white oak logs=60 diameter=10-15 cm length=100cm from=own hedge",
		"felled birch 20 yesterday":                                 "wood=birch logs=20 on=yesterday",
		"joined oak-north birch-1 into elm":                         "piles=oak-north, birch-1 into=elm",
		"joined oak-north birch-1 elm":                              "piles=oak-north, birch-1 into=elm",
		"joined oak-north birch-1 into birch-1":                     "piles=oak-north, birch-1 into=birch-1",
		"renamed oak-north oak-old":                                 "pile=oak-north to=oak-old",
		"renamed oak-north to oak-old":                              "pile=oak-north to=oak-old",
	} {
		words := strings.Fields(said)
		s := newSpeech(words[0], map[string]string{}, f, set)
		s.know([]string{"oak-north", "birch-1"})
		s.hear(words[1:])
		if len(s.left) > 0 {
			t.Errorf("%s: nobody took %q", said, s.left)
		}
		if got := pairs(t, want); !maps.Equal(s.values, got) {
			t.Errorf("%s:\n got %v\nwant %v", said, s.values, got)
		}
		if text, problems := yard.Compose(words[0], s.values, f.Terms()); text == "" {
			t.Errorf("%s: cannot be composed: %v", said, problems)
		}
	}
}
