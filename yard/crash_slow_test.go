//go:build slow

package yard

import "testing"

// TestKilledOften is TestKilled for a thousand entries.
func TestKilledOften(t *testing.T) { killUntil(t, 1000) }

// TestTwoWritersOnDisk is TestTwoWritersOfThousands on a disk, where each entry
// is synced.
func TestTwoWritersOnDisk(t *testing.T) {
	dir := t.TempDir()
	if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
		t.Fatal(err)
	}
	writeBoth(t, OnDisk(dir), 5000)
}
