package yard

import "testing"

// What can be read of a torn entry is shown as the command that records it.
func TestTornRemedy(t *testing.T) {
	head := "\n[[harvested]]\nwritten = 2026-04-20T10:00:00\non      = 2026-04-20\npile    = \"oak n\"\n"
	for text, want := range map[string]string{
		head + "fresh   = \"1 kg\"\nent": `if it is missed, record it again: hodaba record harvested fresh='1 kg' on=2026-04-20 pile='oak n'; it was cut short in the line "ent", look what is still missing`,
		head + "fresh   = \"1 k":         `if it is missed, record it again: hodaba record harvested on=2026-04-20 pile='oak n'; it was cut short in the line "fresh   = \"1 k", look what is still missing`,
		head:                             `if it is missed, record it again: hodaba record harvested on=2026-04-20 pile='oak n'`,
		head + "\x00\x00":                `if it is missed, record it again: hodaba record harvested on=2026-04-20 pile='oak n'`,
		"[[corrected]]\nwritten = 2026-04-20T10:00:00\nreplaces = \"kitchen-1\"\nvoid = true\n": `if it is missed, record it again: hodaba correct kitchen-1 void=true`,
		"[[harv":              `if it is missed, record it again; nothing of it can be read`,
		"[[neverheard]]\nw":   `if it is missed, record it again; nothing of it can be read`,
		"\xff\xfe":            `if it is missed, record it again; nothing of it can be read`,
		"[[harvested]]\nwrit": `if it is missed, record it again: hodaba record harvested; it was cut short in the line "writ", look what is still missing`,
	} {
		if got := tornRemedy(text); got != want {
			t.Errorf("%q:\n%s\nnot\n%s", text, got, want)
		}
	}
	f, _ := yardOf(t, twinsPiles)
	there := InMemory(map[string]string{"journal-torn-2026-04-20.toml": head + "fresh = \"1 kg\"\nent"})
	c, err := CopyIn(there, "torn", "journal-torn-2026-04-20.toml")
	if err != nil {
		t.Fatal(err)
	}
	if o, err := f.TakeOver(t.Context(), c, false, atSix); err != nil || !o.LeftOut() || !has(o.Problems, 2, "record it again: hodaba record harvested") {
		t.Error(o, err)
	}
}
