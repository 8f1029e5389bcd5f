package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// place is what start asks: where the yard lies, and its units.
type place struct {
	name, station, units, country, piles string
	from                                 string // archive of a yard
	normalsFile                          string
	latitude, longitude, elevation       float64
	shade, warming                       float64
	normals                              *yard.Normals
}

func (a *app) start() *cobra.Command {
	var p place
	c := &cobra.Command{
		Use:   "start DIR",
		Short: "make the folder of a new yard",
		Long: long(`Makes the folder of a new yard. It asks for the place and the units, or takes them as
options; then for what stands already, a line for each pile. Drier, pot and jars are
asked for when a batch is first wanted.`),
		Example: `  hodaba start my-yard
  hodaba start my-yard --station oxford --units metric --piles old-piles.csv
  hodaba start my-yard --latitude 51.7 --longitude -1.3 --units metric
  hodaba start my-yard --latitude 61.2 --longitude 9.1 --normals means.csv
  hodaba start my-yard --from my-yard-2026-11-26.zip`,
		Args: oneArg("DIR"),
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return lineWrong("as in: hodaba start my-yard", "start needs a folder")
		}
		if p.from != "" {
			return a.startFrom(c, args[0], p.from)
		}
		return a.runStart(c.Context(), args[0], p)
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&p.name, "name", "", "the yard's name (default: that of the folder)")
	f.StringVar(&p.station, "station", "", "the weather station that speaks for it, such as oxford")
	f.Float64Var(&p.latitude, "latitude", math.NaN(), "degrees, north positive")
	f.Float64Var(&p.longitude, "longitude", math.NaN(), "degrees, east positive")
	f.Float64Var(&p.elevation, "elevation", math.NaN(), "metres above the sea")
	f.Float64Var(&p.shade, "shade", math.NaN(), "shade over the logs in summer, percent")
	f.StringVar(&p.normalsFile, "normals", "", "a table of own monthly means instead of a station; its head:\nmonth,tmin_c,tmax_c,rain_mm,rain_days")
	f.Float64Var(&p.warming, "warming", 0, "°C in ten years by which the present is warmer than the normals")
	f.StringVar(&p.units, "units", "", "metric or us")
	f.StringVar(&p.country, "country", "", "for its holidays, such as gb or us")
	f.StringVar(&p.piles, "piles", "", "a table of what stands already; its head: "+yard.TableHeader())
	f.StringVar(&p.from, "from", "", "make the yard of a file that export --all wrote; asks nothing")
	f.BoolVar(&a.flags.json, "json", false, "answer as JSON, and ask nothing")
	f.BoolVar(&a.flags.plain, "plain", false, "only plain signs (also where the locale is not UTF-8)")
	a.drawFlags(c)
	return c
}

func (a *app) runStart(ctx context.Context, dir string, p place) error {
	set, err := data.Load()
	if err != nil {
		return err
	}
	if err := free(dir); err != nil {
		return err
	}
	if err := a.settle(dir, &p, set); err != nil {
		return startEnded(err)
	}
	table, err := readPiles(p.piles)
	if err != nil {
		return err
	}
	if err := yard.Create(dir, p.answers()); err != nil {
		return folderWrong("", "%s", err)
	}
	folder, _, err := a.openIn(dir)
	if err != nil {
		return err
	}
	weather := a.speaksFor(p, folder, set)
	n, err := a.standing(ctx, folder, p, table)
	if err != nil {
		return err
	}
	return a.started(ctx, dir, n, weather, p.station != "")
}

// free refuses a folder that holds something before any question is asked; the
// words are those of Create, which makes nothing in it either.
func free(dir string) error {
	files, err := os.ReadDir(dir)
	if err != nil {
		return nil // not there yet, or for Create to say
	}
	for _, f := range files {
		if !strings.HasPrefix(f.Name(), ".") {
			if err := yard.Create(dir, yard.Answers{}); err != nil {
				return folderWrong("", "%s", err)
			}
		}
	}
	return nil
}

func startEnded(err error) error {
	if errors.Is(err, errNoAnswer) {
		return lineWrong("as in: hodaba start my-yard --station oxford --units metric", "no folder was made: the answers ended too soon")
	}
	return err
}

// settle checks what the options say of the place and asks for the rest.
func (a *app) settle(dir string, p *place, set *data.Set) error {
	if p.name == "" {
		p.name = yardName(dir)
	}
	if err := p.check(set); err != nil {
		return err
	}
	if !p.placed() {
		if a.flags.json {
			return lineWrong("add --station, or --latitude and --longitude", "start --json asks nothing, and no place is given")
		}
		a.note("Where is the yard? The name of a station, or latitude and longitude as in 51.7, -1.3.")
		a.note("Stations: %s", strings.Join(set.StationKeys(), ", "))
		if _, err := a.askUntil("place:", func(s string) error { return p.setPlace(s, set) }); err != nil {
			return err
		}
	}
	if p.units == "" && !a.flags.json {
		if _, err := a.askUntil("units, metric or us (Enter: metric):", p.setUnits); err != nil {
			return err
		}
	}
	return a.settleWeather(p, set)
}

// settleWeather finds the station that speaks for the yard, or own normals.
func (a *app) settleWeather(p *place, set *data.Set) (err error) {
	if p.normalsFile != "" {
		p.normals, err = readNormals(p.normalsFile)
		return err
	}
	if p.nearest(set); p.station != "" || a.flags.json {
		return nil
	}
	a.tooFar(p, set)
	p.normals, err = a.askNormals(p.units == "us")
	return err
}

// tooFar says that no station is near enough.
func (a *app) tooFar(p *place, set *data.Set) {
	st, km := climate.Nearest(p.latitude, p.longitude, p.elevation, set)
	if st != nil {
		a.note("No station within %d km and %d m of height speaks for this place; the nearest is %s, %.0f km away%s.",
			climate.NearKM, climate.NearHeight, st.Name, km, above(p.elevation-st.Elevation))
	}
}

// above says how much higher or lower the yard lies; nothing where that is not
// known.
func above(m float64) string {
	switch {
	case math.IsNaN(m) || math.Abs(m) < 1:
		return ""
	case m < 0:
		return fmt.Sprintf("; the yard lies %.0f m lower", -m)
	}
	return fmt.Sprintf("; the yard lies %.0f m higher", m)
}

// yardName is the name of a folder, "." included.
func yardName(dir string) string {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	return filepath.Base(dir)
}

func (p *place) placed() bool {
	return p.station != "" || !math.IsNaN(p.latitude) && !math.IsNaN(p.longitude)
}

func (p *place) check(set *data.Set) error {
	if p.units != "" {
		if err := p.setUnits(p.units); err != nil {
			return lineWrong("write --units metric or --units us", "--units: %s", err)
		}
	}
	if p.station != "" {
		if err := p.setStation(p.station, set); err != nil {
			return lineWrong("all of them: "+strings.Join(set.StationKeys(), ", "), "--station: %s", err)
		}
	}
	if math.IsNaN(p.latitude) != math.IsNaN(p.longitude) {
		return lineWrong("as in: --latitude 51.7 --longitude -1.3", "latitude and longitude go together")
	}
	if math.Abs(p.latitude) > 90 || math.Abs(p.longitude) > 180 {
		return lineWrong("degrees, as in: --latitude 51.7 --longitude -1.3", "there is no place at latitude %g, longitude %g", p.latitude, p.longitude)
	}
	if p.normalsFile != "" && (p.station != "" || math.IsNaN(p.latitude)) {
		return lineWrong("as in: --latitude 61.2 --longitude 9.1 --normals means.csv", "--normals speaks for a place of its own: give its latitude and longitude, and no station")
	}
	if !(p.warming >= -1 && p.warming <= 2) {
		return lineWrong("a number of °C in ten years, such as 0.2", "--warming %g cannot be", p.warming)
	}
	if p.shade < 0 || p.shade > 100 {
		return lineWrong("a number from 0 to 100", "--shade %g is no percentage", p.shade)
	}
	return nil
}

func (p *place) setUnits(s string) error {
	switch strings.ToLower(s) {
	case "", "metric":
		p.units = "metric"
	case "us":
		p.units = "us"
	default:
		return fmt.Errorf("%q: metric or us", s)
	}
	return nil
}

func (p *place) setStation(s string, set *data.Set) error {
	st, ok := set.FindStation(s)
	if ok {
		p.station = st.Key
		return nil
	}
	if near, ok := data.Nearest(s, set.StationKeys()); ok {
		return fmt.Errorf("there is no station %q; did you mean %s?", s, near)
	}
	return fmt.Errorf("there is no station %q", s)
}

// setPlace takes a station or a position.
func (p *place) setPlace(s string, set *data.Set) error {
	lat, lon, two := strings.Cut(s, ",")
	if !two {
		lat, lon, two = strings.Cut(strings.TrimSpace(s), " ")
	}
	la, err1 := strconv.ParseFloat(strings.TrimSpace(lat), 64)
	lo, err2 := strconv.ParseFloat(strings.TrimSpace(lon), 64)
	if !two || err1 != nil || err2 != nil {
		return p.setStation(s, set)
	}
	if math.Abs(la) > 90 || math.Abs(lo) > 180 || math.IsNaN(la) || math.IsNaN(lo) {
		return fmt.Errorf("there is no place at latitude %g, longitude %g", la, lo)
	}
	p.latitude, p.longitude = la, lo
	return nil
}

// nearest names the station that speaks for a position, where one is near
// enough.
func (p *place) nearest(set *data.Set) {
	if p.station != "" || !p.placed() {
		return
	}
	if st, km := climate.Nearest(p.latitude, p.longitude, p.elevation, set); nearEnough(st, km, p.elevation) {
		p.station = st.Key
	}
}

func nearEnough(st *data.Station, km, elevation float64) bool {
	return st != nil && km <= climate.NearKM && !(math.Abs(elevation-st.Elevation) > climate.NearHeight)
}

func (p *place) answers() yard.Answers {
	return yard.Answers{Name: p.name, US: p.units == "us", Station: p.station, Latitude: p.latitude,
		Longitude: p.longitude, Elevation: p.elevation, Shade: p.shade, Country: p.country, Warming: p.warming, Normals: p.normals}
}

// speaksFor says on what weather the forecast rests, or what to do where there
// is none; it reports whether there is some.
func (a *app) speaksFor(p place, folder *yard.Folder, set *data.Set) bool {
	cfg := folder.Config().Site
	site, err := climate.Resolve(cfg, set)
	if err != nil || cfg.Station == "" && cfg.Normals == nil {
		if a.flags.json {
			a.tooFar(&p, set)
			a.note("%s", whereNormals)
		}
		a.note("Write [site.normals] into yard.toml, twelve values each: until then there is no forecast. Or begin anew with a table of them, --normals FILE.")
		a.status = statusPartial
		return false
	}
	if st := site.Station; st != nil {
		away := ""
		if !math.IsNaN(p.latitude) {
			away = fmt.Sprintf(", %.0f km away", site.Distance)
		}
		a.note("Weather: %s, %d–%d%s%s.", st.Name, st.From, st.To, away, above(p.elevation-st.Elevation))
		if !nearEnough(st, site.Distance, p.elevation) {
			a.note("  That is far: own normals would speak better for this place, under [site.normals] in yard.toml. %s", whereNormals)
		}
		a.note("  Source: %s. Licence: %s.", st.Source, strings.TrimSuffix(st.Licence, "."))
	} else {
		a.note("Weather: own normals, as given.")
	}
	a.note("  Borrowed from a set of the region: %s.", strings.Join(site.Borrowed, "; "))
	if site.Warming == 0 {
		a.note("  Warming since then: none is counted. It is a setting, warming_c_per_decade in yard.toml (--warming); no value is suggested, the weather service of your country may publish one.")
	} else {
		a.note("  Warming since then: %g °C in ten years, as set; the present is taken to be %.1f °C warmer.", site.Warming, site.Warmer(yard.Of(a.now)))
	}
	return true
}

// readPiles reads the table of what stands already before anything is made.
func readPiles(path string) (string, error) {
	if path == "" {
		return "", nil
	}
	f, err := os.Open(path)
	if err != nil {
		return "", folderWrong("name a file with --piles FILE", "the table cannot be read: %s", err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, largestTable+1))
	if err != nil {
		return "", folderWrong("name a file with --piles FILE", "the table cannot be read: %s", err)
	}
	return string(b), nil
}

// largestTable bounds what is read of a table of piles, in bytes.
const largestTable = 16 << 20

// standing records what stands already, from a table or typed line by line,
// and returns how many entries that made.
func (a *app) standing(ctx context.Context, f *yard.Folder, p place, table string) (int, error) {
	if p.piles == "" {
		if a.flags.json {
			return 0, nil
		}
		var err error
		if table, err = a.askTable(f); err != nil || table == "" {
			return 0, err
		}
	}
	texts, problems := yard.ReadTable(strings.NewReader(table), f.Terms())
	for _, pr := range problems {
		if p.piles == "" {
			break // said when the line was typed
		}
		pr.File = filepath.ToSlash(p.piles)
		a.note("%s", pr.String())
		if pr.Grade != yard.Odd {
			a.status = statusPartial
		}
	}
	if len(texts) == 0 {
		return 0, nil
	}
	ids, _, err := f.RecordAll(ctx, texts, a.writerOf(), a.moment())
	if err != nil {
		return 0, folderWrong("the folder is there; the table can be given again", "the table was not taken: %s", err)
	}
	return len(ids), nil
}

// askTable takes lines until an empty one; each is read at once, so that a
// mistake is said while the paper is still at hand. A line that begins with the
// same name as an earlier one takes its place.
func (a *app) askTable(f *yard.Folder) (string, error) {
	head := yard.TableHeader()
	a.note("What stands already? A line for each pile, in this order (a blank stays blank, an empty line ends):")
	a.note("  %s", head)
	a.note("  such as: barn, shiitake, 2022, 30, 24, oak, 2023-09, 18 kg")
	var rows []string
	for {
		row, err := a.ask(">")
		if err != nil && !errors.Is(err, errNoAnswer) {
			return "", err
		}
		if row == "" {
			break
		}
		if a.takes(head+"\n"+row+"\n", f) {
			rows = slices.DeleteFunc(rows, func(r string) bool { return nameOf(r) == nameOf(row) })
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		return "", nil
	}
	return head + "\n" + strings.Join(rows, "\n") + "\n", nil
}

// takes reads one line of the table and says what is wrong with it.
func (a *app) takes(table string, f *yard.Folder) bool {
	_, problems := yard.ReadTable(strings.NewReader(table), f.Terms())
	worst, any := yard.Worst(problems)
	for _, p := range problems {
		p.File, p.Line = "", 0
		a.note("  %s", p.String())
	}
	switch {
	case !any:
	case worst == yard.Odd:
		a.note("  It is taken; if that is wrong, type the line again.")
	default:
		a.note("  It is not taken: type the line again, with that mended or blank.")
	}
	return worst == yard.Odd
}

func nameOf(row string) string {
	name, _, _ := strings.Cut(row, ",")
	return strings.ToLower(strings.TrimSpace(name))
}

// started says what to do next; where piles were taken over, a forecast
// follows at once.
func (a *app) started(ctx context.Context, dir string, entries int, weather, station bool) error {
	dir = filepath.ToSlash(dir)
	if a.flags.json {
		return a.encoded(charts.JSON(struct {
			Yard    string `json:"yard"`
			Entries int    `json:"entries"`
			Station bool   `json:"station_near"`
			Weather bool   `json:"weather"`
		}{dir, entries, station, weather}))
	}
	if err := a.print(fmt.Sprintf("The yard is in %s; entries taken over: %d.\n", dir, entries)); err != nil {
		return err
	}
	if entries > 0 && weather {
		if err := a.firstForecast(ctx, dir); err != nil {
			return err
		}
	}
	return a.print("\nNext, in " + dir + ":\n" +
		"  hodaba record inoculated oak-1 shiitake 40 logs white oak 12cm --on 2025-04\n" +
		"  hodaba forecast\n  hodaba verify\n" +
		"The place, tank, drier, promises and jars: yard.toml; recipes: recipes.toml.\n")
}

func (a *app) firstForecast(ctx context.Context, dir string) error {
	r, result, err := a.aheadIn(ctx, filepath.FromSlash(dir))
	if err != nil {
		return err
	}
	t := a.terminal(r.state.Config.US)
	return a.print("\n" + t.Through(result.Piles) + "\n" + t.Harvests(result.Piles))
}
