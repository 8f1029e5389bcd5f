package tincture

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/yard"
)

// kitchenNotes says where jars or pot are too small, and what must be fresh.
func kitchenNotes(r yard.Recipe, needs []Need, goods Goods, k yard.Kitchen, set *data.Set) (notes []string) {
	if note := room(r, goods, k.JarML, set); note != "" {
		notes = append(notes, note)
	}
	if decocts(r) && k.PotML > 0 && r.WaterML > k.PotML {
		notes = append(notes, fmt.Sprintf("%.0f ml of water do not fit a pot of %.0f ml: boil it in %.0f loads, or top it up as it boils down.",
			r.WaterML, k.PotML, math.Ceil(r.WaterML/k.PotML)))
	}
	for _, n := range needs {
		if n.Form == fresh {
			notes = append(notes, fmt.Sprintf("%s goes in fresh: it is counted on from what is picked from now on, never from dried goods; keep %.0f g from a picking just before.", n.Species, n.Grams))
		}
	}
	return notes
}

// notes says what the marc carries into the pot, and where the blend does not
// use up what was made; of a pot that is boiled already, not how to boil it.
func (b Liquids) notes(r yard.Recipe, boiled bool) (notes []string) {
	if b.Weak {
		notes = append(notes, fmt.Sprintf("The tincture comes out at %.1f %% and so never reaches %g %%: take stronger spirit. Nothing is blended in.", b.Strained.ABV(), r.ToABV))
	}
	if ml := b.Marc.EthanolML(); r.Method == MarcDecocted && ml > 0 && !boiled {
		notes = append(notes, fmt.Sprintf("The marc carries about %.0f ml of pure alcohol into the pot.", ml))
	}
	if decocts(r) && r.DecoctToML == 0 && !b.Weak {
		notes = append(notes, fmt.Sprintf("The recipe does not say how much decoction is left (decoct_to): taken as the %.0f ml that the blend takes.", b.Decoction.VolumeML()))
	}
	if b.ShortML >= spareML {
		notes = append(notes, b.shortNote(r, boiled))
	}
	if b.LeftOver == "decoction" && b.Left.VolumeML() >= spareML {
		notes = append(notes, fmt.Sprintf("About %.0f ml of decoction are left over. It does not keep: use it at once or freeze it.", b.Left.VolumeML()))
	}
	return notes
}

func (b Liquids) shortNote(r yard.Recipe, boiled bool) string {
	have := b.Decoction.VolumeML()
	if r.ToABV > 0 {
		return fmt.Sprintf("%.0f ml of decoction are about %.0f ml short of what %g %% takes: it comes out at %.1f %%.",
			have, b.ShortML, r.ToABV, b.Blended.ABV())
	}
	all := b.Strained.Plus(b.Decoction)
	way := fmt.Sprintf("boil down to %.0f ml to use it up, or ", have+b.ShortML)
	if boiled {
		way = ""
	}
	return fmt.Sprintf("%.0f ml of decoction at %g:%g leave about %.0f ml of tincture over: %spour all together for about %.0f ml at %.1f %%.",
		have, r.SpiritPart, r.WaterPart, b.Left.VolumeML(), way, all.VolumeML(), all.ABV())
}
