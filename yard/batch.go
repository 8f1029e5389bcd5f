package yard

// Batch is one tincture batch.
type Batch struct {
	Lot, Recipe string
	On          When
	Jars        int      // it stands or stood in, those that were lost left out; see JarsPutUp
	SpiritML    float64  // in all of these jars; see SpiritPutUpML
	SpiritABV   float64  // % by volume; 0 not said
	SpiritLot   string   // as written; "" not said
	Begun       Step     // noted when it was put up
	Ingredients []Taken  // what is or was in these jars; see WentIn
	Others      []string // recipes of other batches that went into it, where they are not its own; see Named
	Carried     []Carried
	Made        bool // of other batches, by blending: it never stood in a jar, and Strained and Decocted are that day
	Additions   []Addition
	Shakings    []Shaking
	Strained    When          // zero before; some jars may still stand, see JarsStanding
	Strainings  []Straining   // in order of day
	StrainedML  float64       // all strainings together, as far as they were measured
	MarcG       float64       // wet marc of all of them, as far as it was weighed
	Decocted    When          // zero before
	Decoctions  []Decoction   // in order of day
	WaterML     float64       // all pots together, as far as they were measured
	DecoctionML float64       // that came out of all of them
	SimmerHours float64       // all of them, one after the other
	Blended     When          // zero before
	Blendings   []Blending    // in order of day
	BlendedML   float64       // what the last one made; 0 not measured
	ABV         float64       // % by volume as measured last; 0 not measured
	Into        []BlendedInto // see GoneML
	Discards    []Discard
	Bottled     When // when it ended, in bottles or otherwise: see Ended; zero while it stands
	Ended       string
	Bottles     []BottleCount
	Bottlings   []Bottling
	KeptBackML  float64     // as samples
	Deviations  []Deviation // what went otherwise and what was noted beside its entries, in order of day
	Entries     []*Entry

	intoBefore, discardsBefore int // of Into and Discards: before BlendedML was measured
}

// The ways in which a batch ends, as Ended has them.
const (
	EndBottled   = "bottled"
	EndBlended   = "blended"   // all of it went into another batch
	EndDiscarded = "discarded" // all of it went to waste
)

// Deviation is what went otherwise with a batch, or a note beside one of its
// entries, in the grower's own words.
type Deviation struct {
	On    When
	Text  string
	Note  bool   // a note, which need not be of anything amiss
	By    string // initials; "" not said
	Entry *Entry
}

// Bottling is one filling of a batch into bottles.
type Bottling struct {
	On         When
	Bottles    []BottleCount
	KeptBackML float64
	Where      string // they stand; "" not said
	Closed     string // with what; "" not said
	Step       Step
	Entry      *Entry
}

// touch notes an entry on a batch, with what was noted beside it.
func (b *Batch) touch(e *Entry) {
	b.Entries = append(b.Entries, e)
	if e.Note != "" {
		b.Deviations = append(b.Deviations, Deviation{On: e.On, Text: e.Note, Note: true, By: e.By, Entry: e})
	}
}

// went notes what went otherwise at a step.
func (b *Batch) went(s Step, e *Entry) {
	if s.Deviation != "" {
		b.Deviations = append(b.Deviations, Deviation{On: e.On, Text: s.Deviation, By: e.By, Entry: e})
	}
}

// end says that a batch is over.
func (b *Batch) end(how string, e *Entry) {
	b.Bottled = spanningOr(b.Bottled, e.On)
	b.Ended = how
}

// FilledML is what is in its bottles, those kept back included, ml; sized says
// whether the size of every bottle is known.
func (b *Batch) FilledML() (ml float64, sized bool) {
	sized = true
	for _, c := range b.Bottles {
		ml += c.SizeML * float64(c.Count)
		sized = sized && (c.SizeML > 0 || c.Count == 0)
	}
	return ml + b.KeptBackML, sized
}
