package yard

import (
	"fmt"

	"hodaba/data"
)

var putOffKind = kind{
	KindInfo: KindInfo{
		Name: "put_off", Says: "a task is left for later",
		Example: `put_off "soak oak-north A" until=2026-06-01`,
		Keys: []Key{
			{Name: "task", Holds: "which task, as it stands in the list", Example: "soak oak-north A", Kind: TextKey, Required: true},
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
func (x *TaskPutOff) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	s.PutOff = append(s.PutOff, PutOff{e.On, x.Task, x.Until, e})
	return untilBefore(x.Until, e)
}

// untilBefore points at an end that lies before the beginning.
func untilBefore(until When, e *Entry) []Problem {
	if until.IsZero() || until.To >= e.On.From {
		return nil
	}
	return []Problem{e.odd("until", fmt.Sprintf("until %s is before %s", until, e.On), "look at both days")}
}
