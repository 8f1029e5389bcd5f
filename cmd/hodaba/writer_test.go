package main

import (
	"os"
	"path/filepath"
	"testing"
)

// The word of a computer stays its own where another program gave the list
// ends of lines as on Windows, and looking it up writes nothing.
func TestComputerWord(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, hostsFile)
	const list = "kitchen.example kitchen\r\nkitchen.lan kitchenb \n"
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(list), 0o644); err != nil {
		t.Fatal(err)
	}
	for host, want := range map[string]string{"kitchen.example": "kitchen", "kitchen.lan": "kitchenb", "kitchen.home": "kitchenc", "Barn-PC.lan": "barnpc"} {
		if got := computerWord(dir, host); got != want {
			t.Errorf("%s: %q, not %q", host, got, want)
		}
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != list {
		t.Errorf("the list became %q", b)
	}
	if got := hostWord(dir, "kitchen.home"); got != "kitchenc" || computerWord(dir, "kitchen.home") != "kitchenc" {
		t.Error(got)
	}
}
