package yard

// Step is what may be noted beside any step of a batch.
type Step struct {
	At          Clock
	Temperature Temperature
	Deviation   string // what went otherwise; "" nothing
}

// stepKeys are the keys of a Step; of says what the temperature is of.
func stepKeys(of string) []Key {
	return []Key{
		{Name: "at", Holds: "time of day", Example: "14:05", Kind: ClockKey},
		{Name: "temperature", Holds: "temperature of " + of, Example: "18 C", Kind: TemperatureKey},
		{Name: "deviation", Holds: "what went otherwise than it should", Example: "one jar leaked", Kind: TextKey},
	}
}

// fields names the variables in the order of stepKeys.
func (s *Step) fields() []any { return []any{&s.At, &s.Temperature, &s.Deviation} }
