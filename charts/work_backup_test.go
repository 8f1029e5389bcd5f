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
		"as of before it":      {written(200), Backup{Last: today + 1, Kept: true}, ""},
		"no entry says when":   {[]*yard.Entry{{On: yard.On(today - 500)}}, Backup{Kept: true}, ""},
	} {
		in := Input{State: &yard.State{AsOf: today, Entries: c.entries}, Data: set, Backup: c.backup}
		tasks := newBook(in).backup()
		switch {
		case c.why == "" && len(tasks) > 0:
			t.Errorf("%s: %+v", name, tasks)
		case c.why != "" && (len(tasks) != 1 || tasks[0].Why != c.why || !slices.Equal(tasks[0].Close, []string{"hodaba export --all"})):
			t.Errorf("%s: %+v", name, tasks)
		}
	}
}
