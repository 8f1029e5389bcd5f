package yard

// Soaking is one soak of logs of a pile.
type Soaking struct {
	On    When
	Part  string
	Logs  int
	Hours float64
	Entry *Entry
}

// PutOff is a task put off.
type PutOff struct {
	On    When
	Task  string
	Until Date
}

// Breakage is something that cannot be used.
type Breakage struct {
	What  string
	On    When
	Until Date
}

// Names reports whether a task put off names a pile, by name or code.
func (o PutOff) Names(p *Pile) bool { return false }
