package yard

import (
	"strings"
	"testing"
)

// rolledBack is a yard over which an older archive was unzipped: its journal,
// the memory of the end and the copies of that time are back, and what was
// recorded since stands in the daily copy of a later day alone.
func rolledBack(t *testing.T) (*Folder, *Memory) {
	t.Helper()
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f)) // kitchen-2, on a Friday
	a, _, err := f.Pack(t.Context(), may)
	if err != nil {
		t.Fatal(err)
	}
	lost := strings.Replace(walk(t, f), "\n", "\nnote = \"recorded since\"\n", 1)
	if id, _, err := f.Record(lost, "kitchen", "2026-05-02T08:00:00"); err != nil || id != "kitchen-3" {
		t.Fatal(id, err)
	}
	for _, name := range a.Names() {
		m.files[name] = a.files[name]
	}
	return mergeReopen(t, m), m
}

// The number of an entry that a daily copy still has is not given again, though
// the journal and the memory of the end agree with each other; and the entry is
// offered, and put back.
func TestRolledBackTogether(t *testing.T) {
	f, _ := rolledBack(t)
	id, problems, err := f.Record(walk(t, f), "kitchen", "2026-05-03T08:00:00")
	if err != nil || id != "kitchen-4" {
		t.Errorf("the next entry is %s, and a daily copy has kitchen-3: %v", id, err)
	}
	if !has(problems, 0, "entry kitchen-3 was recorded and is not in the journal any more") {
		t.Errorf("it is not said:\n%s", lines(problems))
	}
	missing, err := f.Missing()
	if err != nil || len(missing) != 1 || missing[0].ID != "kitchen-3" || missing[0].Copy != copyName(may+1) {
		t.Errorf("missing are %v %v", missing, err)
	}
	if ids, _, err := f.PutBack(t.Context(), "2026-05-03T09:00:00"); err != nil || len(ids) != 1 || ids[0] != "kitchen-3" {
		t.Error(ids, err)
	}
	entries, problems := f.Entries()
	if len(entries) != 4 || len(problems) > 0 {
		t.Errorf("%d entries\n%s", len(entries), lines(problems))
	}
	if last := entries[len(entries)-1]; last.ID == "kitchen-3" && last.Note != "recorded since" {
		t.Errorf("put back is %s", last.Text)
	}
}

// Also where nothing was recorded since: verify and put-back see it.
func TestRolledBackIsMissed(t *testing.T) {
	f, _ := rolledBack(t)
	if !has(f.Check(), 0, "entry kitchen-3 was recorded and is not in the journal any more") {
		t.Error("verify does not say it")
	}
	if ids, _, err := f.PutBack(t.Context(), "2026-05-03T09:00:00"); err != nil || len(ids) != 1 || ids[0] != "kitchen-3" {
		t.Error(ids, err)
	}
	if id, problems := record(t, f, walk(t, f)); id != "kitchen-4" || len(problems) > 0 {
		t.Errorf("the next entry is %s\n%s", id, lines(problems))
	}
}
