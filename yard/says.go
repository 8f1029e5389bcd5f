package yard

import (
	"slices"
	"strings"
)

// Piles are the piles and beds that an entry names, as it names them.
func (e *Entry) Piles() []string {
	n, ok := e.effectiveNamer()
	if !ok {
		return nil
	}
	piles, begins := n.names()
	var out []string
	for _, name := range slices.Concat(piles, begins) {
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// Day is the day of the entry: of one that has none, such as a correction that
// voids another, the day on which it was written.
func (e *Entry) Day() When {
	if d := e.Written.Day(); e.On.IsZero() && d != 0 {
		return On(d)
	}
	return e.On
}

// Says is the entry in a line of words, without its day: "harvested
// oak-north: fresh 2.4 kg, logs 12".
func (e *Entry) Says() string { return e.says(e.Values(), "") }

// SaysApart is Says without the note, the note, and for each of the entry's
// keys what a person would type.
func (e *Entry) SaysApart() (says, note string, values map[string]string) {
	values = e.Values()
	return e.says(values, "note"), values["note"], values
}

// says puts the values into words, but for one key.
func (e *Entry) says(values map[string]string, without string) string {
	kindName := e.Kind
	var b strings.Builder
	if c, ok := e.Event.(*Corrected); ok {
		if c.Right == nil {
			return "void: " + c.Replaces
		}
		b.WriteString("corrected " + c.Replaces + ": ")
		kindName = c.Of
	}
	b.WriteString(kindName)
	var rest []string
	for i, k := range KeysOf(kindName) {
		v := values[k.Name]
		switch {
		case v == "" || k.Name == "on" || k.Name == "by" || k.Name == without:
		case i == 0:
			b.WriteString(" " + v)
		case k.Kind == YesNoKey && v == "true":
			rest = append(rest, spaced(k.Name))
		case k.Kind == YesNoKey:
			rest = append(rest, "not "+spaced(k.Name))
		case k.Kind == IngredientsKey || k.Kind == PartsKey || k.Kind == BottlesKey:
			rest = append(rest, e.inWords(k.Kind)...)
		case strings.HasSuffix(k.Name, "abv_percent"):
			rest = append(rest, strings.TrimSpace(spaced(strings.TrimSuffix(k.Name, "abv_percent"))+" "+v+" % by volume"))
		case strings.HasSuffix(k.Name, "_percent"):
			rest = append(rest, spaced(strings.TrimSuffix(k.Name, "_percent"))+" "+v+" %")
		default:
			rest = append(rest, spaced(k.Name)+" "+v)
		}
	}
	if len(rest) > 0 {
		b.WriteString(": " + strings.Join(rest, ", "))
	}
	return b.String()
}

func spaced(key string) string { return strings.ReplaceAll(key, "_", " ") }

// inWords are the ingredients or bottles of an entry.
func (e *Entry) inWords(kind KeyKind) (words []string) {
	x := e.effective()
	if x == nil {
		return nil
	}
	switch ev := x.Event.(type) {
	case *Macerated:
		for _, t := range ev.Ingredients {
			words = append(words, t.Species+" "+t.Dry.Text)
		}
	case *Blended:
		for _, p := range ev.From {
			words = append(words, "from "+p.said())
		}
	case *Gone:
		words = bottleWords(ev.Bottles)
	case *Bottled:
		words = bottleWords(ev.Bottles)
	case *Counted:
		words = bottleWords(ev.Bottles)
	}
	return words
}

func bottleWords(bottles []BottleCount) (words []string) {
	for _, b := range bottles {
		if b.SizeML > 0 {
			words = append(words, decimal(float64(b.Count))+" x "+decimal(b.SizeML)+" ml")
		} else {
			words = append(words, decimal(float64(b.Count))+" bottles")
		}
	}
	return words
}
