//go:build slow

package yard

import "testing"

// TestKilledOften is TestKilled for a thousand entries.
func TestKilledOften(t *testing.T) { killUntil(t, 1000) }
