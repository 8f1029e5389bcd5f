package yard

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"strings"
)

// Answers are what a new yard is made from. NaN stands for a number, and ""
// for a word, that nobody said.
type Answers struct {
	Name      string
	US        bool // US customary units
	Station   string
	Latitude  float64  // degrees north
	Longitude float64  // degrees east
	Elevation float64  // m
	Shade     float64  // percent
	Warming   float64  // °C a decade since the normals; written also where it is nought
	Normals   *Normals // own normals instead of a station's; nil for none
	Country   string   // two letters, for its holidays
	Recipes   string   // text of recipes.toml; a remark where empty
}

// Create makes a new yard in a folder on the disk, which is made if it is
// missing. A folder that holds anything but hidden files is refused, and
// nothing in it is touched.
func Create(dir string, a Answers) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return mistake{dir + " is a file, not a folder", "name another folder"}
	}
	disk := diskAt(dir)
	if err := disk.makeFolders(dir); err != nil {
		return fmt.Errorf("making the folder of the yard: %w", err)
	}
	return create(disk, dir, a)
}

// CreateIn is Create for files that need not lie on a disk.
func CreateIn(files Files, a Answers) error { return create(files, "the folder", a) }

func create(files Files, dir string, a Answers) error {
	list, err := fs.ReadDir(files, ".")
	if err != nil {
		return fmt.Errorf("looking into %s: %w", dir, err)
	}
	if exists(files, YardFile) {
		return mistake{dir + " is a yard already", "record in it, or name another folder"}
	}
	if b, err := fs.ReadFile(files, JournalFile); err == nil && string(b) == journalHead {
		return mistake{dir + " was begun as a yard and not finished, and nothing is recorded in it",
			fmt.Sprintf("delete %s and %s in it and begin again", JournalFile, RecipesFile)}
	}
	for _, e := range list {
		if !strings.HasPrefix(e.Name(), ".") {
			return mistake{fmt.Sprintf("%s holds something else already, such as %s", dir, e.Name()), "name a new folder, or an empty one"}
		}
	}
	// yard.toml comes last: with it the folder is a yard (FORMAT.md, A new yard).
	recipes := a.Recipes
	if recipes == "" {
		recipes = noRecipes
	}
	for _, file := range []struct{ name, text string }{
		{JournalFile, journalHead}, {RecipesFile, strings.TrimLeft(recipes, "\n")}, {YardFile, a.yardText()},
	} {
		if err := files.Replace(file.name, []byte(file.text)); err != nil {
			return fmt.Errorf("writing %s: %w", file.name, err)
		}
	}
	return nil
}

const journalHead = `# What happened in the yard, one table for each event. The program only ever
# writes at the end; mend by hand what is wrong, and it stays as you leave it.
`

const noRecipes = `# Tincture recipes, one [[recipe]] each with its [[recipe.ingredient]] tables.
# Those that stand first are served first.
#
# [[recipe]]
# name = "one mushroom"
# jars = 2
# spirit_per_jar = "500 ml"
# spirit_abv_percent = 40
# macerate_days = [14, 42]
# shake_days = 14
# method = "marc decocted"         # or "split", "decoction only", "maceration only"
# decoct_water = "1500 ml"
# decoct_to = "500 ml"
# simmer_hours = 2
# blend = "1:1"                    # or to_abv_percent = 25
# bottle = "100 ml"
#
# [[recipe.ingredient]]
# species = "shiitake"
# form = "pieces"                  # or "powder", "fresh"
# per_jar = "25 g"
`

// yardText is the text of yard.toml: what was answered, and as remarks what
// may be said later.
func (a Answers) yardText() string {
	var b strings.Builder
	units := "metric"
	if a.US {
		units = "us"
	}
	fmt.Fprintf(&b, "# The place, its limits and habits. Yours to change; the program never does.\n")
	fmt.Fprintf(&b, "format = %d\nname   = %s\nunits  = %q                # or \"metric\", \"us\"; both are understood everywhere\n", thisFormat, quote(a.Name), units)
	fmt.Fprintf(&b, "\n[site]\n")
	said(&b, "station", quote(a.Station), a.Station != "", "oxford", "whose monthly weather is taken")
	degrees(&b, "latitude", a.Latitude, "51.7")
	degrees(&b, "longitude", a.Longitude, "-1.3")
	degrees(&b, "elevation_m", a.Elevation, "80")
	said(&b, "shade_percent", decimal(a.Shade), !math.IsNaN(a.Shade), "80", "shade over the logs in summer")
	fmt.Fprintf(&b, "warming_c_per_decade = %s   # by which the present is taken to be warmer than the normals\n", decimal(a.Warming))
	b.WriteString(siteRemarks)
	b.WriteString(a.Normals.text())
	b.WriteString(yardRemarks)
	if a.Country != "" {
		fmt.Fprintf(&b, "\n[working]\ncountry = %s           # holidays of this country are kept free\n", quote(strings.ToLower(a.Country)))
	} else {
		b.WriteString("\n# [working]\n# country  = \"gb\"         # holidays of this country are kept free\n")
	}
	b.WriteString(laterRemarks)
	return b.String()
}

// said writes a key, or a remark that shows how to say it later.
func said(b *strings.Builder, key, value string, known bool, example, what string) {
	if !known {
		fmt.Fprintf(b, "# ")
		value = example
		if key == "station" {
			value = quote(example)
		}
	}
	fmt.Fprintf(b, "%s = %s", key, value)
	if what != "" {
		fmt.Fprintf(b, "   # %s", what)
	}
	b.WriteByte('\n')
}

func degrees(b *strings.Builder, key string, v float64, example string) {
	said(b, key, decimal(v), !math.IsNaN(v), example, "")
}

// text is the table of own normals, or a remark that shows how to give them.
func (n *Normals) text() string {
	if n == nil {
		return noNormals
	}
	var b strings.Builder
	b.WriteString("\n# Own monthly normals, twelve values each, January first.\n[site.normals]\n")
	list := func(key string, values [12]float64) {
		words := make([]string, len(values))
		for i, v := range values {
			words[i] = decimal(v)
		}
		fmt.Fprintf(&b, "%s = [%s]\n", key, strings.Join(words, ", "))
	}
	list("tmin_c", n.TMin)
	list("tmax_c", n.TMax)
	list("rain_mm", n.Rain)
	if n.RainDays != [12]float64{} {
		list("rain_days", n.RainDays)
		fmt.Fprintf(&b, "rain_day_mm = %s   # that make a day of rain\n", decimal(n.RainDayMM))
	}
	return b.String()
}

const siteRemarks = `# exposure = "south"             # or "north", "windy", "frost pocket"
# resample = true                # futures from seasons of your own weather.csv, from twenty years on
`

const noNormals = `
# Own monthly normals instead of a station: twelve values each, January first.
# [site.normals]
# tmin_c = []
# tmax_c = []
# rain_mm = []
`

const yardRemarks = `
# [[place]]                      # a part of the yard with a shade of its own
# name = "under the hazel"
# shade_percent = 90

# [[species]]                    # one that is not built in
# name = "a local oyster"
# like = "oyster"

# [measures]
# basket = "1.8 kg"
`

const laterRemarks = `
# [drier]
# load = "6 kg"                  # fresh
# hours_per_load = 12
# share_percent = 100            # of what is picked goes to the drier; the rest is for fresh sale

# [cold]                         # the cold room
# holds = "20 kg"                # fresh
# days = 5                       # for which it is kept there

# [[promised]]                   # what is to be delivered, one table each
# to = "the market"
# what = "shiitake"              # fresh; "fresh" is any, a recipe is its bottles
# amount = "2 kg"                # of bottles, their number
# by = 2027-09-04                # the first day, or the only one
# every = "week"                 # or "2 weeks", "month"; once if left out

# [soak]                         # the tank
# tank_logs = 12                 # in one load
# cycle_weeks = 9                # from one soak of a log to its next
# hours = 24                     # in the water
# first = "after a year"         # or "after the first flush"

# [kitchen]
# jars = 6
# jar = "1 l"
# pot = "5 l"
# boils_down = "1.5 l to 0.5 l in 2 h"   # how long from 1.5 l to 0.5 l?
# press = "hand"                 # or "press"

# [plan]
# confidence_percent = 80        # the chance at which dates are printed
`
