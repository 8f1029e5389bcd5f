package tincture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// Cautions that hold for every batch of their kind, each with its source.
const (
	cautionIdentify = "Use only mushrooms that someone experienced has identified with certainty, and gathered ones only with a note of who it was: drying, boiling and spirit take no poison out of a poisonous one (drying bulletins' warning)."
	cautionFlame    = "Spirit vapour burns, from about 26 °C over spirit of 40 % and about 49 °C over 10 % (published flash points): no flame or spark while filling, straining and pressing; air the room; label every jar."
	cautionMarc     = "The marc carries spirit into the pot, which boils off as vapour far below the boil: electric plate, lid off, window open, above all for the first half hour (flash points as above; the half hour from memory)."
	cautionHot      = "Let the pot stand for about 45 minutes before pressing (common practice, no source), never let it boil dry, and do not carry it full."
	cautionLowAcid  = "A decoction is a low-acid food: cool it from 57 to 21 °C within 2 hours and to 5 °C within 6 in all (FDA Food Code 3-501.14), and blend it at once; never store it sealed and warm."
	cautionNoSpirit = "There is no spirit in it and it does not keep: cold at once, used within 48 hours (our judgement), or frozen."
	cautionPeople   = "It holds alcohol: not for children, in pregnancy or while nursing, and not with medicines or an illness without asking a professional."
	cautionLaw      = "Law differs from place to place, on licences to make it, duty on spirit, food supplements and novel foods: before selling any, ask the local authority and a licensed professional. No health claims are made here, and none belong on a label."
)

// cautions are those that a batch calls for, each once.
func cautions(r yard.Recipe, goods Goods, marc data.Range, y yields, set *data.Set) []string {
	spirit := y.likely.Spirit.EthanolG > 0
	var cs []string
	add := func(when bool, text string) {
		if when && text != "" && !slices.Contains(cs, text) {
			cs = append(cs, text)
		}
	}
	add(spirit, strengthCaution(r, goods, marc, y, set))
	add(!spirit, cautionNoSpirit)
	add(true, cautionIdentify)
	for _, in := range r.Ingredients {
		for _, name := range append([]string{in.Species}, in.Or...) {
			if sp, ok := set.FindSpecies(name); ok {
				for _, c := range sp.Cautions {
					add(true, upper(sp.Name)+": "+c)
				}
			}
		}
	}
	add(spirit, cautionFlame)
	add(r.Method == MarcDecocted, cautionMarc)
	add(decocts(r), cautionHot)
	add(decocts(r), cautionLowAcid)
	add(spirit, cautionPeople)
	add(true, cautionLaw)
	return cs
}

// What is said of a strength begins with one of these.
const (
	workedOut  = "Worked out at"
	measuredAt = "Measured at"
)

// ofStrength reports whether a caution is of a strength.
func ofStrength(c string) bool {
	return strings.HasPrefix(c, workedOut) || strings.HasPrefix(c, measuredAt)
}

// afterStrength leaves out what is said of a strength.
func afterStrength(cs []string) []string { return slices.DeleteFunc(cs, ofStrength) }

// strengthCaution is about a blend that does not keep, or of which sources
// disagree whether it does (data.Practice.Keeping), with the way out.
func strengthCaution(r yard.Recipe, goods Goods, marc data.Range, y yields, set *data.Set) string {
	k := set.Practice.Keeping
	out := KeepingCaution(y.abv.P50, k)
	if out == "" {
		return ""
	}
	if ways := waysTo(k.Usual.Value, r, goods, marc, y); len(ways) > 0 {
		out += fmt.Sprintf(" For %g %%: %s.", k.Usual.Value, strings.Join(ways, ", or "))
	}
	return out
}

// KeepingCaution says of a strength in % by volume at 20 °C that it does not
// keep, or that sources differ on whether it does; "" where it keeps.
func KeepingCaution(abv float64, k data.Keeping) string {
	if abv >= k.Usual.Value-0.05 { // as it is printed, to a tenth
		return ""
	}
	out := fmt.Sprintf(workedOut+" %.1f %% by volume: ", abv)
	if abv < k.Spoils.Value {
		return out + fmt.Sprintf("below %g %% it does not keep (pharmaceutics laboratory notes). Keep it cold and use it soon, freeze it, or fortify it.", k.Spoils.Value)
	}
	return out + fmt.Sprintf("sources differ on whether that keeps (it does from %g %% by pharmaceutics laboratory notes, from %g %% by a herbal physician; 15, 20 and 30 %% are in print too).", k.Spoils.Value, k.Usual.Value)
}

// waysTo says how a recipe reaches a strength.
func waysTo(abv float64, r yard.Recipe, goods Goods, marc data.Range, y yields) (ways []string) {
	if parts, ok := y.likely.PartsFor(abv); ok && decocts(r) {
		ways = append(ways, fmt.Sprintf("%.2g parts of decoction to 1 of tincture", parts))
	}
	if r.ToABV > 0 {
		r.ToABV = math.Max(r.ToABV, abv)
	}
	if spirit, ok := SpiritFor(r, goods, marc.Typical, abv); ok && spirit > r.SpiritABV {
		ways = append(ways, fmt.Sprintf("spirit of %.0f %%", math.Ceil(spirit)))
	}
	return ways
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Cautions are those of all batches of the plan, each once, in the order in
// which they come; what is said of a strength names its recipe.
func (p *Plan) Cautions() []string {
	var cs []string
	for _, list := range [][]Batch{p.Standing, p.Batches} {
		for _, b := range list {
			for _, c := range b.Cautions {
				if ofStrength(c) {
					c = b.Recipe + ": " + strings.ToLower(c[:1]) + c[1:]
				}
				if !slices.Contains(cs, c) {
					cs = append(cs, c)
				}
			}
		}
	}
	return cs
}
