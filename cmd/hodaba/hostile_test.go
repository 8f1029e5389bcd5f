package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
)

// hostileSigns colour a terminal, clear it, rename its window, ring, turn the
// direction of writing, hide, and end a line; as TOML writes them.
const hostileSigns = `\u001b[2J\u001b]0;x\u0007\u009b31m\u202e\u2066\u200b\u2060\ufeff\u00ad\r\u0008\u007f\u2028\U000e0041`

// namedByHand are the keys of the files whose text somebody types freely.
var namedByHand = regexp.MustCompile(`(?m)(\b(?:name|pile|piles|into|bed|batch|lot|recipe|note|by|cause|what|item|supplier|place|to|who|identified_by|entry|replaces|spawn_lot|spirit_lot|address|area|organic_ref|initials|water|exposure)\s*=\s*\[?)((?:"[^"\n]*"(?:, )?)+)`)

// hostileFolder is the yard of the tests with such signs in every name and
// note.
func hostileFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"yard.toml", "recipes.toml", "journal.toml"} {
		b, err := os.ReadFile(filepath.Join("../../testdata/yards/fernbrook", name))
		if err != nil {
			t.Fatal(err)
		}
		text := namedByHand.ReplaceAllStringFunc(string(b), func(s string) string {
			return regexp.MustCompile(`"([^"])`).ReplaceAllString(s, `"$1`+hostileSigns)
		})
		text = strings.ReplaceAll(text, `exposure = "f`+hostileSigns, `exposure = "f`)
		if text == string(b) {
			t.Fatalf("%s has nothing to say", name)
		}
		if name == "journal.toml" {
			text += "\n[[no" + "\x1b[2J\u202e" + "kind]]\non = 2026-01-01\n\n[[lost]]\non = 2026-01-01\npile = \"" + hostileSigns + "\"\nx\u202ey = 1\n\"k" + hostileSigns + "\" = 2\n"
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	weather := "date,tmin_c,tmax_c,rain_mm,odd\x1b[2J\u202e\n2026-01-01,1,5,0,\n2026-01-02,x\x1b[2J,5,0,\n"
	if err := os.WriteFile(filepath.Join(dir, "weather.csv"), []byte(weather), 0o600); err != nil {
		t.Fatal(err)
	}
	return dir
}

// steering finds what must not reach a terminal.
func steering(out []byte) int {
	return bytes.IndexFunc(out, func(r rune) bool {
		return r != '\n' && (unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp))
	})
}

// Whatever somebody typed or pasted into a yard, no command lets it steer the
// terminal, in no form of its answer and in no message.
func TestNothingTypedSteersTheTerminal(t *testing.T) {
	dir := hostileFolder(t)
	commands := [][]string{
		{"work", "--draws", "20"}, {"history"}, {"history", "harvested"}, {"history", "no\x1b[2J\u202esuch"}, {"verify"}, {"stock"}, {"score", "--draws", "20"},
		{"forecast", "--draws", "20"}, {"batches", "--draws", "20"}, {"soaks", "--draws", "20"}, {"soaks", "--logs", "12", "--draws", "20"}, {"supply", "--draws", "20"},
		{"lot", "no\u202esuch"}, {"print", "batch", "no\x1b[2Jsuch"}, {"pages", "--draws", "20"},
		{"forecast", "no\u202esuch"}, {"correct", "no\x1b[2Jsuch", "x=1"}, {"correct", "kitchen\u202e", "x=1"}, {"no\x1b[2Jsuch"}, {"work", "--no\x1b[2Jsuch"},
		{"record", "lost", "no\x1b[2J\u202esuch", "3", "by\x1b[2J"}, {"undo"}, {"record", "no\u202ekind"}, {"import", "weather", filepath.Join(dir, "weather.csv")},
		{"strength", "dilute", "1\x1b[2J@2"}, {"export", "piles"}, {"export", "harvests"}, {"export", "entries"}, {"export", "stock"}, {"put-back"},
	}
	if testing.Short() {
		commands = commands[:6]
	}
	for _, lot := range hostileNames(t, dir, "batch") {
		commands = append(commands, []string{"lot", lot}, []string{"print", "batch", lot})
	}
	for i, pile := range hostileNames(t, dir, "pile") {
		if i < 2 {
			commands = append(commands, []string{"forecast", pile, "--why", "--draws", "20"}, []string{"history", pile})
		}
	}
	said := 0
	for _, words := range commands {
		forms := [][]string{nil, {"--json"}}
		if slices.Contains([]string{"stock", "forecast", "batches", "soaks"}, words[0]) && len(words) < 4 {
			forms = append(forms, []string{"--csv"})
		}
		for _, form := range forms {
			args := append(append([]string{}, words...), form...)
			if words[0] != "strength" && words[0] != "no\x1b[2Jsuch" {
				args = append(args, "--yard", dir)
			}
			var out, err bytes.Buffer
			a := &app{in: strings.NewReader(""), out: &out, err: &err, now: time.Date(2026, 5, 1, 18, 2, 0, 0, time.UTC), host: "kitchen",
				env:     func(name string) string { return map[string]string{"LC_ALL": "C.UTF-8"}[name] },
				library: func() ([]byte, bool) { return nil, false }, bring: func(context.Context) error { return errors.New("no network in tests") }}
			a.run(context.Background(), args)
			for _, b := range [][]byte{out.Bytes(), err.Bytes()} {
				if at := steering(b); at >= 0 {
					t.Errorf("%q lets through: %q", args, b[max(0, at-60):min(len(b), at+30)])
				}
			}
			said += out.Len()
			if form != nil && form[0] == "--json" && out.Len() > 0 && !json.Valid(out.Bytes()) {
				t.Errorf("%q answers no JSON", args)
			}
		}
	}
	if said < 20_000 && !testing.Short() {
		t.Errorf("the commands said only %d bytes", said)
	}
	pages, err := filepath.Glob(filepath.Join(dir, "pages", "*"))
	if err != nil || len(pages) == 0 && !testing.Short() {
		t.Fatal("no pages", err)
	}
	for _, page := range pages {
		b, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		if at := steering(b); at >= 0 {
			t.Errorf("%s holds %q", page, b[max(0, at-60):min(len(b), at+30)])
		}
	}
}

// hostileNames are the names that a key has in the journal, as they were
// typed.
func hostileNames(t *testing.T, dir, key string) (names []string) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, "journal.toml"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^`+key+`\s*=\s*("[^"\n]*")`).FindAllStringSubmatch(string(b), -1) {
		var s string
		text := strings.NewReplacer(`\U000e0041`, "\U000e0041").Replace(m[1])
		if err := json.Unmarshal([]byte(text), &s); err != nil {
			t.Fatal(text, err)
		}
		if !seen[s] {
			seen[s] = true
			names = append(names, s)
		}
	}
	return names
}
