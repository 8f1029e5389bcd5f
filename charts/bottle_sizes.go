package charts

import (
	"fmt"
	"math"
	"strings"

	"hodaba/forecast/tincture"
)

// bottlesOf are the bottles that a batch should fill: "10 bottles of 100 ml (9
// to 11)", and of several sizes "7 bottles of 100 ml and 5 of 50 ml (11 to 13 in
// all)".
func bottlesOf(t tincture.Batch, ml func(float64) string) string {
	least, most := math.Floor(t.Bottles.P10), math.Floor(t.Bottles.P90)
	if len(t.Sizes) < 2 && least == most {
		return fmt.Sprintf("%.0f bottles of %s", least, ml(t.BottleML))
	}
	if len(t.Sizes) < 2 {
		return fmt.Sprintf("%.0f bottles of %s (%.0f to %.0f)", math.Floor(t.Bottles.P50), ml(t.BottleML), least, most)
	}
	if least == most {
		return bySize(t.Sizes, ml)
	}
	return fmt.Sprintf("%s (%.0f to %.0f in all)", bySize(t.Sizes, ml), least, most)
}

// bySize are bottles of several sizes: "7 bottles of 100 ml and 5 of 50 ml".
func bySize(sizes []tincture.Sized, ml func(float64) string) string {
	var parts []string
	for i, s := range sizes {
		word := ""
		if i == 0 {
			word = " bottles"
		}
		parts = append(parts, fmt.Sprintf("%.0f%s of %s", math.Floor(s.Bottles.P50), word, ml(s.ML)))
	}
	return listing(parts)
}

// toFill is how the bottles of a batch are recorded, their numbers left open:
// "… x 100 ml, … x 50 ml".
func toFill(t tincture.Batch) string {
	if !(t.BottleML > 0) {
		return "… x … ml"
	}
	if len(t.Sizes) < 2 {
		return fmt.Sprintf("… x %.0f ml", t.BottleML)
	}
	var parts []string
	for _, s := range t.Sizes {
		parts = append(parts, fmt.Sprintf("… x %.0f ml", s.ML))
	}
	return strings.Join(parts, ", ")
}

type sizeJSON struct {
	ML      jsonNumber `json:"bottle_ml"`
	Bottles amountJSON `json:"bottles"`
}

// sizesJSON are the bottles of several sizes; none where there is one, which
// stands in bottles and bottle_ml.
func sizesJSON(sizes []tincture.Sized) (out []sizeJSON) {
	if len(sizes) < 2 {
		return nil
	}
	for _, s := range sizes {
		out = append(out, sizeJSON{smallNumber(s.ML), planAmount(s.Bottles)})
	}
	return out
}
