package charts

import (
	"fmt"
	"strings"

	"hodaba/forecast"
)

// Why explains the forecast of one pile or bed in sentences, and ends with the
// visit worth making next.
func (t Terminal) Why(in Input, p *forecast.Pile) string {
	b := newBook(in)
	b.units = units{us: t.US}
	w := b.whyOf(p, b.State.Pile(p.Name))
	seen := ""
	if len(w.Seen) > 0 {
		var l strings.Builder
		l.WriteString(wrap("", "", seenCaption+":"))
		for _, s := range w.Seen {
			l.WriteString(wrap("- ", "  ", fmt.Sprintf("%s: %s – %s", s.When, s.What, s.Does)))
		}
		seen = l.String()
	}
	return t.write(
		wrap("", "", t.title(p))+wrap("", "", leadOf(p, b.Result)),
		paragraphs(w.Before),
		seen,
		paragraphs(w.After),
		wrap("", "", w.Visit),
	)
}
