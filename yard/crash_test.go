package yard

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"
)

// crashHelper names the folder and the writer of a test binary that was
// started to write until it is killed.
const crashHelper = "HODABA_CRASH_HELPER"

// TestCrashHelper is the process that TestKilled kills: it records entry after
// entry and says each that Record took. Called as a test it does nothing.
func TestCrashHelper(t *testing.T) {
	dir, writer, ok := strings.Cut(os.Getenv(crashHelper), "\n")
	if !ok {
		return
	}
	f, _, err := Open(dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	for n := 0; ; n++ {
		id, _, err := f.Record(crashText(writer, n), writer, atSix)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println("recorded", id)
	}
}

func crashText(writer string, n int) string {
	return fmt.Sprintf("[[walked]]\non      = 2026-04-30\nnote    = \"%s says %d, %s\"\n", writer, n, strings.Repeat("slowly ", 20))
}

// TestKilled kills two processes that write to one folder, at random moments,
// again and again: every entry that was recorded is there, under a name of its
// own and in order, and nothing else is but the one that was under way.
// TestKilledOften does it for a thousand entries.
func TestKilled(t *testing.T) {
	entries := 100
	if testing.Short() {
		entries = 20
	}
	killUntil(t, entries)
}

// killUntil lets two writers record so many entries between them.
func killUntil(t *testing.T, entries int) {
	dir := t.TempDir()
	if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
		t.Fatal(err)
	}
	c := &crashed{dir: dir, recorded: map[string][]string{}}
	var both sync.WaitGroup
	for i, writer := range []string{"kitchen", "barn"} {
		both.Go(func() {
			dice := rand.New(rand.NewPCG(7, uint64(i)))
			for c.err() == nil && c.count() < entries {
				c.liveAndDie(writer, 1+dice.IntN(6), time.Duration(dice.IntN(12_000))*time.Microsecond)
			}
		})
	}
	both.Wait()
	if err := c.err(); err != nil {
		t.Fatal(err)
	}
	c.check(t)
	t.Logf("%d entries recorded by two processes, which were killed %d times; %d entries that were under way were whole, %d torn",
		c.count(), c.kills, c.whole, c.torn)
}

// crashed is a folder in which processes were killed.
type crashed struct {
	dir      string
	mu       sync.Mutex
	recorded map[string][]string // what each writer was told is recorded
	kills    int
	failed   error
	whole    int
	torn     int
}

func (c *crashed) err() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.failed
}

func (c *crashed) count() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	n := 0
	for _, ids := range c.recorded {
		n += len(ids)
	}
	return n
}

// liveAndDie starts a writer and kills it some time after it recorded so many
// entries.
func (c *crashed) liveAndDie(writer string, after int, then time.Duration) {
	cmd := exec.Command(os.Args[0], "-test.run=^TestCrashHelper$")
	cmd.Env = append(os.Environ(), crashHelper+"="+c.dir+"\n"+writer)
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		c.fail(err)
		return
	}
	lines := bufio.NewScanner(out)
	said := ""
	for n := 0; lines.Scan(); {
		id, ok := strings.CutPrefix(lines.Text(), "recorded ")
		if !ok {
			said += lines.Text() + "\n"
			continue
		}
		c.mu.Lock()
		c.recorded[writer] = append(c.recorded[writer], id)
		c.mu.Unlock()
		if n++; n == after {
			time.AfterFunc(then, func() { _ = cmd.Process.Kill() }) // it may have ended
		}
	}
	_ = cmd.Wait() // killed
	if said != "" {
		c.fail(fmt.Errorf("%s: %s", writer, said))
	}
	c.mu.Lock()
	c.kills++
	c.mu.Unlock()
}

func (c *crashed) fail(err error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.failed = err
}

func (c *crashed) check(t *testing.T) {
	f, _, err := Open(c.dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Record(walk(t, f), "after", atSix); err != nil { // sets the last torn one aside
		t.Fatal(err)
	}
	entries, problems := f.Entries()
	if len(problems) > 0 {
		t.Error(lines(problems))
	}
	at := map[string]int{}
	for i, e := range entries {
		if _, twice := at[e.ID]; twice {
			t.Errorf("%s stands twice", e.ID)
		}
		at[e.ID] = i
	}
	for writer, ids := range c.recorded {
		last := -1
		for _, id := range ids {
			i, there := at[id]
			if !there || i <= last || !strings.Contains(entries[i].Text, writer+" says") {
				t.Fatalf("%s was recorded; there: %t, place %d behind %d", id, there, i, last)
			}
			last = i
		}
	}
	c.whole = len(entries) - 1 - c.count()
	torn, err := os.ReadDir(c.dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range torn {
		if strings.HasPrefix(e.Name(), "journal-torn-") {
			c.torn++
		}
	}
	if c.whole < 0 || c.whole+c.torn > c.kills {
		t.Errorf("%d entries more than were recorded and %d torn ones, of %d kills", c.whole, c.torn, c.kills)
	}
	if missing, err := f.Missing(); err != nil || len(missing) > 0 {
		t.Errorf("missing: %v", missing)
	}
}
