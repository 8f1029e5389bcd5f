//go:build slow

package charts

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodaba/yard"
)

// readBack is what an outside reader finds in a calendar.
type readBack struct {
	Method string         `json:"method"`
	Name   string         `json:"name"`
	Parts  []readBackPart `json:"parts"`
}

type readBackPart struct {
	Kind        string `json:"kind"`
	UID         string `json:"uid"`
	Summary     string `json:"summary"`
	Description string `json:"description"`
	Start       string `json:"start"`
	End         string `json:"end"`
	Due         string `json:"due"`
	Sequence    int    `json:"sequence"`
	Stamp       string `json:"stamp"`
	DailyUntil  string `json:"daily_until"`
	Alarms      []int  `json:"alarm_minutes"`
}

// meant is what stands in a calendar by what was put into it, not by what was
// written.
func meant(in Input) readBack {
	b := newBook(in)
	r := revisionOf(b.State)
	out := readBack{Method: "PUBLISH", Name: calendarName(b.State.Config.Name)}
	for _, a := range b.appointments() {
		p := readBackPart{Kind: "VEVENT", UID: a.identifier("event"), Summary: a.summary, Description: a.description,
			Start: a.from.String(), End: (a.from + 1).String(), Sequence: r.sequence, Stamp: r.stamp.Format("2006-01-02T15:04:05"), Alarms: []int{}}
		if a.step == shakeStep {
			p.DailyUntil, p.Alarms = a.to.String(), []int{9 * 60}
			out.Parts = append(out.Parts, p)
			continue
		}
		todo := p
		todo.Kind, todo.UID, todo.Start, todo.End, todo.Due = "VTODO", a.identifier("todo"), "", "", a.from.String()
		switch {
		case a.done:
		case a.step == "start":
			todo.Alarms = []int{-(2*24 + 15) * 60}
		default:
			todo.Alarms = []int{-15 * 60}
		}
		out.Parts = append(out.Parts, p, todo)
	}
	return out
}

// readers are three readers of iCalendar by other people: icalendar and
// vobject, as Debian packs them, and ical.js, as npm brings it.
var readers = []struct{ name, command, script string }{
	{"icalendar", "/usr/bin/python3", "read_icalendar.py"},
	{"vobject", "/usr/bin/python3", "read_vobject.py"},
	{"ical.js", "node", "read_icaljs.cjs"},
}

// Every component is read back equal by each of the readers, whatever was
// typed.
func TestAgainstThreeReaders(t *testing.T) {
	for _, r := range readers {
		t.Run(r.name, func(t *testing.T) {
			needs(t, r.command, r.script)
			parts := compareRead(t, r.command, r.script, inCalendar())
			for i, s := range nasty {
				lot := "N-" + string(rune('a'+i))
				in := withNames(lot, s, s, s)
				parts += compareRead(t, r.command, r.script, in)
			}
			t.Logf("%d components of %d calendars read back equal", parts, 1+len(nasty))
		})
	}
}

func compareRead(t *testing.T, command, script string, in Input) int {
	t.Helper()
	path := filepath.Join(t.TempDir(), "batches.ics")
	if err := os.WriteFile(path, []byte(icsOf(t, in)), 0o644); err != nil {
		t.Fatal(err)
	}
	out := answer(t, command, script, path)
	var got readBack
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatalf("%s: %q", err, out)
	}
	want := meant(in)
	for _, r := range []readBack{want, got} { // one of the readers hands them out by kind
		slices.SortFunc(r.Parts, func(x, y readBackPart) int { return strings.Compare(x.UID, y.UID) })
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("not read back as it was meant:\n%s", d)
	}
	return len(want.Parts)
}

func answer(t *testing.T, command, script, path string) []byte {
	t.Helper()
	var errs bytes.Buffer
	cmd := exec.Command(command, filepath.Join("testdata", "readers", script), path)
	cmd.Env = append(os.Environ(), "PYTHONDONTWRITEBYTECODE=1")
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %s\n%s", script, err, errs.String())
	}
	return out
}

// needs skips where a reader is missing, but not in CI, where it is installed.
func needs(t *testing.T, command, script string) {
	t.Helper()
	load := map[string][]string{"read_icalendar.py": {"-c", "import icalendar"}, "read_vobject.py": {"-c", "import vobject"},
		"read_icaljs.cjs": {"-e", "require('ical.js')"}}[script]
	if out, err := exec.Command(command, load...).CombinedOutput(); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s cannot be had: %s %s", script, err, out)
		}
		t.Skipf("%s cannot be had (bash .ci/slow installs it): %s", script, err)
	}
}

// Two exports of two days are read by the same identifiers.
func TestReadersSeeAnUpdate(t *testing.T) {
	uids := func(in Input) (list []string) {
		for _, p := range meant(in).Parts {
			list = append(list, p.UID)
		}
		return list
	}
	later := inCalendar()
	later.State.AsOf += yard.Date(3)
	if d := cmp.Diff(uids(inCalendar()), uids(later)); d != "" {
		t.Error(d)
	}
	for _, r := range readers {
		t.Run(r.name, func(t *testing.T) {
			needs(t, r.command, r.script)
			compareRead(t, r.command, r.script, later)
		})
	}
}
