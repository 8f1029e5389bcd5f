package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

// A faultCase is a command that writes, in a folder that was prepared.
type faultCase struct {
	name string
	args []string // DIR stands for the yard's folder
	in   string
	day  int               // of May 2026; 0: the second
	prep func(dir string)  // what is done to the folder before
	adds []string          // what its new entries say, in their order
	each string            // instead: what each of them says, however many there are
	free bool              // the folder is not there before
	demo bool              // it writes a demo
	slow bool              // it forecasts
	old  []string          // files that were there long before
	set  map[string]string // files that are the old or this, and whole; "" may be anything
}

// faultCases are all commands that write into a folder. Whoever adds one adds
// it here.
func faultCases() []faultCase {
	rename := func(from, to string) func(string) {
		return func(dir string) { faultless(os.Rename(filepath.Join(dir, from), filepath.Join(dir, to))) }
	}
	appendTo := func(name, text string) func(string) {
		return func(dir string) {
			f, err := os.OpenFile(filepath.Join(dir, name), os.O_APPEND|os.O_WRONLY, 0)
			faultless(err)
			_, err = f.WriteString(text)
			faultless(errors.Join(err, f.Close()))
		}
	}
	older := func(dir string) { // an editor saves what it read before the last two entries
		b := faultRead(dir, yard.JournalFile)
		faultless(os.WriteFile(filepath.Join(dir, yard.JournalFile), []byte(b[:strings.Index(b, "\n[[harvested]]")]), 0o644))
	}
	pick := []string{"record", "harvested", "oak", "1.9kg", "--yard", "DIR"}
	return []faultCase{
		{name: "record", day: 1, args: pick, adds: []string{`"1.9kg"`}},
		{name: "record, the first of a day", args: pick, adds: []string{`"1.9kg"`}},
		{name: "record, by somebody new", day: 1, args: append(pick, "--by", "jk"), adds: []string{`"1.9kg"`}},
		{name: "record, .hodaba thrown away", args: pick, adds: []string{`"1.9kg"`}, prep: rename(".hodaba", "gone")},
		{name: "record, behind a torn entry", day: 1, args: pick, adds: []string{`"1.9kg"`}, prep: appendTo(yard.JournalFile, faultTorn)},
		{name: "record, behind zero bytes", day: 1, args: pick, adds: []string{`"1.9kg"`}, prep: appendTo(yard.JournalFile, strings.Repeat("\x00", 9))},
		{name: "record, behind a remark", day: 1, args: pick, adds: []string{`"1.9kg"`}, prep: appendTo(yard.JournalFile, "# by hand")},
		{name: "record, where an entry was changed by hand", day: 1, args: pick, adds: []string{`"1.9kg"`}, prep: func(dir string) {
			b := faultRead(dir, yard.JournalFile)
			faultless(os.WriteFile(filepath.Join(dir, yard.JournalFile), []byte(strings.Replace(b, "2.4kg", "2.65kg", 1)), 0o644))
		}},
		{name: "record, where entries vanished", args: pick, adds: []string{`"1.9kg"`}, prep: older},
		{name: "record, behind a change by hand", day: 1, args: pick, adds: []string{`"1.9kg"`}, prep: func(dir string) {
			b := faultRead(dir, yard.JournalFile)
			faultless(os.WriteFile(filepath.Join(dir, yard.JournalFile), []byte(strings.Replace(b, `"2.4kg"`, `"2.5kg"`, 1)), 0o644))
		}},
		{name: "record, by answers", day: 1, args: []string{"record", "--yard", "DIR"}, in: "walked\n\noak\n\n\n\n\n\n\n", adds: []string{"[[walked]]"}},
		{name: "correct", args: []string{"correct", "kitchen-2", "fresh=2.6kg", "--yard", "DIR"}, adds: []string{`"2.6kg"`}},
		{name: "undo", args: []string{"undo", "--yard", "DIR"}, adds: []string{"void"}},
		{name: "put-back", args: []string{"put-back", "--yes", "--yard", "DIR"}, prep: older, adds: []string{`entry   = "kitchen-2"`, `= "kitchen-3"`}},
		{name: "put-back, one of two", args: []string{"put-back", "kitchen-2", "--yes", "--yard", "DIR"}, prep: older, adds: []string{`entry   = "kitchen-2"`}},
		{name: "put-back, leaving out", args: []string{"put-back", "kitchen-2", "kitchen-3", "--leave", "--yard", "DIR"}, prep: older},
		{name: "import weather", args: []string{"import", "weather", "NEW", "--yes", "--yard", "DIR"}, set: map[string]string{yard.WeatherFile: ""}},
		{name: "import weather over weather", args: []string{"import", "weather", "NEW", "--yes", "--replace", "--yard", "DIR"},
			prep: func(dir string) {
				faultless(os.WriteFile(filepath.Join(dir, yard.WeatherFile), []byte("date,tmin_c,tmax_c,rain_mm,mood\n2026-04-01,3,9,1,fine\n"), 0o644))
			}, set: map[string]string{yard.WeatherFile: ""}},
		{name: "merge", args: []string{"merge", "OTHER", "--yard", "DIR"}, adds: []string{`"shed-1"`, `"shed-2"`}},
		{name: "merge of a folder", args: []string{"merge", "BARN", "--yard", "DIR"}, adds: []string{`"shed-1"`, `"shed-2"`}},
		{name: "verify --mend, a torn entry", day: 1, args: []string{"verify", "--mend", "--yard", "DIR"}, prep: appendTo(yard.JournalFile, faultTorn)},
		{name: "verify --mend, marks of version control", day: 1, args: []string{"verify", "--mend", "--yard", "DIR"},
			prep: appendTo(yard.JournalFile, "<<<<<<< HEAD\n=======\n"+faultShed+">>>>>>> shed\n")},
		{name: "verify --mend, zero bytes", day: 1, args: []string{"verify", "--mend", "--yard", "DIR"}, prep: appendTo(yard.JournalFile, "\x00\x00\x00")},
		{name: "verify --mend, no newline", day: 1, args: []string{"verify", "--mend", "--yard", "DIR"}, prep: appendTo(yard.JournalFile, "# by hand")},
		{name: "verify --mend, leftovers", args: []string{"verify", "--mend", "--yard", "DIR"}, old: []string{".journal.toml12345678", ".hodaba/.last-kitchen.toml12345678"}},
		{name: "verify --mend, no memory", day: 1, args: []string{"verify", "--mend", "--yard", "DIR"}, prep: func(dir string) {
			faultless(os.Remove(filepath.Join(dir, ".hodaba", "last-kitchen.toml")))
			faultless(os.Remove(filepath.Join(dir, ".hodaba", "journal-friday-kitchen.toml")))
		}},
		{name: "import harvests", args: []string{"import", "harvests", "HARVESTS", "--yes", "--yard", "DIR"}, adds: []string{`"1.7 kg"`, `"0.8 kg"`}},
		{name: "import piles", args: []string{"import", "piles", "HEDGES", "--yes", "--yard", "DIR"}, adds: []string{`"hedge"`}},
		{name: "record straining", args: []string{"record", "straining", "M-26-1", "strained=405ml", "water=1.6l", "decocted=380ml", "blended=780ml", "--yard", "DIR"},
			adds: []string{"[[strained]]", "[[decocted]]", "[[blended]]"}, prep: func(dir string) {
				appendTo(yard.RecipesFile, strings.Replace(faultRecipe, `"maceration only"`, `"marc decocted"`+faultPot, 1))(dir)
				runHealthy(dir, "record", "macerated", "M-26-1", "R", "--on", "2026-04-01", "--yard", "DIR")
			}},
		{name: "next-season --accept", slow: true, each: "[[planned]]", args: []string{"next-season", "--accept", "--want", "9 kg shiitake 2029", "--want", "3 kg oyster 2029", "--draws", "20", "--yard", "DIR"}},
		{name: "next-season --take-back", args: []string{"next-season", "--take-back", "--yard", "DIR"}, adds: []string{`replaces = "kitchen-4"`, `replaces = "kitchen-5"`},
			prep: func(dir string) {
				for _, pile := range []string{"birch-27", "oak-27"} {
					runHealthy(dir, "record", "planned", pile, "shiitake", "20 logs", "month=2027-03", "--yard", "DIR")
				}
			}},
		{name: "start --from", free: true, args: []string{"start", "DIR", "--from", "KEPT"}, adds: []string{`entry   = "kitchen-1"`, `entry   = "kitchen-2"`, `"kitchen-3"`}},
		{name: "export --all", args: []string{"export", "--all", "ARCHIVE", "--yard", "DIR"}},
		{name: "export of a table", args: []string{"export", "harvests", "--out", "DIR/table.csv", "--yard", "DIR"}, set: map[string]string{"table.csv": ""}},
		{name: "start", free: true, args: []string{"start", "DIR", "--station", "oxford", "--units", "metric", "--piles", "PILES", "--draws", "1"},
			adds: []string{`"barn"`, `"hedge"`, `"hedge"`}},
		{name: "print", args: []string{"print", "batch", "26-1", "--recipe", "R", "--yard", "DIR"}, prep: appendTo(yard.RecipesFile, faultRecipe)},
		{name: "pages", slow: true, args: []string{"pages", "--draws", "1", "--yard", "DIR"}},
		{name: "pages where old ones go", slow: true, args: []string{"pages", "--draws", "1", "--yard", "DIR"}, prep: func(dir string) {
			faultless(os.Mkdir(filepath.Join(dir, "pages"), 0o755))
			faultless(os.WriteFile(filepath.Join(dir, "pages", "pile-gone.html"), []byte("old"), 0o644))
		}},
		{name: "next-season --page", slow: true, args: []string{"next-season", "--page", "--want", "9 kg shiitake 2029", "--draws", "20", "--yard", "DIR"}},
		{name: "demo", free: true, demo: true, slow: true, args: []string{"demo", "DIR", "--draws", "1"}},
		{name: "demo over a demo with an entry", free: true, demo: true, slow: true, args: []string{"demo", "DIR", "--draws", "1"}, prep: func(dir string) {
			runHealthy(dir, "demo", "DIR", "--draws", "1")
			runHealthy(dir, "record", "harvested", "oak-1", "0.77kg", "--yard", "DIR")
		}},
	}
}

// faultTorn is an entry that was cut short.
const faultTorn = "\n[[lost]]\nwritten = 2026-05-01T18:02:00\non      = 2026-05-01\npile    = \"oa"

// faultPot is what a recipe needs whose marc is decocted.
const faultPot = `
decoct_water = "1500 ml"
decoct_to = "500 ml"
simmer_hours = 2
blend = "1:1"`

const faultRecipe = `
[[recipe]]
name = "R"
jars = 1
spirit_per_jar = "500 ml"
spirit_abv_percent = 50
macerate_days = [14, 42]
method = "maceration only"
bottle = "100 ml"
[[recipe.ingredient]]
species = "shiitake"
per_jar = "25 g"
`

func faultless(err error) {
	if err != nil {
		panic(err) // the test's own files
	}
}

func faultRead(dir, name string) string {
	b, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		panic(err)
	}
	return string(b)
}

// runIn is the program on a day of May 2026.
func runIn(dir, in string, day int, args ...string) (status int, out string) {
	files := strings.NewReplacer("DIR", dir, "NEW", filepath.Join(filepath.Dir(dir), "new.csv"), "PILES", filepath.Join(filepath.Dir(dir), "piles.csv"),
		"OTHER", filepath.Join(filepath.Dir(dir), "other.toml"), "HARVESTS", filepath.Join(filepath.Dir(dir), "harvests.csv"),
		"BARN", filepath.Join(filepath.Dir(dir), "barn"), "HEDGES", filepath.Join(filepath.Dir(dir), "hedges.csv"), "ARCHIVE", filepath.Join(filepath.Dir(dir), "all.zip"), "KEPT", filepath.Join(filepath.Dir(dir), "kept.zip"))
	args = slices.Clone(args)
	for i := range args {
		args[i] = files.Replace(args[i])
	}
	if day == 0 {
		day = 2
	}
	var b bytes.Buffer
	a := &app{in: strings.NewReader(in), out: &b, err: &b, now: time.Date(2026, 5, day, 18, 2, 0, 0, time.UTC), host: "kitchen",
		env: func(string) string { return "" }, library: func() ([]byte, bool) { return nil, true }}
	status = a.run(context.Background(), args)
	return status, b.String()
}

func runHealthy(dir string, args ...string) {
	if status, out := runIn(dir, "", 1, args...); status != statusDone {
		panic(fmt.Sprintf("%v: %d %s", args, status, out))
	}
}

// faultBench holds a prepared folder for each case, and runs faults.
type faultBench struct {
	t    testing.TB
	root string
	set  *data.Set
}

func newFaultBench(t testing.TB) *faultBench {
	root := t.TempDir()
	if dir, err := os.MkdirTemp("/dev/shm", "hodaba-faults-"); err == nil { // memory where there is any: nothing is really cut
		root = dir
		t.Cleanup(func() { os.RemoveAll(dir) })
	}
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	faultless(os.WriteFile(filepath.Join(root, "new.csv"), []byte("date,tmin,tmax,rain\n2026-04-01,2,11,0.4\n2026-04-02,1,12,0\n2026-04-03,4,9,3.2\n"), 0o644))
	faultless(os.WriteFile(filepath.Join(root, "piles.csv"), []byte(yard.TableHeader()+"\nbarn,shiitake,2022,30\nhedge,shiitake,2023,20,15\n"), 0o644))
	b := &faultBench{t, root, set}
	base := filepath.Join(root, "base")
	runHealthy(base, "start", "DIR", "--station", "oxford", "--units", "metric")
	for _, args := range [][]string{{"inoculated", "oak", "shiitake", "40", "logs", "--on", "2024-04"}, {"harvested", "oak", "2.4kg"}, {"checked", "oak", "7/10"}} {
		runHealthy(base, append(append([]string{"record"}, args...), "--yard", "DIR")...)
	}
	runHealthy(base, "export", "--all", "KEPT", "--yard", "DIR")
	faultless(os.WriteFile(filepath.Join(root, "harvests.csv"), []byte("on,pile,fresh_kg\n2026-04-20,oak,1.7\n2026-04-27,oak,0.8\n"), 0o644))
	faultless(os.WriteFile(filepath.Join(root, "hedges.csv"), []byte("name,species,when,logs then\nhedge,shiitake,2023,20\n"), 0o644))
	faultless(os.WriteFile(filepath.Join(root, "other.toml"), []byte(faultRead(base, yard.JournalFile)+faultShed), 0o644))
	faultless(os.CopyFS(filepath.Join(root, "barn"), os.DirFS(base)))
	faultless(os.WriteFile(filepath.Join(root, "barn", yard.JournalFile), []byte(faultRead(base, yard.JournalFile)+faultShed), 0o644))
	return b
}

// faultShed is what another computer wrote meanwhile.
const faultShed = `
[[walked]]
written = 2026-05-01T19:02:00
on      = 2026-05-01
piles   = ["oak"]
entry   = "shed-1"

[[harvested]]
written = 2026-05-01T19:05:00
on      = 2026-05-01
pile    = "oak"
fresh   = "0.4 kg"
entry   = "shed-2"
`

// prepared is the folder in which a case begins.
func (b *faultBench) prepared(c faultCase) string {
	dir := filepath.Join(b.root, "prepared")
	faultless(os.RemoveAll(dir))
	if !c.free {
		faultless(os.CopyFS(dir, os.DirFS(filepath.Join(b.root, "base"))))
	}
	if c.prep != nil {
		c.prep(dir)
	}
	return dir
}

// faultRun is what became of a folder.
type faultRun struct {
	dir    string
	status int
	out    string
	calls  []call
}

// run runs a case with a fault in a copy of its folder.
func (b *faultBench) run(c faultCase, prepared string, plan fault) faultRun {
	dir := filepath.Join(b.root, "work")
	faultless(os.RemoveAll(dir))
	if _, err := os.Stat(prepared); err == nil {
		faultless(os.CopyFS(dir, os.DirFS(prepared)))
	}
	for _, name := range c.old {
		path, long := filepath.Join(dir, filepath.FromSlash(name)), time.Date(2026, 4, 1, 0, 0, 0, 0, time.UTC)
		faultless(errors.Join(os.WriteFile(path, []byte("half"), 0o644), os.Chtimes(path, long, long)))
	}
	s := &faulty{System: yard.Machine(), plan: plan}
	back := yard.Under(s)
	status, out := runIn(dir, c.in, c.day, c.args...)
	back()
	s.cut()
	return faultRun{dir, status, out, s.calls}
}

// plans are the faults to plant into a run that made these calls. Of a write
// every byte is tried, or, of one longer than most, so many of them, and some
// of one to a file beside another. Pages are all written alike: the first and
// the last are enough.
func plans(calls []call, most int) []fault {
	var pages []int
	for i, c := range calls {
		if strings.Contains(c.path, string(filepath.Separator)+"pages"+string(filepath.Separator)) {
			pages = append(pages, i)
		}
	}
	const ends = 8
	if len(pages) > 2*ends {
		pages = pages[ends : len(pages)-ends]
	} else {
		pages = nil
	}
	var out []fault
	for i, c := range calls {
		if slices.Contains(pages, i) {
			continue
		}
		sizes := []int{0}
		if c.op == "write" {
			sizes = nil
			step := max(1, c.bytes/most)
			if strings.HasSuffix(c.path, faultBeside) {
				step = max(1, c.bytes/min(most, 8)) // nobody sees it before it is renamed
			}
			for n := 0; n < c.bytes; n += step {
				sizes = append(sizes, n)
			}
		}
		for _, n := range sizes {
			out = append(out, fault{call: i, bytes: n})
			for l := range losses {
				out = append(out, fault{call: i, bytes: n, stops: true, loses: l})
			}
		}
		for l := range losses {
			out = append(out, fault{call: i, stops: true, after: true, loses: l})
		}
	}
	return out
}

// recordedIn are the tables of the program's entries in a folder, by
// identifier, and all problems of the journal.
func (b *faultBench) recordedIn(dir string) (map[string]string, []yard.Problem) {
	f, _, err := yard.Open(dir, b.set, yard.NewDate(2026, 5, 9))
	if err != nil {
		return nil, nil
	}
	entries, problems := f.Entries()
	tables := map[string]string{}
	for _, e := range entries {
		if _, twice := tables[e.ID]; twice {
			b.t.Errorf("%s stands twice", e.ID)
		}
		tables[e.ID] = e.Text
	}
	return tables, problems
}

// check looks at a folder after a fault, as the next start finds it.
func (b *faultBench) check(c faultCase, prepared string, plan fault, r faultRun) (wrong string) {
	before, _ := b.recordedIn(prepared)
	if c.demo {
		return b.checkDemo(prepared, r)
	}
	after, _ := b.recordedIn(r.dir)
	if after == nil { // a start that never came to yard.toml
		if !c.free || r.status == statusDone {
			return "the yard is gone"
		}
		return ""
	}
	for id, text := range before {
		if after[id] != text {
			return fmt.Sprintf("%s was recorded and is now %q", id, after[id])
		}
	}
	if wrong := c.checkNew(before, after, plan, r); wrong != "" {
		return wrong
	}
	for name := range c.set {
		if is := faultRead(r.dir, name); is != faultRead(prepared, name) && is != c.set[name] {
			return fmt.Sprintf("%s is %q", name, is)
		}
	}
	for _, name := range []string{yard.YardFile, yard.RecipesFile} {
		if is := faultRead(r.dir, name); !c.free && is != faultRead(prepared, name) {
			return fmt.Sprintf("%s is %q", name, is)
		}
	}
	if torn := strings.TrimSpace(faultTorn); strings.Contains(faultRead(prepared, yard.JournalFile), torn) &&
		!strings.Contains(faultRead(r.dir, yard.JournalFile), torn) && !strings.Contains(faultRead(r.dir, "journal-torn-2026-05-01.toml"), torn) {
		return "what there was of the torn entry is lost"
	}
	return b.checkNext(prepared, r, after)
}

// checkNew looks at the entries that the command was to add: all of them where
// it said that it was done, none where it lived to say that it was not, and
// whole ones from the first where the power went.
func (c faultCase) checkNew(before, after map[string]string, plan fault, r faultRun) string {
	var fresh []string
	for id, text := range after {
		if _, old := before[id]; !old {
			fresh = append(fresh, text)
		}
	}
	slices.SortFunc(fresh, func(a, b string) int {
		return strings.Index(faultRead(r.dir, yard.JournalFile), a) - strings.Index(faultRead(r.dir, yard.JournalFile), b)
	})
	adds := c.adds
	for i, text := range fresh {
		if i >= len(adds) || !strings.Contains(text, adds[i]) {
			return fmt.Sprintf("there is more than was asked for: %s", text)
		}
	}
	done := r.status == statusDone
	switch {
	case done && len(fresh) != len(adds):
		return fmt.Sprintf("it said that it was done, and %d of %d entries are there", len(fresh), len(adds))
	case !done && !plan.stops && len(fresh) > 0:
		return fmt.Sprintf("it said that it failed, and %d entries are there", len(fresh))
	case !done && !strings.Contains(r.out, "planted"):
		return "it does not say why it failed: " + r.out
	}
	return ""
}

// checkNext records one more entry, which must find everything in order, and
// puts back what may have vanished before.
func (b *faultBench) checkNext(prepared string, r faultRun, had map[string]string) string {
	if status, out := runIn(r.dir, "", 3, "record", "walked", "--yard", "DIR"); status != statusDone {
		return "the next record fails: " + out
	}
	now, problems := b.recordedIn(r.dir)
	if len(problems) > 0 && !strings.Contains(faultRead(r.dir, yard.JournalFile), "<<<<<<< HEAD") { // marks are told until they are mended
		return fmt.Sprintf("after the next record: %v", problems)
	}
	for id, text := range had {
		if now[id] != text {
			return fmt.Sprintf("%s is gone after the next record", id)
		}
	}
	if len(now) != len(had)+1 {
		return fmt.Sprintf("%d entries after the next record, not %d", len(now), len(had)+1)
	}
	return b.checkVanished(prepared, r)
}

// checkVanished makes sure that what had vanished before is not lost: it is
// there, can be put back, or was left out on purpose.
func (b *faultBench) checkVanished(prepared string, r faultRun) string {
	if faultRead(prepared, ".hodaba/last-kitchen.toml") == "" {
		return ""
	}
	if status, out := runIn(r.dir, "", 4, "put-back", "--yes", "--yard", "DIR"); status != statusDone {
		return "put-back fails: " + out
	}
	now, _ := b.recordedIn(r.dir)
	left := faultRead(r.dir, ".hodaba/left-out.toml")
	for _, id := range []string{"kitchen-2", "kitchen-3"} {
		if now[id] == "" && !strings.Contains(left, id) {
			return id + " is lost"
		}
	}
	return ""
}

// checkDemo makes sure that entries added to a demo are kept, and that it can
// be written again.
func (b *faultBench) checkDemo(prepared string, r faultRun) string {
	all := ""
	names, _ := filepath.Glob(filepath.Join(r.dir, "journal*.toml"))
	for _, n := range names {
		all += faultRead(r.dir, filepath.Base(n))
	}
	if strings.Contains(faultRead(prepared, yard.JournalFile), "0.77kg") && !strings.Contains(all, "0.77kg") {
		return "the entry added to the demo is lost"
	}
	if r.status != statusDone && !strings.Contains(r.out, "planted") {
		return "it does not say why it failed: " + r.out
	}
	return ""
}

// TestFaults plants faults into every command that writes: each kind of call
// that each of them makes, to each file where there is time, fails once, and
// some more go wrong by chance; all of them in TestAllFaults.
func TestFaults(t *testing.T) {
	b := newFaultBench(t)
	some, ofFiles := 12, true
	if testing.Short() {
		some, ofFiles = 5, false
	}
	dice := rand.New(rand.NewPCG(1, 2))
	planted := 0
	for _, c := range faultCases() {
		if c.slow && testing.Short() {
			continue // they write as the others do
		}
		kinds, few := faultKinds, some
		if c.slow {
			kinds, few = nil, 4
		}
		planted += b.sweep(c, 4, func(calls []call, plans []fault) []fault {
			dice.Shuffle(len(plans), func(i, j int) { plans[i], plans[j] = plans[j], plans[i] })
			return append(ofEachKind(calls, plans, kinds, ofFiles), plans[:min(few, len(plans))]...)
		})
	}
	t.Logf("%d faults planted", planted)
}

// faultKinds are the calls that change what is on the disk.
var faultKinds = []string{"write", "sync", "truncate", "rename", "sync folder", "remove"}

// ofEachKind are the first of the plans by which a call of each kind fails, or
// each of them to each file.
func ofEachKind(calls []call, plans []fault, kinds []string, ofFiles bool) (out []fault) {
	seen := map[string]bool{}
	for _, p := range plans {
		what := calls[p.call].op
		if p.stops || !slices.Contains(kinds, what) {
			continue
		}
		if ofFiles {
			what += " " + calls[p.call].path
		}
		if !seen[what] {
			seen[what] = true
			out = append(out, p)
		}
	}
	return out
}

// sweep plants faults into a case and returns how many.
func (b *faultBench) sweep(c faultCase, most int, choose func([]call, []fault) []fault) int {
	prepared := b.prepared(c)
	healthy := b.run(c, prepared, fault{call: -1})
	if healthy.status != statusDone || len(healthy.calls) == 0 {
		b.t.Fatalf("%s, without a fault: %d, %d calls, %s", c.name, healthy.status, len(healthy.calls), healthy.out)
	}
	for name := range c.set {
		c.set[name] = faultRead(healthy.dir, name)
	}
	if c.each != "" {
		before, _ := b.recordedIn(prepared)
		after, _ := b.recordedIn(healthy.dir)
		c.adds = slices.Repeat([]string{c.each}, len(after)-len(before))
	}
	if len(c.each) > 0 && len(c.adds) < 2 {
		b.t.Fatalf("%s, without a fault: %d entries", c.name, len(c.adds))
	}
	if wrong := b.check(c, prepared, fault{call: -1}, healthy); wrong != "" {
		b.t.Fatalf("%s, without a fault: %s", c.name, wrong)
	}
	chosen := choose(healthy.calls, plans(healthy.calls, most))
	for _, plan := range chosen {
		r := b.run(c, prepared, plan)
		if wrong := b.check(c, prepared, plan, r); wrong != "" {
			b.t.Errorf("%s, %+v at %+v: exit status %d: %s", c.name, plan, healthy.calls[plan.call], r.status, wrong)
		}
	}
	return len(chosen)
}
