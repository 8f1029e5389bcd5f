package fruit

import "math"

// Rota divides logs into groups, one of which is soaked each week, so that
// each group comes round again after the cycle.
type Rota struct {
	Groups   int // as many as the cycle has weeks
	PerGroup int // logs soaked a week
	Logs     int // in all: a multiple of Groups
}

// RotaFor is the rota of a number of logs on a cycle of whole weeks, rounded up
// so that groups are alike: about a hundred logs on nine weeks are 108, twelve
// a week (Kentucky FOR-85).
func RotaFor(logs, weeks int) Rota {
	if logs <= 0 || weeks <= 0 {
		return Rota{}
	}
	each := (logs + weeks - 1) / weeks
	return Rota{Groups: weeks, PerGroup: each, Logs: each * weeks}
}

// RotaOf is the rota that brings so many kg fresh a week, when a log brings
// perFlush kg each time it is soaked: logs a week rounded up, times the weeks of
// the cycle. A flush of nothing gives no rota.
func RotaOf(kgPerWeek, perFlush float64, weeks int) Rota {
	if !(kgPerWeek > 0) || !(perFlush > 0) || weeks <= 0 {
		return Rota{}
	}
	// A hair under, so that a whole number of logs stays one.
	each := int(math.Ceil(kgPerWeek/perFlush - 1e-9))
	return Rota{Groups: weeks, PerGroup: each, Logs: each * weeks}
}

// Weekly is the kg fresh a week that a rota brings at perFlush kg a log and
// flush.
func (r Rota) Weekly(perFlush float64) float64 { return float64(r.PerGroup) * perFlush }

// Loads is the number of tank loads a week, of tank logs each.
func (r Rota) Loads(tank int) int {
	if tank <= 0 {
		return 0
	}
	return (r.PerGroup + tank - 1) / tank
}

// Flushes is how often in its life a log can be soaked before its crop is
// spent: life kg over perFlush kg. Bulletins that soak at a fixed yield forget
// that.
func Flushes(life, perFlush float64) float64 {
	if !(perFlush > 0) {
		return 0
	}
	return life / perFlush
}

// Renewal is the number of logs to be inoculated a year so that a rota goes on
// for ever: soaks of a year of season weeks over the flushes of a log's life.
func (r Rota) Renewal(seasonWeeks, flushes float64) float64 {
	if !(flushes > 0) {
		return 0
	}
	return float64(r.PerGroup) * seasonWeeks / flushes
}
