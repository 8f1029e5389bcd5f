package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// mayImport is the direction of flow: which of our rooms each may import. A
// room that is not listed may not exist.
var mayImport = map[string][]string{
	"data": {},
	"yard": {"data"},

	"forecast/chance":   {},
	"forecast/climate":  {"forecast/chance", "yard", "data"},
	"forecast/ground":   {"forecast/chance", "forecast/climate", "yard", "data"},
	"forecast/growth":   {"forecast/chance", "forecast/climate", "forecast/ground", "yard", "data"},
	"forecast/colonise": {"forecast/chance", "forecast/climate", "forecast/ground", "forecast/growth", "yard", "data"},
	"forecast/fruit":    {"forecast/chance", "forecast/climate", "forecast/ground", "forecast/growth", "forecast/colonise", "yard", "data"},
	"forecast/harvest":  {"forecast/chance", "forecast/climate", "forecast/ground", "forecast/growth", "forecast/colonise", "forecast/fruit", "yard", "data"},
	"forecast/alcohol":  {"data"},
	"forecast/tincture": {"forecast/chance", "forecast/alcohol", "forecast/harvest", "yard", "data"},
	"forecast":          {"forecast/…", "yard", "data"},
	"forecast/score":    {"forecast", "forecast/chance", "yard", "data"},

	"forecast/season/linear": {"forecast/chance"},
	"forecast/season/takes":  {"forecast/climate", "forecast/fruit", "forecast/harvest", "yard", "data"},
	"forecast/season":        {"forecast", "forecast/climate", "forecast/season/linear", "forecast/season/takes", "yard", "data"},

	"charts":        {"charts/script", "forecast", "forecast/…", "yard", "data"},
	"charts/script": {},
	"cmd/hodaba":    {"charts", "charts/script", "forecast", "forecast/…", "yard", "data"},
}

// neverImport are packages that have no business in a room and those below it.
var neverImport = map[string][]string{
	// The model has no clock, no files, no flags and no HTML.
	"forecast": {"os", "io/fs", "io/ioutil", "path/filepath", "flag", "html", "html/template", "net/http", "github.com/spf13/cobra"},
	"data":     {"net/http", "github.com/spf13/cobra"},
	"yard":     {"net/http", "html/template", "github.com/spf13/cobra", "gonum.org/v1/gonum/stat/distuv"},
	"charts":   {"github.com/spf13/cobra"},
}

type imported struct {
	ImportPath string
	Imports    []string
}

func TestDirectionOfImports(t *testing.T) {
	for _, p := range listed(t) {
		room := strings.TrimPrefix(p.ImportPath, "hodaba/")
		allowed, ok := mayImport[room]
		if !ok {
			t.Errorf("%s is no room of the house: add it to the table, with what it may import", p.ImportPath)
			continue
		}
		for _, im := range p.Imports {
			if ours, ok := strings.CutPrefix(im, "hodaba/"); ok && !within(ours, allowed) {
				t.Errorf("%s imports %s: against the direction of flow", room, ours)
			}
			if slices.Contains(neverImport[strings.Split(room, "/")[0]], im) && !strings.HasPrefix(room, "charts/script") {
				t.Errorf("%s imports %s, which has no business there", room, im)
			}
		}
	}
}

// TestDirectionIsHeld plants an import that goes back and sees it caught.
func TestDirectionIsHeld(t *testing.T) {
	for room, back := range map[string]string{"data": "yard", "yard": "forecast", "forecast/chance": "forecast/climate", "charts": "cmd/hodaba"} {
		if within(back, mayImport[room]) {
			t.Errorf("%s may import %s", room, back)
		}
	}
	if !within("forecast/tincture", mayImport["charts"]) {
		t.Error("charts may not import forecast/tincture")
	}
}

func within(room string, allowed []string) bool {
	return slices.ContainsFunc(allowed, func(a string) bool {
		parent, all := strings.CutSuffix(a, "…")
		return room == a || all && strings.HasPrefix(room, parent)
	})
}

func listed(t *testing.T) []imported {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "hodaba/...")
	out, err := cmd.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("go list: %s", exit.Stderr)
		}
		t.Fatal(err)
	}
	var all []imported
	d := json.NewDecoder(strings.NewReader(string(out)))
	for {
		var p imported
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 10 {
		t.Fatalf("only %d packages found", len(all))
	}
	return all
}
