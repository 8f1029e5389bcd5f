package data

import (
	"slices"
	"strings"
)

// Quality says how well a value is founded.
type Quality string

// The qualities, best first. Anything but Read is said wherever the value is
// shown to a grower.
const (
	Read       Quality = "read"                       // read in the named source
	SecondHand Quality = "second-hand"                // read in a page restating another source
	Derived    Quality = "derived"                    // arithmetic on values that were read
	FromMemory Quality = "from memory"                // known, not read, nobody cited
	Judgement  Quality = "judgement"                  // our own guess, guided by what was read
	Practised  Quality = "common practice, no source" // a rule of the trade that nobody could cite
)

// Number is one reference value. Its unit stands in the doc of the field that
// holds it.
type Number struct {
	Value   float64 `toml:"value"`
	Quality Quality `toml:"quality"`
	// Source is a key of sources.toml, resolved to the citation by Load. Of a
	// Judgement it names what guided it.
	Source string `toml:"source"`
	Note   string `toml:"note"`
}

// Range is a low, typical and high value: P10, P50 and P90 of what the source
// lets one expect.
type Range struct {
	Low     float64 `toml:"low"`
	Typical float64 `toml:"typical"`
	High    float64 `toml:"high"`
	Basis   string  `toml:"basis"` // what the number is measured over, where that matters
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
	Note    string  `toml:"note"`
}

// Words are what growers write for one thing, in lower case; a text says it
// where it holds one of them.
type Words struct {
	Words   []string `toml:"words"`
	Quality Quality  `toml:"quality"`
	Source  string   `toml:"source"`
	Note    string   `toml:"note"`
}

// In reports whether a text holds one of the words.
func (w Words) In(text string) bool {
	text = strings.ToLower(text)
	return slices.ContainsFunc(w.Words, func(word string) bool { return strings.Contains(text, word) })
}

// Set is everything embedded: read once, never changed afterwards.
type Set struct {
	Species     []Species
	Woods       []Wood
	Stations    []Station
	Regions     []Region
	Practice    Practice
	Inoculating Inoculating
	Recipes     []Recipe          // examples that `start` and the demo may offer
	Sources     map[string]string // key to citation

	index names // where each name and alias stands; filled by Load
}

// Species is one kind of mushroom.
type Species struct {
	Name     string   `toml:"name"` // "shiitake", "lion's mane"
	Latin    string   `toml:"latin"`
	Aliases  []string `toml:"aliases"`
	Grown    bool     `toml:"grown"`  // false: only received as dried goods, never forecast
	Strains  []Strain `toml:"strain"` // the first is taken when none is named
	Fresh    Range    `toml:"fresh"`  // water in the fresh mushroom, fraction of fresh mass
	Dried    Number   `toml:"dried"`  // water left after drying, fraction of dried mass
	Keeps    Number   `toml:"keeps"`  // days a picked mushroom keeps in the cold
	Look     []string `toml:"-"`      // the words of LookAlikes, filled by Load
	Cautions []string `toml:"-"`      // the words of Warnings, filled by Load
	// LookAlikes and Warnings are what is said, with a source each.
	LookAlikes []Saying `toml:"look_alike"`
	Warnings   []Saying `toml:"caution"`
	// Suits says which woods the trade takes for it; shown, not computed with.
	Suits []Suit `toml:"suits"`
}

// Saying is a sentence with its source.
type Saying struct {
	Says    string  `toml:"says"`
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
}

// Suit is one source's opinion on woods for a mushroom. Opinions of several
// sources stand side by side where they disagree.
type Suit struct {
	How     string   `toml:"how"` // "best", "usable" or "poor"
	Woods   []string `toml:"woods"`
	Quality Quality  `toml:"quality"`
	Source  string   `toml:"source"`
	Note    string   `toml:"note"`
}

// Strain is a class of strains of one species with a behaviour of its own.
type Strain struct {
	Name   string   `toml:"name"` // "wide-range"; "" where the species has one class
	Names  []string `toml:"aliases"`
	Growth Growth   `toml:"growth"`
	Window Window   `toml:"window"`
	Fruit  Fruit    `toml:"fruit"`
	Yield  Yield    `toml:"yield"`
	// Need is solved by code from Window and stands in requirement.toml.
	Need Requirement `toml:"-"`
}

// Growth is the response of the mycelium to temperature: the beta function
// with cardinal temperatures of Yan & Hunt 1999.
type Growth struct {
	TMin Number `toml:"t_min_c"` // °C, no growth at or below
	TOpt Number `toml:"t_opt_c"` // °C, fastest growth
	TMax Number `toml:"t_max_c"` // °C, no growth at or above
}

// Curve is one shape that the response to temperature may have; nobody has
// measured it on logs, so the forecast weighs several, each solved to the
// trade's window.
type Curve struct {
	Form string `toml:"form"`  // "beta" (Yan & Hunt 1999) or "inflected" (Rosso et al. 1993)
	Min  Number `toml:"min_c"` // °C added to a strain's lower limit
	Opt  Number `toml:"opt_c"` // °C added to its optimum
	Max  Number `toml:"max_c"` // °C added to its upper limit
}

// OtherCurves is how many curves there are besides the first, which is the
// strain's own.
const OtherCurves = 3

// Window is the trade's statement from which the requirement is solved: of
// logs inoculated on Inoculated at Station, a tenth have reached Of after
// Low months and nine tenths after High months.
type Window struct {
	Of         string  `toml:"of"` // "through" or "first crop"
	Low        float64 `toml:"low_months"`
	High       float64 `toml:"high_months"`
	Station    string  `toml:"station"`
	Inoculated string  `toml:"inoculated"` // "04-15"
	// RelativeTo names another strain of the species whose requirement,
	// times Factor, is this one's; Of, Low, High and Station are then unused.
	RelativeTo string  `toml:"relative_to"`
	Factor     float64 `toml:"factor"`
	Quality    Quality `toml:"quality"`
	Source     string  `toml:"source"`
	Note       string  `toml:"note"`
}

// Requirement is what a log needs to be run through, solved from a Window:
// the natural logarithm of growing days is normal with mean Mu and standard
// deviation Sigma for a reference log.
type Requirement struct {
	Mu     float64 `toml:"mu"`    // ln growing days
	Sigma  float64 `toml:"sigma"` // standard deviation of ln growing days, all effects together
	Solved bool    `toml:"solved"`
	Year   float64 `toml:"year_growing_days"` // growing days in a mean year where the window belongs
	Note   string  `toml:"note"`
	// The same, were the response one of the other curves of Practice.
	OtherMu    [OtherCurves]float64 `toml:"other_mu"`
	OtherSigma [OtherCurves]float64 `toml:"other_sigma"`
}

// On is the mean and the standard deviation of ln growing days for one of the
// curves of Practice, from 0; where that is not solved, the first curve's.
func (r *Requirement) On(curve int) (mu, sigma float64) {
	if curve == 0 || r.OtherSigma[curve-1] <= 0 {
		return r.Mu, r.Sigma
	}
	return r.OtherMu[curve-1], r.OtherSigma[curve-1]
}

// Fruit says when a strain that is through brings mushrooms.
type Fruit struct {
	Season     string  `toml:"season"`        // "any" or "falling" (only after the year's peak)
	Once       bool    `toml:"once"`          // no log crops twice in a season, from one coldest day of the year to the next
	BandLow    Number  `toml:"band_low_c"`    // °C, mean log temperature over a week
	BandHigh   Number  `toml:"band_high_c"`   // °C
	StartBelow Number  `toml:"start_below_c"` // °C, falling season: mean of 30 days must have sunk below
	Trigger    string  `toml:"trigger"`       // "rain", "cooling" or "band" (the band itself is enough)
	RainMM     Number  `toml:"rain_mm"`       // mm within a week that start a flush
	CoolBy     Number  `toml:"cool_by_c"`     // °C by which the 3-day mean falls under that of the 7 days before
	Chance     Number  `toml:"chance"`        // that one trigger is answered at all
	Share      Range   `toml:"share"`         // of the ready, rested logs that answer, fraction
	SoakShare  Range   `toml:"soak_share"`    // of them that answer a soak; wanted where Forced
	DaysWarm   Number  `toml:"days_warm"`     // days from trigger to picking at BandHigh
	DaysCool   Number  `toml:"days_cool"`     // days from trigger to picking at BandLow
	RestWeeks  Range   `toml:"rest_weeks"`    // weeks above the growth minimum between picking and the next trigger
	Forced     bool    `toml:"forced"`        // a soak can bring a flush
	Quality    Quality `toml:"quality"`
	Source     string  `toml:"source"`
}

// Yield is how much a log gives over its life, and when in it.
type Yield struct {
	Efficiency  Range  `toml:"efficiency"`  // fresh kg over a log's life per kg of wood
	Per         string `toml:"per"`         // the logs it counts: "inoculated" (all of them) or "fruiting"
	Over        string `toml:"over"`        // the wood it is over: "dry", or "green" (freshly felled, without bark)
	Unpublished bool   `toml:"unpublished"` // no log yield is published: the range is a wide guess and must be called so
	// Caution says in a sentence, without its stop, what is wrong with an
	// unpublished figure; "" that nobody published one at all.
	Caution     string      `toml:"caution"`
	Conflict    string      `toml:"conflict"`     // what sources say that do not agree, in sentences; "" where they do
	YearWeights []float64   `toml:"year_weights"` // share of the life crop by fruiting year of a log of reference diameter, sums to 1
	YearSource  string      `toml:"year_source"`
	YearQuality Quality     `toml:"year_quality"`
	FlushShare  Number      `toml:"flush_share"` // share of what the fruiting year still holds that one flush takes
	LifeYears   Range       `toml:"life_years"`  // years a log of reference diameter keeps fruiting
	Woods       []WoodYield `toml:"wood"`        // woods of which a figure of their own is published
}

// WoodYield is the efficiency on woods of which there is one of their own.
type WoodYield struct {
	Woods      []string `toml:"woods"`
	Efficiency Range    `toml:"efficiency"` // as that of Yield
	Per        string   `toml:"per"`
	Over       string   `toml:"over"`
}

// Wood is one kind of wood (Miles & Smith 2009, NRS-38, unless it says otherwise).
type Wood struct {
	Name        string   `toml:"name"` // "white oak"
	Latin       string   `toml:"latin"`
	Aliases     []string `toml:"aliases"`
	Gravity     float64  `toml:"gravity"`      // oven-dry mass over green volume, wood
	Moisture    float64  `toml:"moisture"`     // green moisture of wood, percent of oven-dry mass
	BarkGravity float64  `toml:"bark_gravity"` // oven-dry mass over green volume, bark
	BarkMoist   float64  `toml:"bark_moisture"`
	Bark        float64  `toml:"bark"`  // bark volume, percent of wood volume
	Genus       bool     `toml:"genus"` // a mean over its species
	Quality     Quality  `toml:"quality"`
	Source      string   `toml:"source"`
	Note        string   `toml:"note"`
}

// Station is a place with published monthly normals; twelve values each,
// January first.
type Station struct {
	Key       string    `toml:"key"`
	Name      string    `toml:"name"`
	Aliases   []string  `toml:"aliases"`
	Country   string    `toml:"country"`
	Latitude  float64   `toml:"lat"`
	Longitude float64   `toml:"lon"`
	Elevation float64   `toml:"elev_m"`
	From      int       `toml:"from"`   // first year of the period
	To        int       `toml:"to"`     // last year
	Region    string    `toml:"region"` // key of the Region it borrows from
	TMin      []float64 `toml:"tmin_c"`
	TMax      []float64 `toml:"tmax_c"`
	Rain      []float64 `toml:"rain_mm"`
	RainDays  []float64 `toml:"rain_days"`   // empty: borrowed
	RainDayMM float64   `toml:"rain_day_mm"` // threshold at which RainDays were counted
	Quality   Quality   `toml:"quality"`
	Source    string    `toml:"source"`
	Licence   string    `toml:"licence"`
	Note      string    `toml:"note"`
}

// Region is a set of day-to-day weather statistics taken from daily series
// and lent to stations and sites that have only monthly normals.
type Region struct {
	Key         string    `toml:"key"`
	Name        string    `toml:"name"`
	SD          []float64 `toml:"anomaly_sd_c"` // by month: standard deviation of daily mean temperature about its normal, °C
	Lag1        float64   `toml:"lag1"`         // lag-1 autocorrelation of that anomaly
	Offset      float64   `toml:"offset_sd_c"`  // standard deviation of the slow offset of a half-year, °C
	Persistence float64   `toml:"persistence"`  // P(wet|wet) − P(wet|dry), wet = 1 mm or more
	WetDayMM    float64   `toml:"wet_day_mm"`   // mean amount of a wet day, mm
	WetCV       float64   `toml:"wet_cv"`       // coefficient of variation of a wet day's amount
	DaysRatio   float64   `toml:"days_ratio"`   // days ≥ 0.1 mm per day ≥ 1 mm
	RangeWet    float64   `toml:"range_wet"`    // daily temperature range on wet days over that on dry days
	RangeCV     float64   `toml:"range_cv"`     // coefficient of variation of the daily range among days of the same kind, wet or dry
	MeanWetSD   float64   `toml:"mean_wet_sd"`  // mean anomaly of a wet day, in standard deviations
	Quality     Quality   `toml:"quality"`
	Source      string    `toml:"source"`
	Judged      []string  `toml:"judged"` // keys above whose value is our judgement, whatever Quality says of the others
	Note        string    `toml:"note"`
}

// Practice holds what concerns every species: how logs are measured, how
// effects are split, how a log and the soil take up the air's warmth.
type Practice struct {
	ReferenceDiameter Number              `toml:"reference_diameter_cm"`
	DiameterExponent  Range               `toml:"diameter_exponent"` // growing days needed ~ diameter^exponent
	LifeExponent      Range               `toml:"life_exponent"`     // years that a log keeps fruiting ~ diameter^exponent
	Spawn             map[string]Range    `toml:"spawn"`             // form to factor on growing days needed, sawdust = 1
	WoodFactor        Range               `toml:"wood_factor"`       // spread of the factor of the wood, when nothing is known
	Split             map[string]Number   `toml:"split"`             // shares of the requirement's variance: yard, species, spawn_lot, pile, log
	SplitShared       map[string]Number   `toml:"split_shared"`      // the same, were piles of a yard much alike
	SplitApart        map[string]Number   `toml:"split_apart"`       // the same, were they not
	Curves            []Curve             `toml:"curve"`             // shapes of the response, the strain's own first
	FalseSign         Range               `toml:"false_sign"`        // share of log ends that are misread
	SpotsLead         Range               `toml:"spots_lead"`        // share of the growing days needed after which spots show at the rim
	SlipRate          Number              `toml:"slip_rate"`         // chance that a look as a whole is wrong
	LookAgain         Number              `toml:"look_again_days"`   // before the ends of a pile are looked at again
	TouchMisread      Range               `toml:"touch_misread"`     // the same of knock and bark
	SameLogs          Number              `toml:"same_logs"`         // chance that as many logs looked at again are the same ones
	TakeFail          Range               `toml:"take_fail"`         // share of logs that never take
	SettleMonths      Range               `toml:"settle_months"`     // a ready-colonised log after burying, P10 typical P90
	ShadeDamp         Number              `toml:"shade_damp"`        // share of the sun's extra warmth kept off per share of shade
	SunWarmth         Number              `toml:"sun_warmth_c"`      // °C that a log in full sun is above air, mean of a summer day
	ReferenceShade    Number              `toml:"reference_shade_percent"`
	SurfaceExchange   Number              `toml:"surface_exchange_w_m2k"`
	WoodConductivity  Number              `toml:"wood_conductivity_w_mk"`
	WoodHeat          Number              `toml:"wood_heat_j_kgk"`        // specific heat of moist wood
	WoodDensity       Number              `toml:"wood_density_kg_m3"`     // green mass over green volume of a log
	HardFrost         Number              `toml:"hard_frost_c"`           // night temperature of a hard frost
	HotDay            Number              `toml:"hot_day_c"`              // day temperature beyond which growth stops and logs want shade
	WateringHours     Number              `toml:"watering_hours"`         // of a watering whose hours nobody wrote down
	RecordYears       Number              `toml:"record_years"`           // years of own record that weigh as much as the station
	RainTaken         Number              `toml:"rain_taken_per_mm"`      // rise of log moisture, dry basis, per mm of rain on a dry log of reference diameter
	WaterLost         Number              `toml:"water_lost_per_mm"`      // share of the moisture above the least that a log in the open loses per mm of evaporative demand
	ShadeSaves        Number              `toml:"shade_saves"`            // share of the evaporative demand that full shade keeps off
	WettestLog        Number              `toml:"wettest_log"`            // dry basis, no rain enters beyond
	DriestLog         Number              `toml:"driest_log"`             // dry basis, to which a log dries in the long run
	GreenLog          Number              `toml:"green_log"`              // dry basis, of freshly felled wood
	WateringGain      Number              `toml:"watering_gain_per_hour"` // rise of log moisture, dry basis, per hour of watering
	GrowsFrom         Number              `toml:"grows_from_percent"`     // wet-basis moisture under which nothing grows
	GrowsFully        Number              `toml:"grows_fully_percent"`    // wet-basis moisture from which growth is not held back
	FruitsFrom        Number              `toml:"fruits_from_percent"`    // wet-basis moisture under which no flush starts
	SpawnLost         Number              `toml:"spawn_lost_percent"`     // wet-basis moisture under which spawn dies
	SpawnLostDays     Number              `toml:"spawn_lost_days"`        // days under it after which spawn is lost
	WaterBelow        Number              `toml:"water_below_percent"`    // wet-basis moisture at which watering is due
	SoilDiffusivity   Number              `toml:"soil_diffusivity_m2_s"`
	BedDepth          Number              `toml:"bed_depth_cm"`
	TriggerGap        Number              `toml:"trigger_gap_days"`  // days in which a trigger is not counted again
	PeakFall          Number              `toml:"peak_fall_c"`       // °C by which the 30-day mean must have sunk from the year's peak before autumn species start
	DroughtDays       Number              `toml:"drought_days"`      // over which rain is looked at before a soak
	DroughtRain       Number              `toml:"drought_mm"`        // mm in that time under which soaks are put off
	DroughtShare      Number              `toml:"drought_share"`     // of the usual rain that falls in a year of drought, where one is thought through
	DroughtWeeks      Number              `toml:"drought_weeks"`     // ahead for which they are
	SoakHours         Number              `toml:"soak_hours"`        // that logs lie in the tank, where nobody said
	SoakCycle         Number              `toml:"soak_cycle_weeks"`  // from soak to soak, where nobody said
	BlankWeeks        Number              `toml:"blank_weeks"`       // after which logs that brought nothing are soaked again
	SoakColder        Number              `toml:"soak_colder_c"`     // °C by which a week may be under the band in which a soak still brings a flush
	SoakAnswer        Number              `toml:"soak_answer_days"`  // within which a picking counts as what a soak brought
	ArchiveDays       Number              `toml:"archive_days"`      // since the last archive of the whole yard, after which one is asked for
	SoakAsk           Number              `toml:"soak_ask_days"`     // after a soak, when nothing is written down since: did anything come?
	FlushPerLog       Range               `toml:"flush_per_log_kg"`  // kg fresh that a forced log gives at a time, as printed
	FlushPatience     Number              `toml:"flush_patience"`    // times the slowest growth of a flush, then it has failed
	FlushStops        Number              `toml:"flush_stops_c"`     // °C under the band at which a flush stands still
	FlushStall        Number              `toml:"flush_stall_days"`  // days that a flush may stand still, then it is lost
	CropSpread        Number              `toml:"crop_shared"`       // share of the variance of a species' efficiency that all its piles of the yard share
	LogSpread         Number              `toml:"log_spread"`        // sd of ln life crop between logs of one pile
	PileSpread        Number              `toml:"pile_spread"`       // sd of ln life crop between piles beyond Efficiency
	YearSpread        Number              `toml:"year_spread"`       // sd of ln crop, common to a calendar year
	RecordSpread      Number              `toml:"record_spread"`     // sd of ln of a year's weighed crop about the true one
	ZeroWeeks         Number              `toml:"zero_weeks"`        // weeks of a year in which somebody must have gone round for no picking to mean no crop
	ZeroMissed        Number              `toml:"zero_missed"`       // chance that a year's crop is missed although somebody went round
	PileStops         Number              `toml:"pile_stops"`        // chance that a pile has stopped bearing, before its record is looked at
	GlutKG            Number              `toml:"glut_kg"`           // kg over in a week from which it is a glut
	LeastCrop         Number              `toml:"least_crop_kg"`     // a year's crop of a pile under which nothing is picked
	BasketWeeks       Number              `toml:"basket_weeks"`      // around a picking from several piles, by whose expected crops it is shared out
	DryingSpread      Number              `toml:"drying_spread"`     // sd of ln dry over fresh weight between loads of one species
	RetireShare       Number              `toml:"retire_share"`      // of a log's best year, under which a year ahead is too little to keep it for
	RetireSpent       Number              `toml:"retire_spent"`      // share of its life crop that must be gone before that counts, of a pile that was never picked
	RetireMost        Number              `toml:"retire_most"`       // share of the logs that loose bark must be on
	LooseBark         Words               `toml:"loose_bark"`        // words in what was noticed that speak of bark
	OtherBark         Words               `toml:"other_bark"`        // words beside them that speak of something else than loose bark
	TakeLogCounts     Number              `toml:"take_log_counts"`   // what one log counts for in the share that never takes
	NoticedFails      Number              `toml:"noticed_fails"`     // chance that a log with mould or another fungus on it never takes
	NeverTook         Words               `toml:"never_took"`        // words in a cause of loss that say that a log never took
	Conifers          Words               `toml:"conifers"`          // words in the name of a wood that say that it is a conifer's
	SoakCycles        Range               `toml:"soak_cycles_weeks"` // the shortest and the longest that is practised
	LapseRate         Number              `toml:"lapse_rate_k_per_km"`
	Exposures         map[string]Exposure `toml:"exposure"`        // how a place lies, and what that does to its air
	Covers            map[string]Cover    `toml:"cover"`           // what stands over logs, and what it keeps off
	Windows           []TradeWindow       `toml:"window"`          // felling, resting, inoculating, soaking: shown, sources disagreeing included
	RestLeast         Number              `toml:"rest_least_days"` // from felling to inoculating; sources disagree, see Windows
	RestMost          Number              `toml:"rest_most_days"`
	Keeping           Keeping             `toml:"keeping"`
	Cooling           Cooling             `toml:"cooling"`
	Odd               Odd                 `toml:"odd"`
	Marc              map[string]Range    `toml:"marc_ml_per_g"`       // liquor held by the marc: "hand", "press"
	MarcWater         map[string]Range    `toml:"marc_water_ml_per_g"` // water held by the marc when it was boiled: "hand", "press"
	Room              JarRoom             `toml:"jar_room"`
	MarcScatter       Number              `toml:"marc_scatter"`        // sd of ln ml per g between batches of one kitchen
	Boils             Range               `toml:"boil_l_per_h"`        // water boiled away where the grower says nothing
	BoilOwnSpread     Number              `toml:"boil_own_spread"`     // sd of ln of the grower's own figure about what is true
	BoilScatter       Number              `toml:"boil_scatter"`        // sd of ln l/h between batches of one kitchen
	UnknownDiameter   Range               `toml:"unknown_diameter_cm"` // of logs whose diameter nobody wrote down
	UnknownBark       Number              `toml:"unknown_bark"`        // bark of wood that nobody named, percent of wood volume
	UnknownGravity    Range               `toml:"unknown_gravity"`     // basic gravity of wood that nobody named
	DefaultDiameter   Number              `toml:"default_diameter_cm"`
	DefaultLength     Number              `toml:"default_length_cm"`
}

// Exposure is how a place lies: °C by which its nights and days differ from
// the site's.
type Exposure struct {
	Night Number `toml:"night_c"`
	Day   Number `toml:"day_c"`
}

// Cover is what stands over logs: shares of rain and of evaporative demand that
// come through, and °C by which it is warmer under it.
type Cover struct {
	Rain   Number `toml:"rain"`
	Demand Number `toml:"demand"`
	Warmer Number `toml:"warmer_c"`
}

// TradeWindow is a practice of the trade that is shown, not computed with.
type TradeWindow struct {
	Name    string  `toml:"name"`
	Says    string  `toml:"says"`
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
}

// Keeping holds the strengths, % by volume, between which sources disagree on
// whether a tincture keeps.
type Keeping struct {
	Spoils Number `toml:"spoils_below_percent"`
	Usual  Number `toml:"usual_from_percent"`
}

// Cooling is how fast a decoction, a low-acid food, must get cold: from From to
// Cool within CoolHours, and to Cold within ColdHours in all.
type Cooling struct {
	From      Number `toml:"from_c"`
	Cool      Number `toml:"cool_c"`
	CoolHours Number `toml:"cool_hours"`
	Cold      Number `toml:"cold_c"`
	ColdHours Number `toml:"cold_hours"`
}

// JarRoom is what fits into a jar.
type JarRoom struct {
	Goods Number `toml:"goods_ml_per_g"` // beyond the liquid, by dry weight
	Free  Number `toml:"free_share"`     // of the jar, to be left free
}

// Recipe is an example tincture recipe in the form of recipes.toml.
type Recipe struct {
	Name    string  `toml:"name"`
	Text    string  `toml:"text"` // the TOML text as it would stand in recipes.toml
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
	Note    string  `toml:"note"`
}
