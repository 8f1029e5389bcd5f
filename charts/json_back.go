package charts

import (
	"hodaba/forecast/tincture"
)

type backJSON struct {
	Recipe      string          `json:"recipe"`
	By          isoDay          `json:"by"`
	Bottles     int             `json:"bottles"`
	OnShelf     int             `json:"on_shelf"`
	Standing    amountJSON      `json:"from_standing"`
	Promised    int             `json:"promised_before"`
	LatestStart isoDay          `json:"latest_start"`
	Chance      *jsonNumber     `json:"chance"`
	Scaled      jsonNumber      `json:"times_recipe"`
	Batches     []backBatchJSON `json:"batches"`
	Short       []backNeedJSON  `json:"needs"`
	Without     []gainJSON      `json:"without"`
	Promise     []sureJSON      `json:"can_promise"`
	Why         string          `json:"why,omitempty"`
	Notes       []string        `json:"notes"`
	Cautions    []string        `json:"cautions"`
}

type backBatchJSON struct {
	Start   isoDay `json:"latest_start"`
	Strain  isoDay `json:"strain"`
	Bottled isoDay `json:"bottled"`
	Jars    int    `json:"jars"`
}

type backNeedJSON struct {
	needJSON
	Missing jsonNumber `json:"missing_g"`
	Early   isoDay     `json:"there_p10"`
	Likely  isoDay     `json:"there_p50"`
	Late    isoDay     `json:"there_p90"`
	Or      []string   `json:"or"`
}

type gainJSON struct {
	Species []string    `json:"species"`
	Start   isoDay      `json:"start"`
	Days    int         `json:"days_earlier"`
	Or      bool        `json:"has_alternative"`
	Chance  *jsonNumber `json:"chance,omitempty"`
}

type sureJSON struct {
	Chance  jsonNumber `json:"chance"`
	Bottles int        `json:"bottles"`
}

func backOf(a *tincture.Back) *backJSON {
	if a == nil {
		return nil
	}
	j := &backJSON{
		Recipe: a.Recipe, By: isoDay(a.By), Bottles: a.Bottles, OnShelf: a.OnShelf, Standing: planAmount(a.Standing), Promised: a.Promised,
		LatestStart: isoDay(a.LatestStart), Scaled: smallNumber(a.Scaled), Why: a.Why,
		Batches: []backBatchJSON{}, Short: []backNeedJSON{}, Without: gainsOf(a.Without), Promise: []sureJSON{},
		Notes: append([]string{}, a.Notes...), Cautions: append([]string{}, a.Cautions...),
	}
	if a.Bottles > 0 {
		c := chanceNumber(a.Chance)
		j.Chance = &c
	}
	for _, b := range a.Batches {
		j.Batches = append(j.Batches, backBatchJSON{isoDay(b.Start), isoDay(b.Strain), isoDay(b.Bottled), b.Jars})
	}
	for _, n := range a.Needs {
		j.Short = append(j.Short, backNeedJSON{needOf(n.Need), smallNumber(n.Missing),
			isoDay(n.Early), isoDay(n.Likely), isoDay(n.Late), append([]string{}, n.Or...)})
	}
	for _, c := range a.CanPromise {
		j.Promise = append(j.Promise, sureJSON{chanceNumber(c.Chance), c.Bottles})
	}
	return j
}

func gainsOf(gains []tincture.Gain) []gainJSON {
	out := []gainJSON{}
	for _, g := range gains {
		j := gainJSON{Species: g.Species, Start: isoDay(g.Start), Days: g.Days, Or: g.Or}
		if g.Chance > 0 {
			c := chanceNumber(g.Chance)
			j.Chance = &c
		}
		out = append(out, j)
	}
	return out
}

type potJSON struct {
	Water jsonNumber `json:"water_ml"`
	Held  jsonNumber `json:"held_ml"`
	Steam jsonNumber `json:"boiled_away_g"`
	Free  jsonNumber `json:"decoction_ml"`
	Hours jsonNumber `json:"hours"`
}

func potOf(p tincture.Pot) *potJSON {
	if p.Free.MassG() <= 0 {
		return nil
	}
	return &potJSON{smallNumber(p.Water.VolumeML()), smallNumber(p.Held.VolumeML()), smallNumber(p.Steam.MassG()),
		smallNumber(p.Free.VolumeML()), smallNumber(p.Hours)}
}

type madeJSON struct {
	Lot    string      `json:"lot"`
	Recipe string      `json:"recipe"`
	Yields []yieldJSON `json:"yields"`
}

type yieldJSON struct {
	Step        string     `json:"step"`
	Actual      jsonNumber `json:"actual_ml"`
	Theoretical jsonNumber `json:"theoretical_ml"`
	Percent     jsonNumber `json:"percent"`
}

func madeOf(list []tincture.Made) []madeJSON {
	out := []madeJSON{}
	for _, m := range list {
		j := madeJSON{Lot: m.Lot, Recipe: m.Recipe}
		for _, y := range m.Yields {
			j.Yields = append(j.Yields, yieldJSON{y.Step, smallNumber(y.ActualML), smallNumber(y.Theoretical), smallNumber(y.Percent())})
		}
		out = append(out, j)
	}
	return out
}

type keptJSON struct {
	To      string     `json:"to"`
	Recipe  string     `json:"recipe"`
	Bottles int        `json:"bottles"`
	By      isoDay     `json:"by"`
	Chance  jsonNumber `json:"chance"`
}

func keptOf(list []tincture.Kept) []keptJSON {
	out := []keptJSON{}
	for _, k := range list {
		out = append(out, keptJSON{k.To, k.Recipe, k.Bottles, isoDay(k.By), chanceNumber(k.Chance)})
	}
	return out
}

// ScaledJSON is a recipe for other amounts.
func ScaledJSON(z *tincture.Size) ([]byte, error) {
	out := struct {
		Recipe      string       `json:"recipe"`
		Scaled      jsonNumber   `json:"times_recipe"`
		Short       string       `json:"limited_by,omitempty"`
		Jars        int          `json:"jars"`
		SpiritJarML jsonNumber   `json:"spirit_per_jar_ml"`
		Ingredients []perJarJSON `json:"ingredients"`
		Batch       batchJSON    `json:"batch"`
	}{z.Recipe.Name, smallNumber(z.By), z.Short, z.Batch.JarCount, smallNumber(z.Recipe.SpiritMLJar), []perJarJSON{},
		batchesOf([]tincture.Batch{z.Batch})[0]}
	for _, in := range z.Recipe.Ingredients {
		out.Ingredients = append(out.Ingredients, perJarJSON{in.Species, in.Form, smallNumber(in.GramsJar)})
	}
	return encode(out)
}

type perJarJSON struct {
	Species string     `json:"species"`
	Form    string     `json:"form"`
	Grams   jsonNumber `json:"per_jar_g"`
}
