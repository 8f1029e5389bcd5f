package yard

import "testing"

// A path is typed as it stands where the shell leaves it alone, else in quotes.
func TestCommandPath(t *testing.T) {
	for path, want := range map[string][2]string{ // on Windows, elsewhere
		"yard.zip":      {"yard.zip", "yard.zip"},
		`C:\yards\a b`:  {`"C:\yards\a b"`, `'C:\yards\a b'`},
		`C:\yards\a`:    {`C:\yards\a`, `'C:\yards\a'`},
		"a|b#c~<>![d]":  {`"a|b#c~<>![d]"`, "'a|b#c~<>![d]'"},
		"~/x.zip":       {`"~/x.zip"`, "'~/x.zip'"},
		"it's.zip":      {`"it's.zip"`, `'it'\''s.zip'`},
		"-x.zip":        {"./-x.zip", "./-x.zip"},
		"chêne (2).zip": {`"chêne (2).zip"`, "'chêne (2).zip'"},
		"":              {`""`, "''"},
	} {
		if got := [2]string{commandPath(path, true), commandPath(path, false)}; got != want {
			t.Errorf("%q: %q, not %q", path, got, want)
		}
	}
}
