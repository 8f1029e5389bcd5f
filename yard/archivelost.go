package yard

import (
	"bytes"
	"slices"
	"strings"
)

// WouldLose is what would be lost if an archive took the place of an older one.
type WouldLose struct {
	Other   bool     // the older one is of another yard: all of it
	Entries []string // identifiers of entries that only the older one holds
	Files   []string // recipes.toml or weather.csv, where only the older one has it
}

// Nothing reports whether nothing would be lost.
func (l WouldLose) Nothing() bool { return !l.Other && len(l.Entries)+len(l.Files) == 0 }

// LostIn is what would be lost if an archive of this folder took the place of
// an older one. An entry counts as the same where it has the same identifier
// and moment of writing, whatever else was mended in it by hand, or stands without
// its identifier in one of them; of entries by
// hand that say something else now, one that came makes up for one that went.
// What was left out on purpose is not missed.
func (f *Folder) LostIn(archive, older *Archive) (l WouldLose) {
	had, has := f.heldIn(older), f.heldIn(archive)
	shared, came := 0, 0
	for text := range had.texts { // two yards of one computer may share identifiers
		if has.texts[text] {
			shared++
		}
	}
	for key := range has.byHand {
		if _, ok := had.byHand[key]; !ok {
			came++
		}
	}
	oldName, newName := f.nameIn(older), f.nameIn(archive)
	l.Other = shared == 0 && (oldName != newName || len(had.all) > 0 && len(has.all) > 0)
	left := f.left()
	var byHand []string
	var gone []*Entry
	for key, e := range had.all {
		_, kept := has.all[key]
		_, stood := had.journal[key]
		_, stands := has.journal[key]
		switch {
		case had.byHand[key] == nil && !left.has(e.identifier(), e.Written) && (!kept || stood && !stands):
			gone = append(gone, e)
		case had.byHand[key] != nil && !stands:
			byHand = append(byHand, e.ID)
		}
	}
	l.Entries = f.notUnsigned(gone, had, has)
	if len(byHand) > came {
		l.Entries = append(l.Entries, byHand...)
	}
	slices.Sort(l.Entries)
	for _, name := range []string{RecipesFile, WeatherFile} {
		if _, ok := older.files[name]; ok && archive.files[name] == nil {
			l.Files = append(l.Files, name)
		}
	}
	return l
}

// notUnsigned are the identifiers of entries that an older archive had, but for
// those that stand in the newer one, or stood in the older one, without them.
func (f *Folder) notUnsigned(gone []*Entry, had, has held) (ids []string) {
	if len(gone) == 0 {
		return nil
	}
	came := map[string][]*Entry{}
	for key, e := range has.journal {
		if had.journal[key] == nil && e.Written != "" {
			came[saysWhen(e)] = append(came[saysWhen(e)], e)
		}
	}
	_, nameless, _ := f.vanished() // where the journal cannot be read no archive is made
	slices.SortFunc(gone, func(a, b *Entry) int { return strings.Compare(a.ID, b.ID) })
	for _, e := range gone {
		says := saysWhen(e)
		at := slices.IndexFunc(came[says], func(x *Entry) bool { return nobodySigned(x) || nobodySigned(e) })
		if at >= 0 {
			came[says] = slices.Delete(came[says], at, at+1)
			continue
		}
		if x := nameless[e.ID]; x != nil && x.Kind == e.Kind && saysOf(x) == saysOf(e) {
			continue
		}
		ids = append(ids, e.ID)
	}
	return ids
}

// held are entries by what makes them the same in two archives.
type held struct {
	journal map[string]*Entry // in the journal
	byHand  map[string]*Entry // those of them that were written by hand
	all     map[string]*Entry // with those that only a daily copy has
	texts   map[string]bool   // of all
}

// heldIn are the entries that an archive holds.
func (f *Folder) heldIn(a *Archive) held {
	h := held{map[string]*Entry{}, map[string]*Entry{}, map[string]*Entry{}, map[string]bool{}}
	terms := f.Terms()
	journal := a.files[JournalFile]
	for _, e := range readJournal(journal, &terms).entries {
		key := e.ID + " " + string(e.Written)
		if e.Written == "" && !hasEntry.MatchString(e.Text) {
			key = e.meaning()
			h.byHand[key] = e
		}
		h.journal[key], h.all[key], h.texts[e.Text] = e, e, true
	}
	for _, name := range a.Names() {
		if b := a.files[name]; strings.HasPrefix(name, ownFolder+"/journal-") && !bytes.HasPrefix(journal, b) {
			for _, e := range readJournal(b, &terms).entries {
				key := e.ID + " " + string(e.Written)
				if e.Written != "" && hasEntry.MatchString(e.Text) && h.all[key] == nil {
					h.all[key], h.texts[e.Text] = e, true
				}
			}
		}
	}
	return h
}

// nameIn is how the yard of an archive is called.
func (f *Folder) nameIn(a *Archive) string {
	c, _ := readConfig(a.files[YardFile], f.data)
	return c.Name
}

// OwnFile reports whether a name is one that the program reads, or writes for
// good, in the folder of a yard: no table goes there.
func OwnFile(name string) bool {
	name = strings.ToLower(name)
	if slices.Contains([]string{YardFile, RecipesFile, JournalFile, WeatherFile}, name) {
		return true
	}
	for _, p := range []string{"journal-torn-", "journal-kept-", "weather-before-"} {
		if strings.HasPrefix(name, p) {
			return true
		}
	}
	return strings.HasPrefix(name, ownFolder)
}
