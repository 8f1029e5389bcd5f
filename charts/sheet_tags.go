package charts

import (
	"slices"
	"strings"
	"unicode"

	"hodaba/forecast"
	"hodaba/yard"
)

// tagSheet are tags for the piles, in pages: those that are planned first, then
// those that stand.
type tagSheet struct {
	Pages [][]pileTag
	Hint  string
}

// pileTag is the tag of one pile, or of one part of it.
type pileTag struct {
	Code, Pile, What, How, When, Logs, Yard string
	Part, Colour                            string   // letter of the part and colour of its tag; "" for a whole pile
	Bands                                   []string // classes of the bands of its colour
	Fit                                     string   // class by the length of the text
}

const mostTags = 600 // that are printed in one go

func (b *book) tagSheet() tagSheet {
	var tags []pileTag
	open := openPlans(b.State)
	codes := b.codesFor(open)
	for i, k := range open {
		if k.Pile == "" || b.State.Pile(k.Pile) != nil { // the pile stands and is only to grow
			continue
		}
		t := pileTag{Code: codes[i], Pile: k.Pile, What: strings.Join(wordsOf(k.Species, k.Strain), ", "), How: strings.Join(wordsOf(k.Wood, k.Spawn), ", "),
			When: strings.TrimSpace("planned for " + whenPlanned(k)), Logs: countOrBlank(k.Left)}
		tags = append(tags, t)
	}
	parts := forecast.TankParts(b.State, b.Data)
	for _, p := range b.State.Piles {
		if p.Closed != 0 {
			continue
		}
		logs := ""
		if p.LogsKnown {
			logs = countOrBlank(p.Started)
		}
		tag := pileTag{Code: p.Code, Pile: p.Name, What: strings.Join(wordsOf(p.Species, p.Strain), ", "), How: strings.Join(wordsOf(p.Wood, p.Spawn, p.SpawnLot), ", "),
			When: "since " + sinceWords(p.Since), Logs: logs}
		tags = append(tags, tag.of(parts[p.Name])...)
	}
	var out tagSheet
	for i := range tags[:min(len(tags), mostTags)] {
		if i%labelsOnPage == 0 {
			out.Pages = append(out.Pages, nil)
		}
		out.Pages[len(out.Pages)-1] = append(out.Pages[len(out.Pages)-1], b.fitted(tags[i]))
	}
	out.Hint = "A code on a tag of a pile that is planned is a proposal: record it with code=. For tags of metal copy the code with a ballpoint; O, 0, I and 1 are left out because they look alike. A pile that goes into the tank in parts has a tag for each part: the letter decides where its colour has faded."
	return out
}

// of is a tag for each part of a pile, or the one of the pile where it has none.
func (t pileTag) of(parts []forecast.TankPart) []pileTag {
	if len(parts) == 0 {
		return []pileTag{t}
	}
	var each []pileTag
	for _, p := range parts {
		one := t
		one.Part, one.Colour, one.Logs = p.Part, colourOf(p.Part), countOrBlank(p.Logs)
		part, _ := yard.PartNumber(p.Part)
		colour, bands := yard.PartBands(part)
		one.Bands = slices.Repeat([]string{strings.ReplaceAll(colour, " ", "-")}, bands)
		each = append(each, one)
	}
	return each
}

// fitted cleans and shortens what stands on a tag.
func (b *book) fitted(t pileTag) pileTag {
	t.Pile, t.What, t.How, t.When, t.Yard = cut(t.Pile, longestLot), cut(t.What, longestLot), cut(t.How, longestLot), cut(t.When, mostName), cut(b.maker(), mostName)
	switch n := len([]rune(t.Pile)) + len([]rune(t.What)) + len([]rune(t.How)); {
	case n > 110:
		t.Fit = "tightest"
	case n > 60:
		t.Fit = "tight"
	}
	return t
}

// codesFor proposes a code for each plan whose pile has none: letters of
// species and wood and a figure, such as no other pile has.
func (b *book) codesFor(open []*yard.Planning) []string {
	taken := map[string]bool{}
	for _, p := range b.State.Piles {
		taken[strings.ToUpper(p.Code)] = true
	}
	out := make([]string, len(open))
	for i, k := range open {
		if p := b.State.Pile(k.Pile); p != nil {
			out[i] = p.Code
			continue
		}
		out[i] = freeCode(lettersOf(k.Species)+lettersOf(k.Wood), taken)
		taken[out[i]] = true
	}
	return out
}

// codeFigures are those that nobody misreads.
const codeFigures = "23456789"

// freeCode is a code that is not taken; "" where all are.
func freeCode(letters string, taken map[string]bool) string {
	for _, a := range append([]rune{0}, []rune(codeFigures)...) {
		for _, z := range codeFigures {
			code := letters + string(z)
			if a != 0 {
				code = letters + string(a) + string(z)
			}
			if !taken[code] {
				return code
			}
		}
	}
	return ""
}

// lettersOf is the first letter of the last word of a name, which names the
// kind; none of those that look like a figure.
func lettersOf(name string) string {
	words := strings.Fields(name)
	if len(words) == 0 {
		return ""
	}
	for _, r := range words[len(words)-1] {
		if r = unicode.ToUpper(r); r >= 'A' && r <= 'Z' && r != 'O' && r != 'I' {
			return string(r)
		}
	}
	return ""
}
