//go:build slow

package main

import (
	"testing"
	"time"
)

// TestAllFaults plants every fault into every command that writes: each call
// fails, and is the last one before a power cut that takes nothing, the data,
// or data and names of what was not synced; each write stops at every byte.
func TestAllFaults(t *testing.T) {
	b := newFaultBench(t)
	all := 0
	for _, c := range faultCases() {
		since := time.Now()
		most := 400
		if c.slow {
			most = 1
		}
		n := b.sweep(c, most, func(_ []call, plans []fault) []fault { return plans })
		all += n
		t.Logf("%7d  %s (%.0f s)", n, c.name, time.Since(since).Seconds())
	}
	t.Logf("%7d faults planted in all", all)
}
