package main

import (
	"path/filepath"
	"strings"
	"testing"

	"hodaba/yard"
)

// Of thousands of problems of one kind verify tells the first and counts all.
func TestVerifyCountsWhatItDoesNotTell(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "yard")
	runHealthy(dir, "start", "DIR", "--station", "oxford", "--units", "metric")
	faultless(yard.OnDisk(dir).Replace(yard.JournalFile, []byte(strings.Repeat("[[walked]]\non = 2025-01-01\n", 1501))))
	status, out := runIn(dir, "", 1, "verify", "--yard", "DIR")
	if n := strings.Count(out, "delete one of them if it happened once"); status != statusDone || n < 500 || n > 1000 || !strings.HasSuffix(out, "odd: 1500.\n") {
		t.Errorf("%d, %d told: …%s", status, n, out[max(0, len(out)-300):])
	}
	if _, out := runIn(dir, "", 1, "verify", "--json", "--yard", "DIR"); !strings.Contains(out, `"warnings": 1500,`) {
		t.Errorf("%.200s", out)
	}
}
