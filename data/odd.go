package data

// Odd holds the bounds beyond which an entry is pointed at as a likely slip of
// the pen.
type Odd struct {
	BegunAgain Number `toml:"begun_again_days"` // between two days of inoculating one pile
}
