package yard

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/data"
)

var changedKind = kind{
	KindInfo: KindInfo{
		Name: "changed", Says: "a setting of yard.toml has another value from now on, so that old years stay as they were",
		Example: `changed soak.tank_logs value=24`,
		Keys: []Key{
			{Name: "key", Holds: "table and key in yard.toml", Example: "soak.tank_logs", Kind: SettingKey, Required: true},
			{Name: "value", Holds: "what it is from this day on, as it would stand there", Example: "24", Kind: ValueKey, Required: true},
		},
	},
	make: func() readable { return &Changed{} },
}

// Changed gives a setting another value from its day on. yard.toml stays as
// it is, and says what was before the first change.
type Changed struct {
	Key   string
	Value any // as it stands in the journal: text may hold a number or a list
}

// Change is a setting that has another value from a day on.
type Change struct {
	On    When
	Key   string // "soak.tank_logs"
	Value string // as written
	Entry *Entry
}

// Kind is "changed".
func (x *Changed) Kind() string { return changedKind.Name }

func (x *Changed) fields() []any { return []any{&x.Key, &x.Value} }

// datedTables are the tables of yard.toml whose keys can have another value
// from a day on. The others name things rather than say how they are, say how
// words of the journal are read, or would make another yard of this one.
var datedTables = []string{"farm", "site", "drier", "cold", "soak", "kitchen", "working", "plan"}

// fixedKeys are keys of those tables that cannot change with a day.
var fixedKeys = []string{"site.station", "site.latitude", "site.longitude", "site.elevation_m", "site.normals",
	"plan.targets", "plan.species", "plan.want", "plan.logs", "plan.hours", "plan.room", "plan.costs", "plan.price", "plan.buy", "plan.holes"}

// Apply changes the configuration from here on in the replay. A setting that
// is none, or a value that cannot be read, goes to the tray "to sort".
func (x *Changed) Apply(s *State, e *Entry, d *data.Set) []Problem {
	config, problems := x.change(&s.Config, e, d)
	if len(problems) > 0 {
		s.Sort = append(s.Sort, e)
		return problems
	}
	s.Config = *config
	s.Changed = append(s.Changed, Change{On: e.On, Key: x.path(), Value: typed(x.Value), Entry: e})
	return nil
}

// path is the key with its table, as yard.toml names them.
func (x *Changed) path() string { return strings.ToLower(strings.Join(strings.Fields(x.Key), "")) }

// change reads the value with the reader of its table in yard.toml.
func (x *Changed) change(c *Config, e *Entry, d *data.Set) (*Config, []Problem) {
	aside := func(key, text, remedy string) []Problem {
		p := e.odd(key, text, remedy)
		p.Grade = Aside
		return []Problem{p}
	}
	path := x.path()
	name, key, dotted := strings.Cut(path, ".")
	switch {
	case slices.Contains(fixedKeys, path) || slices.Contains(fixedKeys, name+"."+strings.SplitN(key, ".", 2)[0]):
		return nil, aside("key", clippedName(path)+" cannot change from a day on", "write it in "+YardFile+", where it holds for all years")
	case !slices.Contains(datedTables, name):
		return nil, aside("key", fmt.Sprintf("%s is in no table of %s that can change from a day on", shown(x.Key), YardFile), x.otherTable(name, key, c, d))
	case !dotted || key == "":
		return nil, aside("key", fmt.Sprintf("%s names a table and no key", shown(x.Key)), "write table and key, such as soak.tank_logs")
	}
	var first []Problem
	for _, v := range x.readings() {
		config, problems := readSetting(name, key, v, c, d)
		if len(problems) == 0 {
			return config, nil
		}
		if first != nil {
			continue
		}
		for _, p := range problems {
			at := "value"
			if isNoKey(p, key) {
				at = "key"
			}
			first = append(first, aside(at, p.Text, p.Remedy)...)
		}
	}
	return nil, first
}

// readSetting reads one key of a table of yard.toml into a copy of c.
func readSetting(name, key string, v any, c *Config, d *data.Set) (*Config, []Problem) {
	y := newYardFile(copied(*c), d)
	t := &table{file: YardFile, name: name, vals: map[string]any{key: v}, terms: &Terms{Data: d, Own: c.Own, Measures: c.Measures}}
	y.readers[name](t)
	y.shadePlaces()
	return &y.c, t.problems
}

// isNoKey tells an unknown key from a value that cannot be read.
func isNoKey(p Problem, key string) bool {
	return strings.HasPrefix(p.Text, clippedName(key)+" is no key of ")
}

// otherTable is the way out where the table cannot change: the one that has
// the key, unless the table is one of yard.toml.
func (x *Changed) otherTable(name, key string, c *Config, d *data.Set) string {
	if newYardFile(Config{}, d).readers[name] == nil && key != "" {
		for _, other := range datedTables {
			if _, problems := readSetting(other, key, x.Value, c, d); !slices.ContainsFunc(problems, func(p Problem) bool { return isNoKey(p, key) }) {
				return "did you mean " + other + "." + key + "?"
			}
		}
	}
	return "write table and key, such as soak.tank_logs; tables: " + strings.Join(datedTables, ", ")
}

// readings are what a value can mean: text may be text, hold a number, a day
// or a list as TOML, or be a list with commas between.
func (x *Changed) readings() []any {
	s, ok := x.Value.(string)
	if !ok {
		return []any{x.Value}
	}
	out := []any{s}
	if vals, _, err := decode("[[v]]\nv = " + s); err == nil && !strings.ContainsAny(s, "\r\n") {
		t := table{vals: vals}
		t.open(&Entry{})
		out = append([]any{t.vals["v"]}, out...)
	}
	var list []any
	for part := range strings.SplitSeq(s, ",") {
		list = append(list, strings.TrimSpace(part))
	}
	return append(out, list)
}

// copied is a configuration of which lists and tables can be changed without
// changing the one it came from.
func copied(c Config) Config {
	c.Places = slices.Clone(c.Places)
	c.Measures = maps.Clone(c.Measures)
	return c
}
