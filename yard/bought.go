package yard

import (
	"fmt"
	"strings"

	"hodaba/data"
)

var boughtKind = kind{
	KindInfo: KindInfo{
		Name: "bought", Says: "spawn, spirit, wax, bottles or dried goods were bought",
		Example: `bought spirit amount="5 l" lot=SP-26-1`,
		Keys: []Key{
			{Name: "item", Holds: "what was bought", Example: "shiitake spawn", Kind: TextKey, Required: true},
			{Name: "amount", Holds: "how much", Example: "5 kg", Kind: AmountKey},
			lotKey,
			{Name: "supplier", Holds: "who sold it", Example: "the mill", Kind: TextKey},
			{Name: "price", Holds: "what it cost in all, in your money", Example: "48.50", Kind: NumberKey},
			formKey,
		},
	},
	make: func() readable { return &Bought{Price: NotSaid} },
}

// Bought is a purchase; dried goods go on the shelf.
type Bought struct {
	Item          string
	Amount        Quantity
	Lot, Supplier string
	Price         float64
	Form          string
}

// Kind is "bought".
func (b *Bought) Kind() string { return boughtKind.Name }

func (b *Bought) fields() []any {
	return []any{&b.Item, &b.Amount, &b.Lot, &b.Supplier, &b.Price, &b.Form}
}

// liquids are things that are bought by volume: ounces of them are fluid.
var liquids = []string{"spirit", "alcohol", "ethanol", "vodka", "brandy", "rum", "water"}

func (b *Bought) check(t *table) {
	if b.Amount.Unit != Kilogram || !strings.HasSuffix(strings.TrimSuffix(folded(b.Amount.Text), "."), "oz") {
		return
	}
	for _, word := range strings.Fields(folded(b.Item)) {
		for _, l := range liquids {
			if word == l {
				t.fail("amount", mistake{shown(b.Amount.Text) + " is a weight, and " + b.Item + " is a liquid",
					fmt.Sprintf("write %q for fluid ounces, or the litres", strings.Replace(b.Amount.Text, "oz", "floz", 1))})
				b.Amount = Quantity{}
				return
			}
		}
	}
}

// Apply notes the purchase. "dried shiitake", or the bare name of a species
// with a weight, goes on the shelf as dried goods.
func (b *Bought) Apply(s *State, e *Entry, d *data.Set) []Problem {
	s.Bought = append(s.Bought, Purchase{e.On, b.Item, b.Amount, b.Lot, e})
	item := folded(b.Item)
	item = strings.TrimPrefix(item, "dried ")
	form := b.Form
	for _, f := range []string{"powder", "pieces"} {
		if rest, ok := strings.CutSuffix(item, " "+f); ok {
			item, form = rest, f
		}
	}
	if name, _, known := s.resolve(item, d); known && b.Amount.Unit == Kilogram && b.Amount.High > 0 {
		s.stored(name, form, b.Lot, "bought", DryIn, b.Amount.grams(), e)
	}
	return nil
}
