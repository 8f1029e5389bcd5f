package yard

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// placeName brings a place to its name in yard.toml, as names are compared; one
// that stands nowhere is kept as written.
func (s *State) placeName(place string) string {
	for _, p := range s.Config.Places {
		if folded(p.Name) == folded(place) {
			return p.Name
		}
	}
	return place
}

// oddPlace points at a place in which an entry puts a pile and that is none of
// yard.toml: its shade and cover are then those of the site. Where yard.toml
// has no places, they are words. Of a place that is like no other it is said
// once.
func (s *State) oddPlace(e *Entry) []Problem {
	place := placedAt(e)
	if strings.TrimSpace(place) == "" || len(s.Config.Places) == 0 {
		return nil
	}
	var names []string
	for _, p := range s.Config.Places {
		if folded(p.Name) == folded(place) {
			return nil
		}
		names = append(names, p.Name)
	}
	remedy := fmt.Sprintf("if it is a place of its own, add to %s a [[place]] with name = %s", YardFile, quote(place))
	if near, ok := nearestPlace(place, names); ok {
		remedy = fmt.Sprintf("did you mean %s? Then correct the entry with place = %s; %s", near, quote(near), remedy)
	} else if slices.Contains(s.placeless, folded(place)) {
		return nil
	}
	s.placeless = append(s.placeless, folded(place))
	return []Problem{e.odd("place", fmt.Sprintf("no [[place]] is called %s: its shade and cover are taken to be those of the site", shown(place)), remedy)}
}

// placedAt is the place in which an entry puts a pile, "" where it puts none.
func placedAt(e *Entry) string {
	switch x := e.Event.(type) {
	case *Moved:
		return x.Place
	case *Inoculated, *Arrived, *Buried, *Split, *Joined:
		return e.Place
	case *Counted:
		if x.Pile != "" && x.Species != "" {
			return e.Place
		}
	}
	return ""
}

// nearestPlace is the place that may be meant: the nearest in letters, else the
// only one of whose name it is some of the words.
func nearestPlace(place string, names []string) (near string, ok bool) {
	if near, ok = data.Nearest(place, names); ok {
		return near, true
	}
	for _, n := range names {
		if strings.Contains(" "+folded(n)+" ", " "+folded(place)+" ") {
			if ok {
				return "", false
			}
			near, ok = n, true
		}
	}
	return near, ok
}
