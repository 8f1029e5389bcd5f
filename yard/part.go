package yard

import "strings"

// PartLetters are the letters of the parts of a pile that go into the tank by
// themselves. I and O are left out, which a tag cannot tell from 1 and 0.
const PartLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ"

// partColours are those of the tags, in the order of the letters: of different
// brightness, and no green beside the red. From the ninth part on a tag has two
// bands of its colour, from the seventeenth on three.
var partColours = []string{"red", "blue", "yellow", "black", "white", "orange", "light blue", "pink"}

var bandWords = []string{"", "two ", "three "}

// PartLetter is the letter of a part, from 0, on its tag; "" for what is none.
func PartLetter(part int) string {
	if part < 0 || part >= len(PartLetters) {
		return ""
	}
	return PartLetters[part : part+1]
}

// PartBands are the colour of the tag of a part and how many bands of it the tag
// has; "" and 0 for what is none.
func PartBands(part int) (colour string, bands int) {
	if PartLetter(part) == "" {
		return "", 0
	}
	return partColours[part%len(partColours)], part/len(partColours) + 1
}

// PartColour is the colour of the tag of a part, in words; "" for what is none.
func PartColour(part int) string {
	colour, bands := PartBands(part)
	if bands == 0 {
		return ""
	}
	return bandWords[bands-1] + colour
}

// PartNumber is the number of a part, from 0, by its letter or the colour of
// its tag: "A", "red", "A red". ok is false for any other name, and for none.
func PartNumber(name string) (part int, ok bool) {
	words := strings.Fields(strings.ToLower(name))
	if len(words) == 0 {
		return 0, false
	}
	colour := strings.Join(words, " ")
	if len(words[0]) == 1 {
		if part = strings.Index(PartLetters, strings.ToUpper(words[0])); part < 0 {
			return 0, false
		}
		colour = strings.Join(words[1:], " ")
		return part, colour == "" || colour == PartColour(part)
	}
	for part = range len(PartLetters) {
		if colour == PartColour(part) {
			return part, true
		}
	}
	return 0, false
}

// partName is a part as it is kept: by its letter, or as written where it has
// none.
func partName(name string) string {
	if part, ok := PartNumber(name); ok {
		return PartLetter(part)
	}
	return strings.TrimSpace(name)
}

// notOnTheList points at a part that has neither letter nor colour of a tag.
func (e *Entry) notOnTheList(part string) []Problem {
	if _, ok := PartNumber(part); ok || strings.TrimSpace(part) == "" {
		return nil
	}
	return []Problem{e.odd("part", shown(part)+" is neither letter nor colour of a part",
		"write a letter from A on (I and O are left out) or the colour of its tag; it is kept as a part of its own")}
}

// SameLogs reports whether two soaks of the pile were certainly of some of the
// same logs: of one part, or one of them of all. Some logs of no part that is
// named may be others each time.
func (p *Pile) SameLogs(a, b Soaking) bool {
	whole := func(k Soaking) bool { return k.Part == "" && (k.Logs == 0 || p.LogsKnown && k.Logs >= p.Logs) }
	return whole(a) || whole(b) || a.Part != "" && folded(a.Part) == folded(b.Part)
}
