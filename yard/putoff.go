package yard

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"hodaba/data"
)

var putOffKind = kind{
	KindInfo: KindInfo{
		Name: "put_off", Says: "a task is left for later",
		Example: `put_off "soak oak-north A" until=2026-06-01`,
		Keys: []Key{
			{Name: "task", Holds: "which task: a soak, an inoculation, or backup", Example: "soak oak-north A", Kind: TextKey, Required: true},
			untilKey.with("day on which it comes up again", "2026-06-01", true),
		},
	},
	make: func() readable { return &TaskPutOff{} },
}

var untilKey = Key{Name: "until", Kind: DayKey}

// TaskPutOff leaves a task for later.
type TaskPutOff struct {
	Task  string
	Until When
}

// PutOff is a task that was put off.
type PutOff struct {
	On    When
	Task  string // as written: "soak oak-north A"
	Until When   // it comes up again on the first of these days
	Entry *Entry
}

// Kind is "put_off".
func (x *TaskPutOff) Kind() string { return putOffKind.Name }

func (x *TaskPutOff) fields() []any { return []any{&x.Task, &x.Until} }

// Apply notes it.
func (x *TaskPutOff) Apply(s *State, e *Entry, d *data.Set) []Problem {
	s.PutOff = append(s.PutOff, PutOff{e.On, x.Task, x.Until, e})
	problems := untilBefore(x.Until, e)
	rest, soak := soakOf(x.Task)
	switch {
	case soak:
		if _, known := s.SoakTask(x.Task); !known {
			problems = append(problems, e.odd("task", fmt.Sprintf("%s names no pile, so no soak is put off", shown(rest)),
				`write "soak" for all soaks, "soak oak-north" for a pile or "soak oak-north A" for a part of it`))
		}
	case PutsOffBackup(x.Task):
		if longest := archiveDays(d); longest > 0 && !x.Until.IsZero() && float64(x.Until.From-e.On.From) > longest {
			problems = append(problems, e.odd("until", fmt.Sprintf("the reminder of an archive comes again after %.0f days", longest), "nothing need be done; a copy of the folder on another disk keeps the yard, too"))
		}
	case !strings.HasPrefix(folded(x.Task), "inoculate "):
		problems = append(problems, e.odd("task", fmt.Sprintf("%s is no task that can be put off, and it stays in the list", shown(x.Task)),
			`write "soak", "soak oak-north", "soak oak-north A", "inoculate birch-3" or "backup"`))
	}
	return problems
}

// BackupTask is the reminder of an archive, as it stands in the list.
const BackupTask = "Put the yard into one file, and keep it on another disk."

// PutsOffBackup reports whether a task is the reminder of an archive, by its
// kind or as it stands in the list.
func PutsOffBackup(task string) bool {
	task = strings.TrimSuffix(folded(task), ".")
	return task == "backup" || task == strings.TrimSuffix(folded(BackupTask), ".")
}

// SoakTask is which soaks a task speaks of.
type SoakTask struct {
	Pile *Pile  // nil: all soaks
	Part string // its letter, in capitals; "" all parts
}

// SoakTask reads "soak", "soak oak-north" and "soak oak-north A", the pile by
// its name or its code; ok is false for another task, and for one that names
// no pile that stands.
func (s *State) SoakTask(task string) (t SoakTask, ok bool) {
	rest, ok := soakOf(task)
	if !ok || rest == "" {
		return t, ok
	}
	if p := s.Pile(rest); p != nil { // a pile may be called "oak A"
		return SoakTask{Pile: p}, true
	}
	at := strings.LastIndexByte(rest, ' ')
	if at < 0 || utf8.RuneCountInString(rest[at+1:]) != 1 {
		return t, false
	}
	p := s.Pile(strings.TrimSuffix(rest[:at], " part"))
	return SoakTask{Pile: p, Part: strings.ToUpper(rest[at+1:])}, p != nil
}

// soakOf is what a task of soaking names, folded.
func soakOf(task string) (rest string, ok bool) {
	task = folded(task)
	rest, ok = strings.CutPrefix(task, "soak ")
	if task == "soak" {
		return "", true
	}
	return rest, ok
}

// untilBefore points at an end that lies before the beginning.
func untilBefore(until When, e *Entry) []Problem {
	if until.IsZero() || until.To >= e.On.From {
		return nil
	}
	return []Problem{e.odd("until", fmt.Sprintf("until %s is before %s", until, e.On), "look at both days")}
}

// archiveDays is how old an archive may be before one is asked for; 0 unknown.
func archiveDays(d *data.Set) float64 {
	if d == nil {
		return 0
	}
	return d.Practice.ArchiveDays.Value
}
