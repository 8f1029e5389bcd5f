package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the scripts call the program as hodaba: on the day that TODAY
// names, on a computer called kitchen, and without a network.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hodaba": func() {
		now, err := time.Parse("2006-01-02T15:04", os.Getenv("TODAY")+"T18:02")
		if err != nil {
			panic(err) // a script without a day of its own
		}
		a := &app{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: now, host: "kitchen.example", env: os.Getenv,
			library: func() ([]byte, bool) { return nil, false },
			bring:   func(context.Context) error { return errors.New("no network in tests") }}
		os.Exit(a.run(context.Background(), os.Args[1:]))
	}})
}

// TestScripts runs the sessions of testdata/script: what a grower types, what
// is answered, and what lies in the folder afterwards. -update-scripts writes
// the answers anew. Where tests are to be short those run that open and write a
// folder in more ways than one; the others repeat the same forecasts.
func TestScripts(t *testing.T) {
	files, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	if testing.Short() {
		files = slices.DeleteFunc(files, func(name string) bool {
			return !slices.Contains([]string{"merge", "same"}, strings.TrimSuffix(filepath.Base(name), ".txtar"))
		})
	}
	testscript.Run(t, testscript.Params{
		Files:         files,
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Setup: func(e *testscript.Env) error {
			if err := copyWeather(e.WorkDir); err != nil {
				return err
			}
			e.Setenv("TODAY", "2026-05-01")
			e.Setenv("LC_ALL", "C.UTF-8")
			e.Setenv("HODABA_BY", "")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":  status,
			"jsonhas": jsonHas,
			"narrow":  narrow,
		},
	})
}

// copyWeather lays four measured years beside the files of a script.
func copyWeather(dir string) error {
	b, err := os.ReadFile("../../testdata/weather/seattle.csv")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "seattle.csv"), b, 0o600)
}
