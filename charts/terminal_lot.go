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
	if r := s.Record; r != nil {
		parts = append(parts, t.recordOf(r)...)
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
		switch {
		case l.Entry != "" && l.By != "":
			says += " [" + l.Entry + ", " + l.By + "]"
		case l.Entry != "":
			says += " [" + l.Entry + "]"
		}
		b.WriteString(wrap("  "+on+strings.Repeat(" ", 12-len(on)), strings.Repeat(" ", 14), says))
	}
	return b.String()
}

// recordOf is what came out of a batch, what went otherwise and what to mind.
func (t Terminal) recordOf(r *RecordOf) (parts []string) {
	if len(r.Measured) > 0 {
		var b strings.Builder
		b.WriteString("Came out\n")
		for _, row := range r.Measured {
			says := row[0] + ": " + row[1]
			if row[2] != "" {
				says += ", against " + row[2]
			}
			if row[3] != "" {
				says += ": " + row[3]
			}
			b.WriteString(wrap("  ", "    ", says))
		}
		parts = append(parts, b.String())
	}
	if len(r.Otherwise) > 0 {
		parts = append(parts, t.lotPart("Went otherwise, and notes", r.Otherwise))
	}
	if len(r.Mind) > 0 {
		var b strings.Builder
		b.WriteString("Mind\n")
		for _, m := range r.Mind {
			b.WriteString(wrap("- ", "  ", m))
		}
		parts = append(parts, b.String())
	}
	return parts
}

// lotJSON is a story for other programs.
type lotJSON struct {
	Lot      string           `json:"lot"`
	Is       []string         `json:"is"`
	CameFrom []lotLineJSON    `json:"came_from"`
	WentTo   []lotLineJSON    `json:"went_to"`
	Left     string           `json:"left,omitempty"`
	Record   *batchRecordJSON `json:"record,omitempty"`
}

type batchRecordJSON struct {
	Measured  []measuredJSON `json:"measured"`
	Otherwise []lotLineJSON  `json:"otherwise"`
	Cautions  []string       `json:"cautions"`
}

type measuredJSON struct {
	What    string `json:"what"`
	Got     string `json:"measured"`
	Against string `json:"against,omitempty"`
	Share   string `json:"share,omitempty"`
}

type lotLineJSON struct {
	On    string `json:"on"`
	Says  string `json:"says"`
	Entry string `json:"entry,omitempty"`
	By    string `json:"by,omitempty"`
}

// LotJSON is the story of a lot for other programs; days are as they were
// written.
func LotJSON(s LotStory) ([]byte, error) {
	lines := func(in []LotLine) []lotLineJSON {
		out := []lotLineJSON{}
		for _, l := range in {
			out = append(out, lotLineJSON{l.On.String(), l.Says, l.Entry, l.By})
		}
		return out
	}
	j := lotJSON{s.Lot, s.Is, lines(s.From), lines(s.To), s.Left, nil}
	if r := s.Record; r != nil {
		j.Record = &batchRecordJSON{Measured: []measuredJSON{}, Otherwise: lines(r.Otherwise), Cautions: append([]string{}, r.Mind...)}
		for _, row := range r.Measured {
			j.Record.Measured = append(j.Record.Measured, measuredJSON{row[0], row[1], row[2], row[3]})
		}
	}
	return JSON(j)
}
