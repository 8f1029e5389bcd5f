package takes

import "hodaba/forecast/fruit"

// ForRota is the number of logs to inoculate so that a soaking cycle of whole
// weeks comes out even, and how many of them are soaked each week; a hundred on
// nine weeks are 108, twelve a week (Kentucky FOR-85).
func ForRota(logs, weeks int) (round, each int) {
	r := fruit.RotaFor(logs, weeks)
	return r.Logs, r.PerGroup
}
