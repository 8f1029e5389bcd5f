// Package climate makes the weather of a place, day by day and draw by draw,
// from monthly normals and the day-to-day statistics of its region.
//
// A Site is resolved from yard.toml: an embedded station, moved to the yard's
// height, or the grower's own normals. A Generator then fills days: a smooth
// yearly course whose monthly means are the normals, wet and dry days from a
// two-state chain, gamma amounts, and temperature anomalies that remember
// yesterday and carry a slow offset by half-year (after Richardson 1981,
// Water Resources Research 17:182–190). Days that were measured are left as
// they are, and the anomaly carries on from them.
//
// All piles of a yard see the same draw of weather: good and bad years come
// to all of them together.
package climate
