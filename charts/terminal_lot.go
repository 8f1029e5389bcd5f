package charts

import (
	"strings"
)

// Lot is the story of a lot: what it came from, and where it went.
func (t Terminal) Lot(s LotStory) string {
	head := wrap("", "  ", s.Lot+": "+listing(s.Is)+".")
	parts := []string{head, t.lotPart("Came from", s.From), t.lotPart("Went to", s.To)}
	if s.Left != "" {
		parts = append(parts, wrap("Still here: ", "  ", s.Left+"."))
	}
	return t.write(parts...)
}

func (t Terminal) lotPart(head string, lines []LotLine) string {
	if len(lines) == 0 {
		return head + "\n  Nothing was written down.\n"
	}
	var b strings.Builder
	b.WriteString(head + "\n")
	for _, l := range lines {
		on, says := l.On.String(), l.Says
		if len(on) > len("2026-04-12") {
			on, says = l.On.From.String(), says+" (until "+l.On.To.String()+")"
		}
		if l.Entry != "" {
			says += " [" + l.Entry + "]"
		}
		b.WriteString(wrap("  "+on+strings.Repeat(" ", 12-len(on)), strings.Repeat(" ", 14), says))
	}
	return b.String()
}

// lotJSON is a story for other programs.
type lotJSON struct {
	Lot      string        `json:"lot"`
	Is       []string      `json:"is"`
	CameFrom []lotLineJSON `json:"came_from"`
	WentTo   []lotLineJSON `json:"went_to"`
	Left     string        `json:"left,omitempty"`
}

type lotLineJSON struct {
	On    string `json:"on"`
	Says  string `json:"says"`
	Entry string `json:"entry,omitempty"`
}

// LotJSON is the story of a lot for other programs; days are as they were
// written.
func LotJSON(s LotStory) ([]byte, error) {
	lines := func(in []LotLine) []lotLineJSON {
		out := []lotLineJSON{}
		for _, l := range in {
			out = append(out, lotLineJSON{l.On.String(), l.Says, l.Entry})
		}
		return out
	}
	return JSON(lotJSON{s.Lot, s.Is, lines(s.From), lines(s.To), s.Left})
}
