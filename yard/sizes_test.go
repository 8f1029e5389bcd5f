package yard

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// recipeWith is recipes.toml with a recipe that has more lines.
func recipeWith(lines ...string) string {
	return "[[recipe]]\nname = \"two sizes\"\nspirit_per_jar = \"500 ml\"\nspirit_abv_percent = 50\n" + strings.Join(lines, "\n") +
		"\n\n[[recipe.ingredient]]\nspecies = \"shiitake\"\nper_jar = \"50 g\"\n"
}

func TestSeveralBottleSizes(t *testing.T) {
	for line, want := range map[string]string{
		`bottles = ["100 ml 3/4", "50 ml 1/4"]`:              "[{100 0.75} {50 0.25}] 100",
		`bottles = ["50 ml 25 %", "100 ml 75%"]`:             "[{50 0.25} {100 0.75}] 100",
		`bottles = ["50 ml 1/4", "100 ml"]`:                  "[{50 0.25} {100 0.75}] 100",
		`bottles = ["30 ml", "50 ml"]`:                       "[{30 0.5} {50 0.5}] 30",
		`bottles = ["1 floz 1/2", "100 ml 1/2"]`:             "[{29.6 0.5} {100 0.5}] 29.6",
		`bottles = ["30 ml 33 %", "50 ml 33 %", "1 l 33 %"]`: "[{30 0.333} {50 0.333} {1000 0.333}] 30",
		`bottles = "250 ml"`:                                 "[{250 1}] 250",
		`bottle = "250 ml"`:                                  "[{250 1}] 250",
		``:                                                   "[{100 1}] 100",
	} {
		list, problems := readRecipes([]byte(recipeWith(line)), &Config{}, loaded(t))
		if len(problems) > 0 || len(list) != 1 {
			t.Errorf("%s: %v", line, problems)
			continue
		}
		var sizes []BottleShare
		for _, b := range list[0].BottleSizes() {
			sizes = append(sizes, BottleShare{math.Round(b.ML*10) / 10, math.Round(b.Share*1000) / 1000})
		}
		if got := fmt.Sprint(sizes, " ", math.Round(list[0].BottleML*10)/10); got != want {
			t.Errorf("%s: %s, not %s", line, got, want)
		}
	}
}

// Sizes that cannot be read are set aside, with the way out; the recipe stands.
func TestBottleSizesThatAreNone(t *testing.T) {
	for line, says := range map[string]string{
		`bottles = [100, 50]`:                        "100 is no size of bottle",
		`bottles = 100`:                              "100 is no size of bottle",
		`bottles = ["100"]`:                          "has no unit",
		`bottles = ["100 ml 3/4", "50 ml 1/2"]`:      "the shares come to 125 %, more than all",
		`bottles = ["100 ml 1/4", "50 ml 1/2"]`:      "the shares come to 75 %, not to all",
		`bottles = ["100 ml 100 %", "50 ml"]`:        "leave nothing for the size without one",
		`bottles = ["100 ml 1/0", "50 ml"]`:          "that is no share",
		`bottles = ["100 ml 0/0", "50 ml"]`:          "that is no share",
		`bottles = ["100 ml", "10 cl"]`:              "stands twice",
		`bottles = ["8 oz 1/2", "50 ml 1/2"]`:        "oz",
		`bottles = []`:                               "0 sizes",
		"bottle = \"50 ml\"\nbottles = [\"100 ml\"]": "both given",
		`bottles = ["0.5 ml"]`:                       "is no bottle",
		`bottles = ["5 ml 1/9","6 ml","7 ml","8 ml","9 ml","10 ml","11 ml","12 ml","13 ml"]`: "9 sizes",
	} {
		list, problems := readRecipes([]byte(recipeWith(line)), &Config{}, loaded(t))
		if len(list) != 1 || len(list[0].Bottles) > 0 || !has(problems, 0, says) {
			t.Errorf("%s: %d recipes, %s", line, len(list), lines(problems))
		}
	}
}

// Bottles of which the size is not said cannot be told apart where a recipe
// fills several.
func TestBottledOfWhichSize(t *testing.T) {
	recipe := strings.Replace(loaded(t).Recipes[0].Text, `bottle = "100 ml"`, `bottles = ["100 ml 3/4", "50 ml 1/4"]`, 1)
	read := func(bottles string) (*State, []Problem) {
		f, problems, err := OpenFiles(InMemory(map[string]string{YardFile: smallYard, RecipesFile: recipe,
			JournalFile: begunBatch + entry("bottled", "2025-12-02", `batch = "26-1"`, bottles)}), loaded(t), may)
		if err != nil {
			t.Fatal(err)
		}
		s, more := f.State(may, may)
		return s, append(problems, more...)
	}
	s, problems := read("bottles = 12")
	if !has(problems, 0, "fills bottles of 100 ml and 50 ml, and of which size these are is not said") || s.Bottles[0].count() != 12 || s.Bottles[0].Bottles[0].SizeML != 0 {
		t.Error(summary(s, problems))
	}
	s, problems = read(`bottles = [{count = 7, size = "100 ml"}, {count = 5, size = "50 ml"}]`)
	if b := s.Bottles[0].Bottles; len(problems) > 0 || len(b) != 2 || b[0] != (BottleCount{100, 7}) || b[1] != (BottleCount{50, 5}) {
		t.Error(summary(s, problems))
	}
	if ml, sized := s.Batches[0].FilledML(); ml != 950 || !sized {
		t.Errorf("%v ml in bottles, all sizes known: %t", ml, sized)
	}
}

func FuzzBottleSize(f *testing.F) {
	for _, s := range []string{"100 ml 3/4", "50 ml 25 %", "1 floz", "100 ml 1/0", "8 oz", "about 100 ml 1/2", "1/2 l 1/2", "ml 3/4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBottleSize(s, nil)
		if err == nil && (!(b.ML >= leastBottleML) || b.ML > wants[Millilitre].most || !math.IsNaN(b.Share) && !(b.Share > 0 && b.Share <= 1+shareSlack)) {
			t.Fatalf("%q: %v", s, b)
		}
	})
}
