package data

// Odd holds the bounds beyond which an entry is pointed at as a likely slip of
// the pen.
type Odd struct {
	BegunAgain Number `toml:"begun_again_days"` // between two days of inoculating one pile
	Late       Number `toml:"late_days"`        // from a day until it was written down
	OldNotes   Number `toml:"old_notes"`        // late entries of one kind written on a day that are copied from notes
	FirstDays  Number `toml:"first_days"`       // of a yard, in which old notes are copied
}
