package data

// Odd holds the bounds beyond which an entry is pointed at as a likely slip of
// the pen.
type Odd struct {
	BegunAgain  Number `toml:"begun_again_days"`   // between two days of inoculating one pile
	Late        Number `toml:"late_days"`          // from a day until it was written down
	OldNotes    Number `toml:"old_notes"`          // late entries of one kind written on a day that are copied from notes
	FirstDays   Number `toml:"first_days"`         // of a yard, in which old notes are copied
	UsualTimes  Number `toml:"usual_times"`        // over the usual picking of a pile
	CropTimes   Number `toml:"crop_times"`         // over what a forced log gives, where a picking is far over the usual one
	SoakShort   Number `toml:"soak_short_hours"`   // hours in the water that hardly wet a log
	SoakYoung   Number `toml:"soak_young_days"`    // from inoculating to a first soak
	RingShare   Number `toml:"ring_share"`         // of the shortest run through in print, before which no log is through
	RingFall    Number `toml:"ring_fall"`          // share of the logs by which rings may be fewer than before
	RingLogs    Number `toml:"ring_logs"`          // logs looked at from which that is told
	WeighedLow  Number `toml:"weighed_low"`        // of the weight of green wood, under which a log hardly weighs
	WeighedHigh Number `toml:"weighed_high"`       // of the weight of green wood, over which no log weighs
	MarcTimes   Number `toml:"marc_times"`         // wet marc over dry goods
	SpiritPerG  Number `toml:"spirit_ml_per_g"`    // ml of spirit for 1 g of dry goods
	BoiledTo    Number `toml:"boiled_to"`          // of the water in a pot, under which nobody boils it down
	LittleLeft  Number `toml:"little_left"`        // of the liquid that a batch had, under which something is missing
	SimmerNight Number `toml:"simmer_night_hours"` // that simmer over midnight is believed, by the clock
	WorkDay     Number `toml:"work_day_hours"`     // hours of work of one person in a day
	WorkAlone   Number `toml:"work_hours"`         // hours of work in a day where nobody said how many worked
	Crew        Number `toml:"crew"`               // people at one piece of work
	LiquidLeast Number `toml:"bought_least_ml"`    // of spirit that is bought
	LiquidMost  Number `toml:"bought_most_ml"`     // of spirit that is bought
	LoadLeast   Number `toml:"load_least_kg"`      // in a load of the drier
	CountTimes  Number `toml:"count_times"`        // bottles counted over all that ever came
}
