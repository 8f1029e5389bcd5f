package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"hodaba/charts"
	"hodaba/charts/script"
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// The exit statuses of every command.
const (
	statusDone    = 0
	statusFolder  = 1 // the folder or the data is wrong
	statusLine    = 2 // the command line is wrong
	statusPartial = 3 // done, but something was left out
)

// app is one run of the program: what it reads and writes, and what day it
// is. Nothing below it asks for the time, the host or the environment.
type app struct {
	in     io.Reader
	out    io.Writer
	err    io.Writer
	now    time.Time
	host   string
	dir    string // of the yard that is open
	later  bool   // it is of a format that this program does not know
	env    func(string) string
	lines  *lineReader
	flags  flags
	status int // of a command that was done, but left something out

	// library returns the charting library, and bring fetches it where it is
	// missing.
	library func() ([]byte, bool)
	bring   func(context.Context) error
}

// flags are those that many commands share.
type flags struct {
	yard    string
	asOf    string
	json    bool
	csv     bool
	ics     bool
	why     bool
	plain   bool
	by      string
	draws   int
	seed    uint64
	workers int
}

// run is the whole program: it returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, err io.Writer, now time.Time) int {
	host, _ := os.Hostname() // without a name the writer is called "yard"
	a := &app{in: in, out: out, err: err, now: now, host: host, env: os.Getenv,
		library: script.Library, bring: bringLibrary}
	return a.run(ctx, args)
}

func (a *app) run(ctx context.Context, args []string) int {
	a.lines = newLineReader(a.in)
	root := a.root()
	root.SetArgs(args)
	if err := root.ExecuteContext(ctx); err != nil {
		a.jsonAsked(args)
		return a.fail(err)
	}
	return a.status
}

// jsonAsked finds out from the bare arguments that JSON was asked for, where the
// command line could not be read as a whole.
func (a *app) jsonAsked(args []string) {
	for _, s := range args {
		if s == "--" {
			return
		}
		a.flags.json = a.flags.json || s == "--json" || s == "--json=true"
	}
}

// root is the command itself, and all commands below it.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "hodaba",
		Short: "record a yard of mushroom logs, and forecast from it",
		Long: `hodaba keeps the record of a yard of mushroom logs and buried beds in a folder
of plain text, and says from it which piles are run through and how surely, when
each will fruit, how much it will bring, and when each tincture batch can start.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.ArbitraryArgs,
		RunE:          a.first,
	}
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(a.demo(), a.start(), a.record(), a.history(), a.correct(), a.undo(), a.work(),
		a.forecast(), a.soaks(), a.batches(), a.nextSeason(), a.strength(), a.stock(), a.supply(), a.lot(), a.score(), a.pages(), a.printed(), a.verify(), a.putBack(), a.merge(), a.exports(), a.imports(), a.fetchScript())
	cobra.EnableCommandSorting = false
	root.SetHelpTemplate(helpTemplate)
	root.SetUsageTemplate(usageTemplate)
	return root
}

const helpTemplate = `{{with (or .Long .Short)}}{{. | trimTrailingWhitespaces}}

{{end}}{{if or .Runnable .HasSubCommands}}{{.UsageString}}{{end}}{{if not .HasParent}}
Exit status: 0 done; 1 the folder or the data is wrong; 2 the command line is
wrong; 3 done, but something was left out.
{{end}}`

const usageTemplate = `Usage: {{.UseLine}}
{{if .HasExample}}
Examples:
{{.Example}}
{{end}}{{if .HasAvailableSubCommands}}
Commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name 10}} {{.Short}}{{end}}{{end}}

One of them: {{.CommandPath}} COMMAND --help
{{end}}{{if .HasAvailableLocalFlags}}
Options:
{{.LocalFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}`

// folderFlags are those of every command that reads a yard.
func (a *app) folderFlags(c *cobra.Command) {
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&a.flags.yard, "yard", "", "the yard's folder (default: this folder, then its parents)")
	f.StringVar(&a.flags.asOf, "as-of", "", "the day as of which to answer, such as 2026-05-01 (default: today)")
	f.BoolVar(&a.flags.json, "json", false, "answer as JSON")
	f.BoolVar(&a.flags.plain, "plain", false, "only plain signs (also where the locale is not UTF-8)")
}

// drawFlags are those of a command that simulates; they come last.
func (a *app) drawFlags(c *cobra.Command) {
	f := c.Flags()
	f.IntVar(&a.flags.workers, "workers", 0, "how many processors to use")
	if err := f.MarkHidden("workers"); err != nil {
		panic(err) // the flag was defined a line above
	}
	f.IntVar(&a.flags.draws, "draws", forecast.DefaultDraws, "how many possible weathers and yards to go through")
	f.Uint64Var(&a.flags.seed, "seed", forecast.DefaultSeed, "the start of the random numbers; the same one gives the same answer")
}

// failure is an error with its exit status and the way out.
type failure struct {
	status int
	text   string
	remedy string
	way    string // out of it, where it stands at the end of the text
}

// Error is the text and the way out.
func (f *failure) Error() string {
	if f.remedy == "" {
		return f.text
	}
	return f.text + "; " + f.remedy
}

// lineWrong is an error of the command line.
func lineWrong(remedy, format string, args ...any) error {
	return &failure{status: statusLine, text: fmt.Sprintf(format, args...), remedy: remedy}
}

// folderWrong is an error of the folder or the data.
func folderWrong(remedy, format string, args ...any) error {
	f := &failure{status: statusFolder, text: fmt.Sprintf(format, args...), remedy: remedy}
	for _, arg := range args {
		if err, ok := arg.(error); ok {
			f.way = yard.WayOut(err)
		}
	}
	return f
}

// fail writes an error, as text or as JSON, and returns its status.
func (a *app) fail(err error) int {
	var f *failure
	if !errors.As(err, &f) {
		f = &failure{status: statusFolder, text: err.Error(), way: yard.WayOut(err)}
		if errors.Is(err, context.Canceled) {
			f.text = "stopped before it was done"
		}
	}
	if a.flags.json {
		text, remedy := f.text, f.remedy
		if rest, ok := strings.CutSuffix(text, ": "+f.way); ok && remedy == "" && f.way != "" {
			text, remedy = rest, f.way
		}
		type object struct {
			Status int    `json:"status"`
			Text   string `json:"text"`
			Remedy string `json:"remedy,omitempty"`
		}
		if b, jsonErr := charts.JSON(struct {
			Error object `json:"error"`
		}{object{f.status, text, remedy}}); jsonErr == nil {
			a.err.Write(b)
			return f.status
		}
	}
	fmt.Fprintln(a.err, "hodaba: "+charts.Clean(f.text))
	if f.remedy != "" {
		fmt.Fprintln(a.err, "  "+charts.Clean(f.remedy))
	}
	return f.status
}

// flagError turns pflag's errors into ours, with the nearest flag.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return lineWrong("see "+c.CommandPath()+" --help", "%s", err.Error())
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	name := unknown.GetSpecifiedName()
	if short := unknown.GetSpecifiedShortnames(); name != "" && strings.Trim(name[:1], "0123456789.,") == "" {
		return lineWrong("write the amount without the minus; what was recorded too high, correct", "-%s is less than nothing", short)
	}
	if near, ok := data.Nearest(name, names); ok {
		return lineWrong("did you mean --"+near+"? All of them: "+c.CommandPath()+" --help", "there is no option --%s", name)
	}
	return lineWrong("all of them: "+c.CommandPath()+" --help", "there is no option --%s", name)
}

// write sends an answer out; a closed pipe is no reason to complain.
func (a *app) write(b []byte) error {
	_, err := a.out.Write(b)
	return err
}

// print is the one way in which text for people goes out, whatever anybody
// typed into it.
func (a *app) print(s string) error { return a.write([]byte(charts.Screen(s))) }

// note sends a line beside the answer; with --json a line of JSON.
func (a *app) note(format string, args ...any) {
	text := charts.Clean(fmt.Sprintf(format, args...))
	if a.flags.json {
		if b, err := json.Marshal(map[string]string{"note": text}); err == nil {
			text = string(b)
		}
	}
	fmt.Fprintln(a.err, text)
}

// asOf is the day as of which to answer, and today the real one.
func (a *app) asOf() (asOf, today yard.Date, err error) {
	today = yard.Of(a.now)
	if a.flags.asOf == "" {
		return today, today, nil
	}
	asOf, err = yard.ParseDate(a.flags.asOf)
	if err != nil {
		return 0, 0, lineWrong("", "--as-of: %s", err)
	}
	return asOf, today, nil
}

// moment is the local date and time to write beside an entry.
func (a *app) moment() yard.Moment { return yard.MomentOf(a.now) }

// terminal says what signs the reader's screen has.
func (a *app) terminal(us bool) charts.Terminal {
	return charts.Terminal{Plain: a.flags.plain || !a.utf8(), US: us}
}

// utf8 reports whether the locale shows more than ASCII: the first of the
// three variables that is set decides, as POSIX has it. Where none is set
// only Windows and macOS are taken to show it.
func (a *app) utf8() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := a.env(name); v != "" {
			v = strings.ToLower(v)
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS != "linux"
}

// onTerminal reports whether a stream is a screen that a person looks at.
func onTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// fetchLimit is how long a command waits for the charting library before it
// goes on without.
const fetchLimit = 20 * time.Second

func bringLibrary(ctx context.Context) error {
	ctx, stop := context.WithTimeout(ctx, fetchLimit)
	defer stop()
	dir, err := script.CacheDir()
	if err != nil {
		return err
	}
	return script.Fetch(ctx, dir)
}
