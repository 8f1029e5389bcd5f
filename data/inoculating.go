package data

import "math"

// Inoculating holds what it takes to put spawn into logs: holes, spawn, wax,
// minutes and prices, and when it is done.
type Inoculating struct {
	Along    Number        `toml:"along_cm"`       // between the holes of a row, where the grower says nothing
	Rows     Number        `toml:"rows_cm"`        // between rows
	Spare    Number        `toml:"spare"`          // spawn bought beyond what holes hold, fraction of it
	Wax      Range         `toml:"wax_g_per_hole"` // g
	Patterns []TradeWindow `toml:"pattern"`        // of holes, in print; shown, not computed with
	Forms    []SpawnForm   `toml:"form"`
	Totem    Totem         `toml:"totem"`
	Wedge    Wedge         `toml:"wedge"`
	Labour   Labour        `toml:"labour"`
	Carry    Carry         `toml:"carry"`
	Shop     Shop          `toml:"shop"`
	Price    StartPrices   `toml:"price"`
	Budgets  []Budget      `toml:"budget"`
	Denser   Denser        `toml:"denser"`
	Dormant  Dormant       `toml:"dormant"`
	Rests    []Rest        `toml:"rest"`   // the first without a species, wood or method is planned with
	Warmths  []Warmth      `toml:"warmth"` // the first is of all
	Spring   Spring        `toml:"spring"`
}

// SpawnForm is a form in which spawn is bought.
type SpawnForm struct {
	Name    string `toml:"name"`     // "sawdust", "plug", "thimble"
	Unit    string `toml:"unit"`     // of PerHole and Packs: "kg", or what pieces are called
	Waxed   bool   `toml:"waxed"`    // its holes want wax
	PerHole Number `toml:"per_hole"` // Unit
	Hole    Number `toml:"hole_mm"`
	Depth   Number `toml:"depth_mm"`
	Keeps   Number `toml:"keeps_weeks"` // in the cold
	Packs   Packs  `toml:"packs"`
}

// Weighed reports whether the form is bought by weight, not by the piece.
func (f *SpawnForm) Weighed() bool { return f.Unit == "kg" }

// Packs are the sizes in which something is sold.
type Packs struct {
	Holds   []float64 `toml:"holds"`
	Quality Quality   `toml:"quality"`
	Source  string    `toml:"source"`
	Note    string    `toml:"note"`
}

// Totem is how rounds are stacked with spawn at each joint, the lowest and the
// top included.
type Totem struct {
	Piece Number `toml:"piece_cm"` // length of a round
	Joint Number `toml:"joint_kg"` // sawdust spawn at a joint
}

// Wedge is how wedges are cut out, spread with spawn and nailed back.
type Wedge struct {
	Every Number `toml:"every_cm"` // of the log's length
	Cut   Number `toml:"cut_kg"`   // sawdust spawn in a cut
}

// Labour is the work that a log makes over its life. The shares of it sum to 1,
// and so do Steps.
type Labour struct {
	Life        Number `toml:"life_minutes"` // of a log over its life
	Inoculating Number `toml:"inoculating"`  // share: felling and inoculating
	Tending     Number `toml:"tending"`      // share: keeping and harvest
	Selling     Number `toml:"selling"`      // share: marketing and delivery
	Holes       Number `toml:"holes"`        // of the log to which the minutes belong
	People      Number `toml:"people"`       // who work together
	Day         Number `toml:"day_hours"`    // at the bench
	Soak        Number `toml:"soak_minutes"` // of a log each time it is soaked
	Pile        Number `toml:"pile_minutes"` // of a pile of its own, however many logs: another spawn to open, tags, a place, a line in the book
	Steps       Steps  `toml:"steps"`
}

// Steps divide felling and inoculating: shares of its minutes.
type Steps struct {
	Cutting  Number `toml:"cutting"` // felling, cutting to length, bringing home
	Drilling Number `toml:"drilling"`
	Filling  Number `toml:"filling"`
	Waxing   Number `toml:"waxing"`
	Stacking Number `toml:"stacking"`
}

// Carry is what logs weigh.
type Carry struct {
	Green Number `toml:"green_kg_m3"` // wood and bark, of wood that nobody named
	Heavy Number `toml:"heavy_kg"`    // of a log, beyond which it is no load for one
}

// Shop is how one buys and keeps count.
type Shop struct {
	Spawn    Number `toml:"spawn_weeks"` // from ordering spawn to having it
	Other    Number `toml:"other_weeks"` // the same of everything else
	Cold     Range  `toml:"cold_c"`      // °C in which spawn is kept
	BitHoles Number `toml:"bit_holes"`   // holes that a drill bit lasts
	Tags     Number `toml:"tags_per_pile"`
	TallyBox Number `toml:"tally_box"` // logs to a box of the tally sheet
}

// Price is one price in US dollars of a year.
type Price struct {
	Value   float64 `toml:"value"`
	Year    int     `toml:"year"`
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
	Note    string  `toml:"note"`
}

// StartPrices are what starting a log costs where the grower has not said.
type StartPrices struct {
	Log     Price `toml:"log"`
	SpawnKG Price `toml:"spawn_kg"`
	Plug    Price `toml:"plug"` // or thimble
	WaxKG   Price `toml:"wax_kg"`
	Hour    Price `toml:"hour"`
}

// Budget is a printed cost of starting a log, in US dollars of Year.
type Budget struct {
	Name    string  `toml:"name"`
	PerLog  float64 `toml:"per_log"`
	Year    int     `toml:"year"`
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
	Note    string  `toml:"note"`
}

// Denser is what one more hole for each pound of log brought and cost, by log.
type Denser struct {
	Return Price `toml:"return"`
	Spawn  Price `toml:"spawn"`
}

// Dormant says when a tree is: from the mean temperature of a day in autumn to
// some weeks before that of a day in spring.
type Dormant struct {
	Colour Number `toml:"colour_c"`
	Swell  Number `toml:"swell_c"`
	Before Number `toml:"before_weeks"`
}

// Rest is how long wood rests between felling and inoculating, by one source;
// of a species, wood or method where it names one.
type Rest struct {
	Species string  `toml:"species"`
	Wood    string  `toml:"wood"`
	Method  string  `toml:"method"`
	From    float64 `toml:"from_weeks"`
	To      float64 `toml:"to_weeks"`
	Says    string  `toml:"says"`
	Quality Quality `toml:"quality"`
	Source  string  `toml:"source"`
	Note    string  `toml:"note"`
}

// Fits reports whether the rest is said of a species, wood and method, or of
// all.
func (r *Rest) Fits(species, wood, method string) bool {
	return fits(r.Species, species) && fits(r.Wood, wood) && fits(r.Method, method)
}

// General reports whether the rest is said of all logs.
func (r *Rest) General() bool { return r.Species+r.Wood+r.Method == "" }

// Warmth is from which mean temperature of the day on one inoculates, and up to
// which; of a species or method where it names one. What is not said is not set.
type Warmth struct {
	Species string `toml:"species"`
	Method  string `toml:"method"`
	Opens   Number `toml:"opens_c"`
	Closes  Number `toml:"closes_c"`
}

// Fits reports whether the warmth is said of a species and method, or of all.
func (w *Warmth) Fits(species, method string) bool {
	return fits(w.Species, species) && fits(w.Method, method)
}

func fits(said, is string) bool { return said == "" || said == is }

// Spring is how inoculating keeps its distance from cold.
type Spring struct {
	Catch Number `toml:"catch_weeks"` // of warmth that spawn should have before winter
	Mean  Number `toml:"catch_c"`     // of those weeks, where the year is cooling
	Frost Number `toml:"frost_weeks"` // before the last frost, from which on one inoculates
}

// Form finds a form of spawn.
func (in *Inoculating) Form(name string) (*SpawnForm, bool) {
	for i := range in.Forms {
		if in.Forms[i].Name == name {
			return &in.Forms[i], true
		}
	}
	return nil, false
}

// checkInoculating looks for values that cannot be right.
func (l *loader) checkInoculating(in *Inoculating) {
	const file = inoculatingFile
	l.demand(in.Along.Value > 0 && in.Rows.Value > 0, file, "along_cm %v and rows_cm %v are not both above 0", in.Along.Value, in.Rows.Value)
	l.demand(within(in.Spare.Value, 0, 1) && in.Wax.Low > 0, file, "spare %v is no share, or wax_g_per_hole is wanted", in.Spare.Value)
	for _, name := range []string{"sawdust", "plug", "thimble"} {
		_, ok := in.Form(name)
		l.demand(ok, file, "form: %s is wanted", name)
	}
	for i := range in.Forms {
		l.checkForm(&in.Forms[i])
	}
	l.demand(min(in.Totem.Piece.Value, in.Totem.Joint.Value, in.Wedge.Every.Value, in.Wedge.Cut.Value) > 0, file,
		"totem and wedge: a value is not above 0")
	l.checkLabour(&in.Labour)
	l.demand(min(in.Carry.Green.Value, in.Carry.Heavy.Value, in.Shop.Spawn.Value, in.Shop.Other.Value,
		in.Shop.Cold.High, in.Shop.BitHoles.Value, in.Shop.Tags.Value, in.Shop.TallyBox.Value) > 0, file, "carry and shop: a value is not above 0")
	p := &in.Price
	for _, x := range []Price{p.Log, p.SpawnKG, p.Plug, p.WaxKG, p.Hour, in.Denser.Return, in.Denser.Spawn} {
		l.demand(x.Value > 0 && within(float64(x.Year), 1950, 2100), file, "price: %v dollars of %d cannot be right", x.Value, x.Year)
	}
	for _, b := range in.Budgets {
		l.demand(b.Name != "" && b.PerLog > 0 && within(float64(b.Year), 1950, 2100), file, "budget %q: %v dollars of %d cannot be right", b.Name, b.PerLog, b.Year)
	}
	l.checkSeasons(in)
}

func (l *loader) checkForm(f *SpawnForm) {
	l.demand(f.Unit != "" && min(f.PerHole.Value, f.Hole.Value, f.Depth.Value, f.Keeps.Value) > 0 && len(f.Packs.Holds) > 0,
		inoculatingFile, "form %s: unit, per_hole, hole_mm, depth_mm, keeps_weeks and packs are all wanted", f.Name)
	for _, h := range f.Packs.Holds {
		l.demand(h > 0, inoculatingFile, "form %s: a pack of %v holds nothing", f.Name, h)
	}
}

func (l *loader) checkLabour(w *Labour) {
	for _, x := range []struct {
		what string
		sum  float64
		low  float64
	}{
		{"labour: inoculating, tending and selling", w.Inoculating.Value + w.Tending.Value + w.Selling.Value,
			min(w.Inoculating.Value, w.Tending.Value, w.Selling.Value)},
		{"labour.steps: the five shares", w.Steps.Sum(), w.Steps.least()},
	} {
		l.demand(math.Abs(x.sum-1) < sumSlack && x.low >= 0, inoculatingFile, "%s sum to %v, not 1, or one is below 0", x.what, x.sum)
	}
	l.demand(min(w.Life.Value, w.Holes.Value, w.People.Value, w.Day.Value, w.Soak.Value) > 0, inoculatingFile,
		"labour: life_minutes, holes, people, day_hours and soak_minutes are not all above 0")
}

// Sum is 1 where the steps add up.
func (s *Steps) Sum() float64 {
	return s.Cutting.Value + s.Drilling.Value + s.Filling.Value + s.Waxing.Value + s.Stacking.Value
}

func (s *Steps) least() float64 {
	return min(s.Cutting.Value, s.Drilling.Value, s.Filling.Value, s.Waxing.Value, s.Stacking.Value)
}

func (l *loader) checkSeasons(in *Inoculating) {
	const file = inoculatingFile
	l.demand(in.Dormant.Colour.Set() && in.Dormant.Swell.Set() && in.Dormant.Before.Value >= 0, file,
		"dormant: colour_c, swell_c and before_weeks are all wanted")
	general := false
	for i := range in.Rests {
		r := &in.Rests[i]
		general = general || r.General()
		l.demand(0 <= r.From && r.From <= r.To && r.Says != "", file, "rest %q: %v to %v weeks do not ascend", r.Says, r.From, r.To)
	}
	l.demand(general, file, "rest: one without species, wood and method is wanted")
	l.demand(len(in.Warmths) > 0 && in.Warmths[0].Fits("", "") && in.Warmths[0].Opens.Set() &&
		in.Warmths[0].Opens.Value < in.Warmths[0].Closes.Value, file, "warmth: the first is to be of all, opens_c below closes_c")
	l.demand(in.Spring.Catch.Value >= 0 && in.Spring.Frost.Value >= 0 && in.Spring.Catch.Set() && in.Spring.Mean.Set() && in.Spring.Frost.Set(), file,
		"spring: catch_weeks, catch_c and frost_weeks are wanted")
}
