package charts

import (
	"fmt"

	"hodaba/yard"
)

// Backup is when the whole yard was last put into one archive.
type Backup struct {
	Last yard.Date // zero: never
	Kept bool      // the program writes in the folder: something stands in it that stands nowhere else
}

// backup asks for an archive where none was made for long and something was
// written since. A yard that is young needs none yet.
func (b *book) backup() []Task {
	since := b.Backup.Last
	if since > b.today() {
		return nil // as of a day before the last archive
	}
	if b.backupPutOff() {
		return nil
	}
	first, n := yard.Date(0), 0
	for _, e := range b.State.Entries {
		day := e.Written.Day()
		if day == 0 || day <= since {
			continue
		}
		n++
		if first == 0 || day < first {
			first = day
		}
	}
	from := since
	if from == 0 {
		from = first
	}
	if !b.Backup.Kept || n == 0 || float64(b.today()-from) < b.Data.Practice.ArchiveDays.Value {
		return nil
	}
	why := "No archive of this yard was ever made, and what is written in it stands nowhere else."
	if since != 0 {
		why = fmt.Sprintf("The last one is of %s; written since: %s.", fullDay(since), count(n, "entry", "entries"))
	}
	return []Task{b.anyDay("backup", yard.BackupTask, why, "hodaba export --all")}
}

// backupPutOff reports whether the reminder was put off; not for longer than
// one archive may be old.
func (b *book) backupPutOff() bool {
	for _, o := range b.State.PutOff {
		longest := o.On.From + yard.Date(b.Data.Practice.ArchiveDays.Value)
		if yard.PutsOffBackup(o.Task) && b.today() < min(o.Until.From, longest) {
			return true
		}
	}
	return false
}
