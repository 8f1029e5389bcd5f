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

// However an editor left the file with the words of the computers, a computer
// keeps its word where one can be read, and gets one where none can.
func TestHostWordsAfterAnEditor(t *testing.T) {
	for name, c := range map[string]struct{ text, host, word, after string }{
		"carriage returns":    {"shed shed\r\nkitchen kitch\r\n", "kitchen", "kitch", "shed shed\r\nkitchen kitch\r\n"},
		"blanks":              {"  kitchen \t kitch  \n", "kitchen", "kitch", "  kitchen \t kitch  \n"},
		"byte order mark":     {"\ufeffkitchen kitch\n", "kitchen", "kitch", "\ufeffkitchen kitch\n"},
		"an empty word":       {"kitchen \n", "kitchen", "kitchen", "kitchen \nkitchen kitchen\n"},
		"no word of a writer": {"kitchen Küche\n", "kitchen", "kitchen", "kitchen Küche\nkitchen kitchen\n"},
		"no last newline":     {"shed kitchen", "kitchen", "kitchenb", "shed kitchen\nkitchen kitchenb\n"},
		"one of one's own":    {"kitchen hangar-west", "kitchen", "hangar-west", "kitchen hangar-west"},
		"a name with a blank": {"", "the kitchen", "thekitch", "the kitchen thekitch\n"},
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, filepath.FromSlash(hostsFile))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			word := hostWord(dir, c.host)
			b, err := os.ReadFile(path)
			if word != c.word || string(b) != c.after || err != nil {
				t.Errorf("%s: %q, want %q; the file %q, want %q", name, word, c.word, b, c.after)
			}
		}
	}
}
