package charts

import (
	"slices"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// An archive is asked for where none was made for three months and something
// was written since; a young yard, and one in which the program never wrote,
// are left in peace.
func TestBackupReminder(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	today := yard.NewDate(2026, 5, 1)
	written := func(days ...int) (list []*yard.Entry) {
		for _, ago := range days {
			list = append(list, &yard.Entry{Kind: "walked", On: yard.On(today - yard.Date(ago)), Written: yard.Moment((today - yard.Date(ago)).String() + "T18:00:00")})
		}
		return list
	}
	putOff := func(task string, ago, days int) *yard.Entry {
		on := today - yard.Date(ago)
		return &yard.Entry{Kind: "put_off", On: yard.On(on), Event: &yard.TaskPutOff{Task: task, Until: yard.On(on + yard.Date(days))}}
	}
	for name, c := range map[string]struct {
		entries []*yard.Entry
		backup  Backup
		why     string // "": no reminder
	}{
		"a week old":           {written(7, 3), Backup{Kept: true}, ""},
		"never, for long":      {written(200, 3), Backup{Kept: true}, "No archive of this yard was ever made, and what is written in it stands nowhere else."},
		"just long enough":     {written(90), Backup{Kept: true}, "No archive of this yard was ever made, and what is written in it stands nowhere else."},
		"a day short":          {written(89), Backup{Kept: true}, ""},
		"lately":               {written(200, 3), Backup{Last: today - 30, Kept: true}, ""},
		"long ago":             {written(200, 40, 3), Backup{Last: today - 100, Kept: true}, "The last one is of 21 January 2026; written since: 2 entries."},
		"nothing written then": {written(200, 150), Backup{Last: today - 100, Kept: true}, ""},
		"made up or by hand":   {written(200, 3), Backup{}, ""},
		"put off":              {append(written(200), putOff("backup", 10, 60)), Backup{Kept: true}, ""},
		"put off as it reads":  {append(written(200), putOff("put the yard into one file, and keep it on another disk", 10, 60)), Backup{Kept: true}, ""},
		"put off, and over":    {append(written(200), putOff("backup", 10, 10)), Backup{Kept: true}, "No archive of this yard was ever made, and what is written in it stands nowhere else."},
		"put off for ever":     {append(written(200), putOff("backup", 90, 5000)), Backup{Kept: true}, "No archive of this yard was ever made, and what is written in it stands nowhere else."},
		"as of before it":      {written(200), Backup{Last: today + 1, Kept: true}, ""},
		"no entry says when":   {[]*yard.Entry{{On: yard.On(today - 500)}}, Backup{Kept: true}, ""},
	} {
		state := &yard.State{AsOf: today, Entries: c.entries}
		for _, e := range c.entries {
			if x, ok := e.Event.(*yard.TaskPutOff); ok {
				x.Apply(state, e, set)
			}
		}
		in := Input{State: state, Data: set, Backup: c.backup}
		tasks := newBook(in).backup()
		switch {
		case c.why == "" && len(tasks) > 0:
			t.Errorf("%s: %+v", name, tasks)
		case c.why != "" && (len(tasks) != 1 || tasks[0].Why != c.why || !slices.Equal(tasks[0].Close, []string{"hodaba export --all"})):
			t.Errorf("%s: %+v", name, tasks)
		}
	}
}
