package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// laterFolder is a small yard of a format that nobody knows yet.
func laterFolder(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	for name, text := range map[string]string{
		"yard.toml": "format = 2\nname = \"Fernbrook\"\n[site]\nstation = \"oxford\"\n",
		"journal.toml": "[[inoculated]]\nwritten = 2026-02-02T18:00:00\non = 2026-02-02\npile = \"oak-north\"\nspecies = \"shiitake\"\nwood = \"oak\"\nlogs = 40\nentry = \"k-1\"\n" +
			"[[received]]\nwritten = 2026-02-02T18:01:00\non = 2026-02-02\nspecies = \"reishi\"\ndry = \"200 g\"\nlot = \"R-1\"\nby = \"jk\"\nentry = \"jk-kitchen-2\"\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// laterFiles are all files of a folder with what is in them.
func laterFiles(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			files[path] = "a folder"
			return err
		}
		b, err := os.ReadFile(path)
		files[path] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// In a folder of a later format every command that only reads goes on, and no
// command writes anything into it.
func TestLaterFormatEveryCommand(t *testing.T) {
	dir, out := laterFolder(t), t.TempDir()
	in := func(name string) string { return filepath.Join(out, name) }
	if err := os.WriteFile(in("weather.csv"), []byte("date,tmin_c,tmax_c,rain_mm\n2026-04-01,1,9,0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(in("h.csv"), []byte("on,pile,kg\n2026-04-01,oak-north,1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	before := laterFiles(t, dir)
	type call struct {
		line   string
		status []int
	}
	read, refused := []int{statusDone, statusPartial}, []int{statusFolder}
	calls := []call{
		{"work --draws 20", read}, {"history", read}, {"forecast --draws 20", read}, {"soaks --draws 20", read}, {"batches --draws 20", read},
		{"next-season --draws 20", read}, {"next-season --draws 20 --page --want", refused}, {"stock", read}, {"supply --draws 20", read}, {"lot R-1", read},
		{"score --draws 20", read}, {"pages --draws 20", refused}, {"pages --draws 20 --out " + in("pages"), read}, {"print tags", refused}, {"print tags --out " + in("paper"), read},
		{"verify", refused}, {"verify --mend", refused}, {"put-back", refused}, {"export piles", read}, {"export entries --out " + in("entries.csv"), read},
		{"export --all " + in("all.zip"), read}, {"record walked oak-north", refused}, {"correct k-1 logs=30", refused}, {"undo --by jk", refused},
		{"import weather --yes " + in("weather.csv"), refused}, {"import harvests --yes " + in("h.csv"), refused}, {"merge --anyway ../../testdata/yards/fernbrook", refused},
		{"strength blend 50ml@95 50ml@0", read},
	}
	tried := map[string]bool{"demo": true, "start": true, "fetch-script": true} // they make a folder, or read none
	for _, c := range calls {
		args := strings.Fields(c.line)
		if args[len(args)-1] == "--want" {
			args = append(args, "20 kg shiitake 2029")
		}
		tried[args[0]] = true
		if args[0] != "strength" {
			args = append(args, "--yard", dir)
		}
		a, said, wrong := laterApp()
		status := a.run(context.Background(), args)
		if !slices.Contains(c.status, status) {
			t.Errorf("%s: status %d\n%s%s", c.line, status, said, wrong)
		}
		if args[0] != "strength" && !strings.Contains(wrong.String()+said.String(), "format") && !strings.HasPrefix(c.line, "export --all") {
			t.Errorf("%s: nothing is said of the format\n%s", c.line, wrong)
		}
		if after := laterFiles(t, dir); !maps.Equal(before, after) {
			t.Fatalf("%s wrote into the folder", c.line)
		}
	}
	a, _, _ := laterApp()
	for _, c := range a.root().Commands() {
		if !tried[c.Name()] && c.Name() != "help" && c.Name() != "completion" {
			t.Errorf("%s was not tried", c.Name())
		}
	}
	if a, _, wrong := laterApp(); a.run(context.Background(), []string{"start", in("again"), "--from", in("all.zip")}) != statusDone || strings.Contains(wrong.String(), "nothing was changed") {
		t.Error(wrong)
	}
}

func laterApp() (a *app, said, wrong *bytes.Buffer) {
	said, wrong = &bytes.Buffer{}, &bytes.Buffer{}
	return &app{in: strings.NewReader(""), out: said, err: wrong, now: time.Date(2026, 5, 1, 18, 2, 0, 0, time.UTC), host: "kitchen.example",
		env: func(string) string { return "" }, library: func() ([]byte, bool) { return nil, false },
		bring: func(context.Context) error { return errors.New("no network in tests") }}, said, wrong
}
