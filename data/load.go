package data

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
)

//go:embed *.toml species/*.toml
var embedded embed.FS

var loadOnce = sync.OnceValues(func() (*Set, error) { return load(embedded) })

// Load returns the embedded reference values. They are read and checked once;
// every call returns the same Set, which nobody may change.
//
// An error lists everything that is wrong in the TOML files, one line each.
func Load() (*Set, error) { return loadOnce() }

// The files of one subject each, beside species/*.toml.
const (
	woodsFile       = "woods.toml"
	stationsFile    = "stations.toml"
	regionsFile     = "regions.toml"
	practiceFile    = "practice.toml"
	recipesFile     = "recipes.toml"
	inoculatingFile = "inoculating.toml"
	sourcesFile     = "sources.toml"
)

// loader reads the files of one directory and collects what is wrong in them.
type loader struct {
	files    fs.FS
	sources  map[string]string
	used     map[string]bool // keys of sources
	problems []error
}

// wrong notes a problem in a file.
func (l *loader) wrong(file, format string, args ...any) {
	l.problems = append(l.problems, fmt.Errorf("%s: "+format, append([]any{file}, args...)...))
}

// load reads and checks a directory laid out as this one.
func load(files fs.FS) (*Set, error) {
	l := &loader{files: files, used: map[string]bool{}}
	s := &Set{Species: []Species{}}
	l.read(sourcesFile, &s.Sources)
	l.sources = s.Sources

	l.readSpecies(s)
	l.readInto(woodsFile, &struct {
		All *[]Wood `toml:"wood"`
	}{&s.Woods})
	l.readInto(stationsFile, &struct {
		All *[]Station `toml:"station"`
	}{&s.Stations})
	l.readInto(regionsFile, &struct {
		All *[]Region `toml:"region"`
	}{&s.Regions})
	l.readInto(practiceFile, &s.Practice)
	l.readInto(inoculatingFile, &s.Inoculating)
	l.readInto(recipesFile, &struct {
		All *[]Recipe `toml:"example"`
	}{&s.Recipes})
	l.readRequirements(s)

	l.makeIndex(s)
	l.check(s)
	l.checkSources()
	if len(l.problems) > 0 {
		return nil, fmt.Errorf("reference values: %w", errors.Join(l.problems...))
	}
	return s, nil
}

// read decodes a file strictly: a key that nobody asked for is a problem. It
// reports whether the file could be decoded at all.
func (l *loader) read(file string, into any) bool {
	text, err := fs.ReadFile(l.files, file)
	if err != nil {
		l.wrong(file, "cannot be read: %v", err)
		return false
	}
	meta, err := toml.Decode(string(text), into)
	if err != nil {
		l.wrong(file, "%s", tomlError(err))
		return false
	}
	for _, key := range meta.Undecoded() {
		l.wrong(file, "unknown key %s; the known ones are the toml tags in data.go", key)
	}
	return true
}

// tomlError words an error of the decoder with its line.
func tomlError(err error) string {
	var parse toml.ParseError
	if errors.As(err, &parse) {
		return fmt.Sprintf("line %d: %s", parse.Position.Line, parse.Message)
	}
	return err.Error()
}

// readInto reads a file and goes through every value in it: quality known,
// source known, range in order; the source key is replaced by its citation.
func (l *loader) readInto(file string, into any) bool {
	if !l.read(file, into) {
		return false
	}
	walk(into, func(v sourced) { l.settle(file, v) })
	return true
}

func (l *loader) readSpecies(s *Set) {
	names, err := fs.Glob(l.files, "species/*.toml")
	if err != nil || len(names) == 0 {
		l.wrong("species", "no species found (%v)", err)
	}
	for _, file := range names { // in order of name
		var sp Species
		if !l.readInto(file, &sp) {
			continue
		}
		if base := strings.TrimSuffix(path.Base(file), ".toml"); plain(sp.Name) != plain(base) {
			l.wrong(file, "is about %q; name the file after the species", sp.Name)
		}
		sp.Look, sp.Cautions = words(sp.LookAlikes), words(sp.Warnings)
		s.Species = append(s.Species, sp)
	}
}

func words(all []Saying) []string {
	var out []string
	for _, s := range all {
		out = append(out, s.Says)
	}
	return out
}

// readRequirements gives each strain its solved requirement. A strain without
// one is left unsolved; a requirement without a strain is a problem.
func (l *loader) readRequirements(s *Set) {
	var file struct {
		All []NamedRequirement `toml:"requirement"`
	}
	l.read(RequirementFile(), &file)
	for _, r := range file.All {
		strain := exactStrain(s, r.Species, r.Strain)
		switch {
		case strain == nil:
			l.wrong(RequirementFile(), "no strain %q of %q; let the solver write the file anew",
				r.Strain, r.Species)
		case r.Solved && !(r.Sigma > 0):
			l.wrong(RequirementFile(), "%s %s: sigma %v is not above 0; let the solver write the file anew",
				r.Species, r.Strain, r.Sigma)
		default:
			strain.Need = r.Requirement
		}
	}
}

func exactStrain(s *Set, species, strain string) *Strain {
	for i := range s.Species {
		for j := range s.Species[i].Strains {
			if s.Species[i].Name == species && s.Species[i].Strains[j].Name == strain {
				return &s.Species[i].Strains[j]
			}
		}
	}
	return nil
}

// makeIndex enters every name and alias, and finds names that mean two things.
func (l *loader) makeIndex(s *Set) {
	s.index = names{
		species:  l.enter("species", len(s.Species), s.speciesCalls),
		woods:    l.enter(woodsFile, len(s.Woods), s.woodCalls),
		stations: l.enter(stationsFile, len(s.Stations), s.stationCalls),
	}
}

func (l *loader) enter(file string, n int, calls func(int) []string) map[string]int {
	at := map[string]int{}
	for i := range n {
		for _, name := range calls(i) {
			if j, taken := at[plain(name)]; taken && j != i {
				l.wrong(file, "%q is a name of both %s and %s; keep it in one", name, calls(j)[0], calls(i)[0])
			} else if plain(name) != "" {
				at[plain(name)] = i
			}
		}
	}
	return at
}
