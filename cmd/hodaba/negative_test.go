package main

import (
	"strings"
	"testing"
)

// An amount below zero is not taken for an option.
func TestNegativeAmount(t *testing.T) {
	for _, amount := range []string{"-3kg", "-0.5kg", "-.5kg"} {
		status, out := runIn(t.TempDir(), "", 1, "record", "harvested", "oak", amount, "--yard", "DIR")
		if status != statusLine || !strings.Contains(out, amount+" is less than nothing") || strings.Contains(out, "no option") {
			t.Errorf("%s: %d %s", amount, status, out)
		}
	}
}
