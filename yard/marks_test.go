package yard

import (
	"slices"
	"strings"
	"testing"
)

// Marks of version control hide no entry, before anybody has mended them:
// those before a mark, those of both sides, those behind.
func TestReadAroundMarks(t *testing.T) {
	const third = "[[walked]]\nwritten = 2026-04-04T10:00:00\non      = 2026-04-04\nentry   = \"kitchen-3\"\n"
	mine, theirs := strings.TrimPrefix(mendMine, "[[walked]]\n"), strings.TrimPrefix(mendTheirs, "[[walked]]\n")
	for name, c := range map[string]struct {
		journal string
		want    string // identifiers and lines
		told    []int  // lines of problems
	}{
		"whole sides": {mendWhole + "<<<<<<< HEAD\n" + mendMine + "=======\n" + mendTheirs + ">>>>>>> barn\n" + third,
			"kitchen-1:2 kitchen-2:7 barn-1:12 kitchen-3:17", []int{6}},
		"the header in common": {mendWhole + "\n[[walked]]\n<<<<<<< HEAD\n" + mine + "=======\n" + theirs + ">>>>>>> barn\n\n" + third,
			"kitchen-1:2 kitchen-2:7 barn-1:7 kitchen-3:18", []int{8}},
		"lines of a carriage return": {strings.ReplaceAll(mendWhole+"<<<<<<< HEAD\n"+mendMine+"=======\n"+mendTheirs+">>>>>>> barn\n", "\n", "\r\n"),
			"kitchen-1:2 kitchen-2:7 barn-1:12", []int{6}},
		"what both had before": {mendWhole + "<<<<<<< HEAD\n" + mendMine + "||||||| base\n" + third + "=======\n" + mendTheirs + ">>>>>>> barn\n",
			"kitchen-1:2 kitchen-2:7 barn-1:17", []int{6}},
		"two said differently": {mendWhole + "<<<<<<< HEAD\n" + mendMine + "=======\n" + strings.Replace(mendMine, "on      = 2026-04-02", "on      = 2026-04-01", 1) + ">>>>>>> barn\n",
			"kitchen-1:2 kitchen-2:7", []int{6}},
		"within one entry": {"[[walked]]\nwritten = 2026-04-02T10:00:00\n<<<<<<< HEAD\non      = 2026-04-02\n=======\non      = 2026-04-01\n>>>>>>> barn\nentry   = \"kitchen-2\"\n" + third,
			"kitchen-2:1 kitchen-3:9", []int{3}},
		"two places": {"<<<<<<< HEAD\n" + mendMine + "=======\n>>>>>>> barn\n" + mendWhole + "<<<<<<< HEAD\n=======\n" + mendTheirs + ">>>>>>> barn\n",
			"kitchen-2:2 kitchen-1:9 barn-1:15", []int{1, 13}},
		"never closed": {mendWhole + "<<<<<<< HEAD\n" + mendMine + "=======\n" + mendTheirs,
			"kitchen-1:2 kitchen-2:7 barn-1:12", []int{6}},
		"the end left over": {mendWhole + mendMine + "=======\n" + mendTheirs + ">>>>>>> barn\n" + third,
			"kitchen-1:2 kitchen-2:6 barn-1:11 kitchen-3:16", []int{10, 15}},
		"a side cut short": {mendWhole + "<<<<<<< HEAD\n" + mendMine + "=======\n[[walked]]\nwritten = 2026-04-03T10:00:00\n>>>>>>> barn\n",
			"kitchen-1:2 kitchen-2:7", []int{6}},
	} {
		f, m := yardOf(t, c.journal)
		entries, problems := f.Entries()
		var is []string
		for _, e := range entries {
			is = append(is, e.ID+":"+decimal(float64(e.Line)))
		}
		if got := strings.Join(is, " "); got != c.want {
			t.Errorf("%s: %s, not %s\n%s", name, got, c.want, lines(problems))
		}
		var told []int
		for _, p := range problems {
			told = append(told, p.Line)
		}
		if !slices.Equal(told, c.told) {
			t.Errorf("%s:\n%s", name, lines(problems))
		}
		if missed, err := f.Missing(); err != nil || len(missed) > 0 {
			t.Errorf("%s: missed: %v %v", name, missed, err)
		}
		// What is recorded next goes behind, and changes nothing of it.
		record(t, f, walk(t, f))
		if now := m.Text(JournalFile); !strings.HasPrefix(now, c.journal) {
			t.Errorf("%s: %q", name, now)
		}
		if now, _ := mergeReopen(t, m).Entries(); len(now) != len(entries)+1 {
			t.Errorf("%s: %d entries with one more, before %d", name, len(now), len(entries))
		}
	}
}

// In settings what one side says counts where both say something, and nothing
// that stands before the marks is lost.
func TestSettingsAroundMarks(t *testing.T) {
	const head = "format = 1\n[site]\nstation = \"oxford\"\n"
	for name, c := range map[string]struct {
		marked string
		holds  func(Config) bool
	}{
		"the table before": {"<<<<<<< HEAD\n[farm]\nname = \"A\"\n=======\n[farm]\nname = \"B\"\n>>>>>>> barn\n",
			func(c Config) bool { return c.Farm.Name == "A" }},
		"one key twice": {"<<<<<<< HEAD\nshade_percent = 70\n=======\nshade_percent = 60\n>>>>>>> barn\nelevation_m = 80\n",
			func(c Config) bool { return c.Site.Shade == 70 && c.Site.Elevation == 80 }},
		"two keys": {"<<<<<<< HEAD\nshade_percent = 70\n=======\nelevation_m = 80\n>>>>>>> barn\n",
			func(c Config) bool { return c.Site.Shade == 70 && c.Site.Elevation == 80 }},
		"a place on either side": {"<<<<<<< HEAD\n[[place]]\nname = \"a\"\n=======\n[[place]]\nname = \"b\"\n>>>>>>> barn\n",
			func(c Config) bool { return len(c.Places) == 2 }},
		"never closed": {"<<<<<<< HEAD\n[[place]]\nname = \"a\"\n=======\n",
			func(c Config) bool { return len(c.Places) == 1 }},
	} {
		m := InMemory(map[string]string{YardFile: head + c.marked, JournalFile: ""})
		f, problems, err := OpenFiles(m, loaded(t), may)
		if err != nil {
			t.Fatal(err)
		}
		if f.Config().Site.Station != "oxford" || !c.holds(f.Config()) {
			t.Errorf("%s: %+v", name, f.Config())
		}
		if len(problems) != 1 || problems[0].Line != 4 || !has(problems, 4, "keep what is right") {
			t.Errorf("%s:\n%s", name, lines(problems))
		}
	}
	recipe := "[[recipe]]\nname = \"A\"\nspirit_per_jar = \"500 ml\"\nspirit_abv_percent = 40\nmethod = \"maceration only\"\n"
	m := InMemory(map[string]string{YardFile: head, RecipesFile: recipe + "<<<<<<< HEAD\n=======\n" + strings.Replace(recipe, `"A"`, `"B"`, 1) + ">>>>>>> barn\n"})
	f, problems, err := OpenFiles(m, loaded(t), may)
	if err != nil || len(f.Recipes()) != 2 || len(problems) != 1 {
		t.Errorf("%v %v\n%s", err, f.Recipes(), lines(problems))
	}
}
