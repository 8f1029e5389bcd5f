package tincture

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hodaba/yard"
)

var threeToOne = []yard.BottleShare{{ML: 100, Share: 0.75}, {ML: 50, Share: 0.25}}

func TestFill(t *testing.T) {
	for _, c := range []struct {
		ml    float64
		sizes []yard.BottleShare
		want  []int
	}{
		{1000, []yard.BottleShare{{ML: 100, Share: 1}}, []int{10}},
		{998, []yard.BottleShare{{ML: 100, Share: 1}}, []int{10}}, // two of a hundred short
		{997, []yard.BottleShare{{ML: 100, Share: 1}}, []int{9}},
		{1000, threeToOne, []int{7, 6}}, // 750 ml are seven and a half bottles
		{950, threeToOne, []int{7, 5}},
		{800, threeToOne, []int{6, 4}},
		{60, threeToOne, []int{0, 1}}, // too little for the large one, whose turn it is
		{30, threeToOne, []int{0, 0}},
		{0, threeToOne, []int{0, 0}},
		{-5, threeToOne, []int{0, 0}},
		{1e7, threeToOne, []int{75000, 50000}},
	} {
		for i, got := range Fill(c.ml, c.sizes) {
			if got.Count != c.want[i] || got.SizeML != c.sizes[i].ML {
				t.Errorf("%v ml into %v: %v", c.ml, c.sizes, Fill(c.ml, c.sizes))
			}
		}
	}
}

// More liquid never fills fewer bottles; nothing is filled that is not there;
// less is left than the smallest bottle holds, but for the last that the
// largest makes room for; and each size has its share to within a bottle or
// two.
func TestFillLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "sizes")
		var sizes []yard.BottleShare
		most, sum := 0.0, 0.0
		for range n {
			s := yard.BottleShare{ML: float64(rapid.IntRange(5, 1000).Draw(t, "ml")), Share: float64(rapid.IntRange(1, 9).Draw(t, "share"))}
			sizes, sum, most = append(sizes, s), sum+s.Share, max(most, s.ML)
		}
		for i := range sizes {
			sizes[i].Share /= sum
		}
		ml := rapid.Float64Range(0, 30000).Draw(t, "liquid")
		more := ml + rapid.Float64Range(0, 500).Draw(t, "more")
		if a, b := bottlesIn(ml, sizes), bottlesIn(more, sizes); b < a {
			t.Fatalf("%v: %v ml fill %v, and %v ml %v", sizes, ml, a, more, b)
		}
		used := 0.0
		for _, c := range Fill(ml, sizes) {
			used += float64(c.Count) * c.SizeML
		}
		if used > ml+scant*most || ml-used >= most {
			t.Fatalf("%v: of %v ml %v are filled", sizes, ml, used)
		}
		for i, c := range Fill(ml, sizes) {
			if off := math.Abs(float64(c.Count)*c.SizeML - sizes[i].Share*used); off > 2*float64(n)*most {
				t.Fatalf("%v: %v of %v ml is %v off its share", sizes, c, ml, off)
			}
		}
		want := rapid.IntRange(1, 60).Draw(t, "wanted")
		least := fillFor(want, sizes)
		if bottlesIn(least, sizes) < float64(want) || bottlesIn(least*0.999-1e-6, sizes) >= float64(want) {
			t.Fatalf("%v: %v ml for %d bottles fill %v, and a little less %v", sizes, least, want, bottlesIn(least, sizes), bottlesIn(least*0.999-1e-6, sizes))
		}
	})
}

// A recipe for two sizes is scaled to bottles of both together, planned by
// size, and promised by number or by volume.
func TestTwoSizesInThePlan(t *testing.T) {
	r := yard.Recipe{Name: "two sizes", Jars: 2, SpiritMLJar: 500, SpiritABV: 50, MacerateMin: 14, MacerateMax: 28, ShakeDays: 12, Method: MarcDecocted,
		DecoctToML: 600, WaterML: 1500, SpiritPart: 1, WaterPart: 1, BottleML: 100, Bottles: threeToOne,
		Ingredients: []yard.Ingredient{{Species: "shiitake", Form: "pieces", GramsJar: 50}}}
	size, err := SizeOf(r, 30, func(string, string) float64 { return 1e6 }, Terms{AsOf: day(2026, 5, 4), Seed: 1, Recipes: []yard.Recipe{r}}, testSet())
	if err != nil {
		t.Fatal(err)
	}
	b := size.Batch
	if b.Bottles.P10 < 30 || b.Bottles.P50 > 36 || len(b.Sizes) != 2 || b.Sizes[0].ML != 100 || b.Sizes[1].ML != 50 {
		t.Errorf("30 bottles: %+v, %+v", b.Bottles, b.Sizes)
	}
	big, small := b.Sizes[0].Bottles.P50*100, b.Sizes[1].Bottles.P50*50
	if share := big / (big + small); math.Abs(share-0.75) > 0.05 {
		t.Errorf("%.2f of it in large bottles", share)
	}
	if got := bottlesHolding(1000, threeToOne); got != 8+5 {
		t.Errorf("a promised litre is %d bottles: eight of the large ones and five of the small", got)
	}
}
