package charts

import (
	"fmt"
	"strings"

	"hodaba/data"
	"hodaba/forecast"
)

// restsOn is what a pile's kilograms rest on, in sentences: the wood of a log,
// how much of its weight comes as mushrooms, which logs count, how well that is
// founded, and who says so.
func restsOn(y forecast.YieldBasis, kg func(float64) string) []string {
	if y.DryWoodKG.P50 == 0 {
		return nil
	}
	wood := "dry wood"
	if y.Over == data.OverGreen {
		wood = "green wood"
	}
	if y.Wood != "" {
		wood = fmt.Sprintf("%s, as found on %s", wood, y.Wood)
	}
	e := y.Efficiency
	said := []string{
		fmt.Sprintf("Amounts rest on %s of dry wood a log and, in fresh mushrooms over a log's life, on %s of the weight of its %s: low, typical and high.",
			kg(y.DryWoodKG.P50), shares(e), wood),
		countedWords(y.Per),
		"How well that is founded: " + foundedWords(e) + ".",
	}
	if y.Wide != "" {
		said = append(said, "It is a wide guess: "+y.Wide+".")
	}
	return said
}

// shares writes a range of shares, as "9–20–30 %".
func shares(e data.Range) string {
	return fmt.Sprintf("%.0f–%.0f–%.0f %%", 100*e.Low, 100*e.Typical, 100*e.High)
}

func countedWords(per string) string {
	if per == data.PerFruiting {
		return "Only logs that bear are counted in it, so the share that never takes goes off."
	}
	return "All logs inoculated are counted in it, those too that never bear."
}

// foundedWords say how well a range is founded and who says so: of a judgement
// who guided it.
func foundedWords(e data.Range) string {
	var says string
	switch says = e.Quality.Says(); {
	case e.Quality == data.Derived:
		says = "worked out from what was read in"
	case says == "":
		return "read in " + e.Source
	case strings.HasPrefix(e.Source, "our own judgement"):
		return says
	case e.Quality == data.Judgement:
		says = "our judgement, guided by"
	default:
		says += ","
	}
	return says + " " + e.Source
}
