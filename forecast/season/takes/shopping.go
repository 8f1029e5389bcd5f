package takes

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// Item is one thing to buy.
type Item struct {
	Item     string // in words: "shiitake spawn, wide-range, plugs"
	Species  string // of spawn; else ""
	Strain   string
	Form     string
	Amount   float64 // Unit, what is spilt counted in
	Unit     string
	Packs    []Pack    // nil: not sold in packs that are known
	Use      yard.Date // first day on which it is wanted; zero: no month said
	OrderBy  yard.Date
	NotUntil yard.Date // of spawn: ordered sooner it would not keep until it is used; zero: any time
	Note     string
}

// shopping lists what the lines take, spawn first, each form of a species by
// month, because that is a lot of its own and does not keep for ever.
func shopping(lines []LineTakes, in *data.Inoculating) []Item {
	var items []Item
	for i := range lines {
		l := &lines[i]
		f := form(&l.Line, in)
		amount := l.All.SpawnKG + l.All.Pieces
		if !positive(amount) {
			continue
		}
		items = gather(items, Item{
			Item:    strings.Join(filled(l.Species+" spawn", l.Strain, called(f)), ", "),
			Species: l.Species, Strain: l.Strain, Form: f.Name, Amount: amount, Unit: f.Unit,
			Use: l.Work.From,
		}, l.Work.To, f, in)
	}
	for i := range items {
		f, _ := in.Form(items[i].Form)
		items[i].Amount = wholePieces(items[i].Amount, f)
		items[i].Packs = packed(items[i].Amount, f.Packs.Holds)
	}
	return append(items, besides(lines, in)...)
}

// called is the form of spawn in words.
func called(f *data.SpawnForm) string {
	if f.Weighed() {
		return f.Name
	}
	return f.Unit
}

func filled(words ...string) []string {
	return slices.DeleteFunc(words, func(w string) bool { return strings.TrimSpace(w) == "" })
}

// wholePieces rounds pieces up; loose spawn is left as it is.
func wholePieces(x float64, f *data.SpawnForm) float64 {
	if f.Weighed() {
		return x
	}
	return math.Ceil(x - hair)
}

// gather adds spawn to the item of the same kind and days, or lists it anew
// with the days between which to order it.
func gather(items []Item, x Item, last yard.Date, f *data.SpawnForm, in *data.Inoculating) []Item {
	for i := range items {
		o := &items[i]
		if o.Item == x.Item && o.Form == x.Form && o.Use.MonthStart() == x.Use.MonthStart() {
			o.Amount += x.Amount
			return items
		}
	}
	x.Note = fmt.Sprintf("keeps about %g weeks at %g to %g °C; write its lot down with each pile", f.Keeps.Value, in.Shop.Cold.Low, in.Shop.Cold.High)
	if x.Use != 0 {
		lead, keeps := yard.Date(weeks(in.Shop.Spawn.Value)), yard.Date(weeks(f.Keeps.Value))
		x.OrderBy, x.NotUntil = x.Use-lead, last-keeps-lead
		if x.NotUntil > x.OrderBy {
			x.NotUntil = x.OrderBy
			x.Note += fmt.Sprintf("; that is less than from %s to %s: have it sent in two lots", x.Use, last)
		}
	}
	return append(items, x)
}

// besides lists what is not spawn, wanted with the first line that has it.
func besides(lines []LineTakes, in *data.Inoculating) []Item {
	var items []Item
	add := func(l *LineTakes, item, unit string, amount float64, note string) {
		if !positive(amount) {
			return
		}
		i := slices.IndexFunc(items, func(o Item) bool { return o.Item == item })
		if i < 0 {
			items = append(items, Item{Item: item, Unit: unit, Note: note})
			i = len(items) - 1
		}
		items[i].Amount += amount
		if use := l.Work.From; use != 0 && (items[i].Use == 0 || use < items[i].Use) {
			items[i].Use, items[i].OrderBy = use, use-yard.Date(weeks(in.Shop.Other.Value))
		}
	}
	for i := range lines {
		l := &lines[i]
		if l.Logs <= 0 {
			continue
		}
		f := form(&l.Line, in)
		add(l, "wax", "kg", l.All.WaxKG, fmt.Sprintf("%g to %g g a hole, %s", in.Wax.Low, in.Wax.High, in.Wax.Quality.Says()))
		if in.Shop.BitHoles.Value > 0 {
			add(l, fmt.Sprintf("drill bit, %g mm, stop at %g mm", f.Hole.Value, f.Depth.Value), "pieces", float64(l.All.Holes)/in.Shop.BitHoles.Value, "measure a plug first: makers differ")
		}
		if l.Method == methodTotem {
			add(l, "bag over each totem", "pieces", float64(l.Logs), "")
		}
		add(l, "tags", "pieces", in.Shop.Tags.Value, "write them before the day")
	}
	for i := range items {
		if items[i].Unit == "pieces" {
			items[i].Amount = math.Ceil(items[i].Amount - hair)
		}
	}
	return items
}
