/*
Package data holds the reference values of the trade that ship with the
program, as TOML with a source beside every value, and the types they load
into. It computes nothing.

# The story

A forecast needs numbers that no grower has written down: at what temperature
mycelium grows, how long the trade says a log takes, what starts a flush, how
heavy oak is, how warm a July is in Oxford. They stand here in files that can be
read like a table:

	species/*.toml    one mushroom each, with its strain classes
	woods.toml        gravity, green moisture and bark
	stations.toml     monthly normals of places whose licence allows shipping
	regions.toml      day-to-day weather statistics, lent to stations
	practice.toml     logs, spawn, ground, spreads, windows of the trade
	inoculating.toml  holes, spawn, wax, minutes, prices, and when
	recipes.toml      example tincture recipes
	sources.toml      key to full citation
	requirement.toml  growing days needed, solved by code from the windows

Every value carries a [Quality] and a source. The quality says how well the
value is founded: read in the source, read second-hand, derived by arithmetic,
remembered, judged by ourselves, or common practice that nobody could cite.
[Quality.Says] gives the words that must stand beside the value wherever a
grower sees it. A source is a key of sources.toml; of a judgement it names what
guided it, and the key "judgement" where nothing did. Sources that disagree are
not averaged away: the note beside the value has the others.

[Load] reads all of it once, strictly. A key that nobody asked for, a source
that is not in the list or that nothing names, months that are not twelve, a
range that does not ascend, shares that do not sum to one: each is a line of the
one error, and a test keeps the shipped files free of them. The [Set] that it
returns is shared and must not be changed.

[Set.FindSpecies], [Species.FindStrain], [Set.FindWood], [Set.FindStation] and
[Set.FindRegion] take the words that growers write; [Nearest] finds what was
meant by a word that is wrong. [Set.Provenance] lists every value with its
source.

# To add a species

Copy a file of species/ that is like it, name it after the species, and write
every value anew, with its own source; add citations to sources.toml. Where
nothing is published, say so: quality "judgement", source "judgement", and for a
crop unpublished = true. A kind that is only received dry has grown = false and
no strain. Then let the solver write requirement.toml anew (its test's -update
flag) and run the tests.

# To add a station

Append a table to stations.toml with twelve monthly values each, the years they
are means of, the threshold of the rain days, the licence, which must allow
shipping, and the key of the region whose day-to-day statistics are nearest; a
region is added in the same way from a daily series.
*/
package data
