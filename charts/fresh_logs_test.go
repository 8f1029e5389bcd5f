package charts

import (
	"encoding/json"
	"strings"
	"testing"

	"hodaba/yard"
)

// Logs that were missing when they were counted are told beside what was
// missing of dried goods and bottles, and in the book of their pile.
func TestLogsMissingAtACount(t *testing.T) {
	in := aYard()
	p := in.State.Pile("oak-north")
	p.LogsKnown, p.Logs = true, 25
	p.LogMoves = []yard.LogMove{{On: on("2024-04-12"), How: yard.LogBegun, Logs: 40}, {On: on("2025-05-01"), How: yard.LogLost, Logs: -3},
		{On: on("2025-06-01"), How: yard.LogRetired, Logs: -2}, {On: on("2026-04-01"), How: yard.LogUnexplained, Logs: -10}}
	in.State.Pile("elm-2024").LogMoves = []yard.LogMove{{On: on("2024-04-12"), How: yard.LogBegun, Logs: 5}, {On: on("2026-04-02"), How: yard.LogUnexplained, Logs: 1}}
	in.State.Pile("elm-2024").LogsKnown, in.State.Pile("elm-2024").Logs = true, 6
	b := newBook(in)
	var said []string
	for _, r := range b.unexplained().Rows {
		said = append(said, strings.Join(r, " "))
	}
	for _, text := range []string{strings.Join(said, "\n"), strings.Join(strings.Fields(Terminal{}.countedStock(in.State)), " ")} {
		for _, want := range []string{"oak-north 10 logs fewer", "elm-2024 1 log more"} {
			if !strings.Contains(text, want) {
				t.Errorf("missing %q in %s", want, text)
			}
		}
	}
	out, err := json.Marshal(freshStockOf(in.State, in.Data))
	if err != nil || !strings.Contains(string(out), `"what":"oak-north","dry_g":0,"bottles":0,"logs":-10`) {
		t.Errorf("%v %s", err, out)
	}
	for pile, want := range map[string]string{"oak-north": "40 logs in = 25 standing + 3 lost + 2 retired + 10 missing when counted, unexplained",
		"elm-2024": "5 logs in, and 1 more counted than the book had = 6 standing"} {
		if got := logBookWords(in.State.Pile(pile)); got != want {
			t.Errorf("%s: %q, want %q", pile, got, want)
		}
		if err := in.State.Pile(pile).LogTerms().Balance(); err != nil {
			t.Error(err)
		}
	}
	if got := logBookWords(in.State.Pile("oak-old")); got != "" {
		t.Errorf("where none went: %q", got)
	}
}
