// Package yard is what a grower has and did: a folder of plain text, and the
// state of piles, beds, batches and stock that follows from it. It computes
// no forecast and prints nothing.
//
// # The folder
//
//	yard.toml       the place, its limits and habits      -> Config
//	recipes.toml    tincture recipes                      -> []Recipe
//	journal.toml    everything that happened              -> []*Entry
//	weather.csv     daily weather, if there is any        -> *Weather
//	.hodaba/        lock, daily copies, how the journal ended, day of the last archive
//
// Open reads the first two; the journal and the weather are read when they are
// first asked for.
// All access goes through Files, of which OnDisk and InMemory are two kinds.
//
// # From journal to state
//
// The journal is cut at its table headers (cut.go) and read table by table
// (table.go, journal.go), so that every mistake has its line and hides
// nothing else. An Entry holds an Event; a kind of event is one file, with its
// keys, its struct and how it changes the State: harvested.go is a good one to
// begin with. Corrections are settled first (corrected.go); then State replays
// what stands in the order of `on`, then of writing (replay.go). An entry that
// names a pile before the day the pile began waits for it.
//
// Nothing that was derived is stored, and what really happened is never
// refused: more logs lost than there were, a pick from a pile nobody knows, or
// stock below zero is kept, used, and pointed at by a Problem of grade Odd or
// Aside. What cannot be read is set aside and everything else goes on.
//
// # What is meant to be
//
// The tables [plan] of yard.toml say what coming years shall bring and what
// there is to reach it with (planfile.go, planwant.go); a row that cannot be
// used is left out as a whole. A plan that was accepted is `planned` entries;
// when all is replayed, plandone.go finds what was done of each.
//
// # Books
//
// Whatever comes and goes is noted where it changes: the logs of a pile
// (Pile.LogMoves), dried goods (State.DryMoves), bottles (State.BottleMoves);
// fresh mushrooms stand on no shelf, and their moves are read off picks, loads
// and what went. The books (books.go, booklogs.go, bookdry.go, bookbottles.go,
// bookfresh.go) add them up into terms that balance: what came in is what is
// left and what went, with what a stock-take found otherwise, and with what of
// the fresh nobody wrote down, as terms of their own.
//
// # Weather
//
// A table of daily weather is read by its headings (weatherhead.go), its days
// (weatherday.go) and its numbers (weathercsv.go) into a Weather of consecutive
// days, some of which may be blank. State has it up to its day, with the rain
// of `rained` entries where the file has none. ImportWeather shows what a table
// of a weather station holds and what it would change, and WriteWeather merges
// it into weather.csv (weatherimport.go); it is the one file of the grower's
// that the program writes anew, and what would be lost in it is kept beside it.
//
// # Bounds
//
// Files, tables, names and lists are bounded in size and depth (bounds.go), so
// that a file that is none of a yard's, or was made to do harm, ends in a
// message. Nothing a grower writes comes near them.
//
// # Words and amounts
//
// Every day is a When, as vague as it was written; every amount a Quantity
// with its unit, read by ParseQuantity alone. A blank is a zero value, and
// widens a forecast; it never blocks it. Names of piles and their codes are
// accepted in each other's place, and capitals do not matter.
//
// # Writing
//
// Compose makes the text of an entry of what a person typed and reads it back;
// Record appends it: lock, compare the end with what was remembered, one
// write, sync, unlock. It never reads the journal through unless someone
// changed its end by hand, so it costs the same however long the journal is.
// But for weather.csv the grower's files are otherwise never written to. What
// holds of the folder at any moment, in what order things are written, and what
// each kind of damage leads to stands in FORMAT.md. OnDisk makes every call to
// the operating system through System, so that tests can let each of them fail.
//
// # Two copies, and one kept safe
//
// TakeOver (merge.go, mergelay.go) lays another copy's journal over this one, by
// text, by meaning, then by identifier, and appends what only the other has, as it
// stands there. Check (verify.go and verify*.go) points at everything that is
// wrong or odd, other versions of the files and the marks of version control
// (marks.go) included, by bounds in data (practice.toml, [odd]); OddIn (oddin.go)
// says of what was just recorded what Check would; a later count settles what was
// short before it (settled.go). Mend (mend.go) does what is safe. Pack and ReadArchive
// (archive.go) put a yard into one zip file and take only what is a yard's out
// of one. Tables of piles and harvests are read by tablecsv.go,
// importpiles.go and importharvests.go; importtable.go says what their cells are.
//
// # Adding a kind of event
//
// Write one file with a kind, a struct with Kind, fields and Apply, and, if it
// names piles, names; add the kind to the list in kinds.go. The tests in
// kinds_test.go then hold it to what the others do.
package yard
