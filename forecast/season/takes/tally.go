package takes

import (
	"fmt"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// Tally is a line of the sheet on which helpers keep count: a box for so many
// logs, the last box for what is left.
type Tally struct {
	Month                        yard.Date
	Pile, Species, Strain, Wood  string
	Method                       string
	Logs, Boxes, InBox, InTheEnd int // InTheEnd: logs of the last box
}

// Tag is what is written on the tags of a pile before the day.
type Tag struct {
	Code, Pile, Species, Strain string
	Month                       yard.Date
	Logs, Copies                int
}

func tallies(lines []LineTakes, in *data.Inoculating) (all []Tally) {
	box := int(in.Shop.TallyBox.Value)
	for _, l := range lines {
		if l.Logs <= 0 || box <= 0 {
			continue
		}
		t := Tally{Month: l.Month.MonthStart(), Pile: l.Pile, Species: l.Species, Strain: l.Strain, Wood: l.woodName(),
			Method: l.Method, Logs: l.Logs, Boxes: (l.Logs + box - 1) / box, InBox: box}
		t.InTheEnd = l.Logs - (t.Boxes-1)*box
		if l.Month == 0 {
			t.Month = 0
		}
		all = append(all, t)
	}
	return all
}

// tags makes up a code where a line has none: the first letters of species and
// wood and a number, at most four signs.
func tags(lines []LineTakes, in *data.Inoculating) (all []Tag) {
	taken := map[string]bool{}
	for _, l := range lines {
		taken[strings.ToUpper(l.Code)] = true
	}
	for _, l := range lines {
		if l.Logs <= 0 {
			continue
		}
		t := Tag{l.Code, l.Pile, l.Species, l.Strain, l.Month, l.Logs, int(in.Shop.Tags.Value)}
		for n := 1; t.Code == ""; n++ {
			if code := codeFor(l.Line, n); !taken[code] {
				t.Code = code
			}
		}
		taken[strings.ToUpper(t.Code)] = true
		all = append(all, t)
	}
	return all
}

func codeFor(l Line, n int) string {
	letters := initial(l.Species) + initial(l.woodName())
	number := strings.NewReplacer("0", "A", "1", "B").Replace(fmt.Sprint(n)) // which a tag cannot tell from O and I
	if room := max(0, codeSigns-len(number)); len(letters) > room {
		letters = letters[:room]
	}
	return letters + number
}

// codeSigns is how many signs a tag's code has at most, as in [yard.Inoculated].
const codeSigns = 4

// initial is the first letter of the last word, which names the kind: "O" of
// white oak.
func initial(name string) string {
	words := strings.Fields(name)
	if len(words) == 0 {
		return ""
	}
	if first := strings.ToUpper(words[len(words)-1][:1]); "A" <= first && first <= "Z" && first != "I" && first != "O" {
		return first
	}
	return ""
}
