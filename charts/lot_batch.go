package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hodaba/yard"
)

// batch tells of a batch, from what went in to where its bottles went.
func (t *teller) batch() {
	for _, b := range t.s.Batches {
		if !sameLot(b.Lot, t.lot) {
			continue
		}
		what := "a batch"
		if name := b.Named(); name != "" {
			what += " of " + name
		}
		t.is(b.Lot, what)
		t.putUp(b)
		t.worked(b)
		t.ended(b)
		t.left = append(t.left, t.bottlesLeft(b)...)
	}
}

// putUp is what went in.
func (t *teller) putUp(b *yard.Batch) {
	if !b.Made {
		says := "put up"
		if n := b.JarsPutUp(); n > 0 {
			says += " in " + count(n, "jar", "jars")
		}
		says += " with " + t.spiritWords(b)
		if b.SpiritLot != "" {
			says += " of lot " + b.SpiritLot
		}
		says += stepSays(b.Begun)
		t.from(b.On, first(b.Entries), says)
	}
	for _, a := range b.Additions {
		for _, in := range a.Taken {
			t.from(a.On, a.Entry, t.takenWords(in)+" was added")
		}
	}
	for _, in := range t.begunWith(b) {
		t.from(b.On, first(b.Entries), t.takenWords(in)+" went in")
	}
}

// begunWith is what went in at the start: all, less what was added later.
func (t *teller) begunWith(b *yard.Batch) []yard.Taken {
	var out []yard.Taken
	for _, in := range b.WentIn() {
		for _, a := range b.Additions {
			for _, x := range a.Taken {
				if x.Species == in.Species && x.Lot == in.Lot {
					in.Grams -= x.Grams
				}
			}
		}
		if in.Grams > 0.5 {
			out = append(out, in)
		}
	}
	return out
}

func (t *teller) takenWords(in yard.Taken) string {
	says := "dried " + cmp.Or(in.Species, "mushrooms")
	if in.Grams > 0 {
		says = t.u.weighed(in.Grams) + " of " + says
	}
	if in.Lot != "" {
		says += " of lot " + in.Lot
	}
	return says
}

// worked is what was done with it before it was in bottles.
func (t *teller) worked(b *yard.Batch) {
	for _, x := range b.Strainings {
		t.from(x.On, x.Entry, t.strainWords(x))
	}
	for _, x := range b.Decoctions {
		t.from(x.On, x.Entry, t.decoctWords(x))
	}
	for _, x := range b.Blendings {
		t.from(x.On, x.Entry, t.blendWords(b, x))
	}
}

func (t *teller) strainWords(x yard.Straining) string {
	says := "strained"
	if x.Jars > 0 {
		says = count(x.Jars, "jar", "jars") + " strained"
	}
	if x.ML > 0 {
		says += ": " + t.u.poured(x.ML)
	}
	if x.MarcG > 0 {
		says += ", the wet marc " + t.u.weighed(x.MarcG)
	}
	return says + stepSays(x.Step)
}

func (t *teller) decoctWords(x yard.Decoction) string {
	says := "decocted"
	if x.WaterML > 0 {
		says += " in " + t.u.poured(x.WaterML) + " of water"
	}
	if x.ML > 0 {
		says += " to " + t.u.poured(x.ML)
	}
	if x.Hours > 0 {
		says += ", " + exact(x.Hours, 2) + " h"
	}
	return says + simmered(x) + stepSays(x.Step)
}

func (t *teller) blendWords(b *yard.Batch, x yard.Blending) string {
	var parts []string
	for _, p := range x.From {
		if p.Batch == "" {
			parts = append(parts, t.u.liquid(p.Volume))
			continue
		}
		amount := "all"
		if p.Volume.Text != "" {
			amount = t.u.liquid(p.Volume)
		}
		parts = append(parts, amount+" of batch "+p.Batch)
	}
	for _, q := range []struct {
		q    yard.Quantity
		what string
	}{{x.Spirit, "strained spirit"}, {x.Decoction, "decoction"}} {
		switch {
		case q.q.Text == "":
		case q.q.Unit == yard.Piece:
			parts = append(parts, count(int(q.q.Mid()), "part", "parts")+" of "+q.what)
		default:
			parts = append(parts, t.u.liquid(q.q)+" of "+q.what)
		}
	}
	says := "blended"
	if len(parts) > 0 {
		says += " of " + listing(parts)
	}
	if x.ML > 0 {
		says += ": " + t.u.poured(x.ML)
	}
	if x.ABV > 0 {
		says += ", measured at " + tenth(x.ABV) + " % by volume"
	}
	return says + stepSays(x.Step)
}

// ended is where it went.
func (t *teller) ended(b *yard.Batch) {
	for _, o := range b.Into {
		amount := "all that was left"
		if o.ML > 0 {
			amount = t.u.poured(o.ML)
		}
		t.to(o.On, o.Entry, amount+" went into batch "+o.Batch)
	}
	for _, k := range b.Discards {
		t.to(k.On, k.Entry, t.discardWords(k))
	}
	for _, x := range b.Bottlings {
		says := "bottled: " + t.bottleList(x.Bottles)
		if x.KeptBackML > 0 {
			says += ", and " + t.u.poured(x.KeptBackML) + " kept back"
		}
		if x.Closed != "" {
			says += ", closed with " + x.Closed
		}
		if x.Where != "" {
			says += ", put in " + x.Where
		}
		says += stepSays(x.Step)
		t.to(x.On, x.Entry, says)
	}
	for _, m := range t.bottlesWent(b) {
		t.to(m.on, m.entry, m.says)
	}
}

func (t *teller) discardWords(k yard.Discard) string {
	var parts []string
	if k.Jars > 0 {
		parts = append(parts, count(k.Jars, "jar", "jars"))
	}
	if k.ML > 0 {
		amount := t.u.poured(k.ML)
		if k.Of != "" {
			amount += " of " + k.Of
		}
		parts = append(parts, amount)
	}
	what := listing(parts)
	if k.All {
		what = "all of it"
	} else if what == "" {
		what = "some of it"
	}
	says := what + " discarded"
	if k.Why != "" {
		says += ": " + k.Why
	}
	return says
}

func (t *teller) bottleList(bottles []yard.BottleCount) string {
	var parts []string
	for _, c := range bottles {
		if c.SizeML > 0 {
			parts = append(parts, strconv.Itoa(c.Count)+" of "+t.u.poured(c.SizeML))
		} else {
			parts = append(parts, count(c.Count, "bottle", "bottles"))
		}
	}
	return listing(parts)
}

// leaving is bottles of a batch that left the shelf.
type leaving struct {
	on    yard.When
	entry *yard.Entry
	how   string
	count int
	says  string
}

// bottlesWent are the bottles of a batch that left, each entry once. Where a
// stock-take no longer told lots apart, the lot that the entry names counts.
func (t *teller) bottlesWent(b *yard.Batch) []leaving {
	var out []leaving
	for _, m := range t.s.BottleMoves {
		w := t.went(m.Entry)
		own := sameLot(m.Lot, b.Lot)
		if m.Count >= 0 || !own && !sameLot(w.Lot, b.Lot) {
			continue
		}
		i := slices.IndexFunc(out, func(l leaving) bool { return l.entry == m.Entry && m.Entry != nil })
		if i < 0 {
			i = len(out)
			out = append(out, leaving{on: m.On, entry: m.Entry, how: m.How})
		}
		out[i].count -= m.Count
		bottles := count(out[i].count, "bottle", "bottles")
		if m.How == yard.BottlesUnexplained {
			out[i].says = bottles + " of it taken together with others at a stock-take, which told no lots apart"
			continue
		}
		out[i].says = strings.Replace(bottles+" "+wentWords(m.How, w.To), "1 bottle were", "1 bottle was", 1)
	}
	return out
}

// bottlesLeft is what stands on the shelf under the lot.
func (t *teller) bottlesLeft(b *yard.Batch) (out []string) {
	for _, o := range t.s.Bottles {
		if !sameLot(o.Lot, b.Lot) {
			continue
		}
		for _, c := range o.Bottles {
			if c.Count > 0 {
				out = append(out, fmt.Sprintf("%s of %s", count(c.Count, "bottle", "bottles"), t.u.poured(c.SizeML)))
			}
		}
	}
	return out
}
