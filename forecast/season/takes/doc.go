// Package takes says what a plan of inoculations takes: holes, spawn, wax,
// hours, days, money and what to buy by when.
//
// # The story
//
// A plan is a list of lines: so many logs of this wood and size for that
// mushroom, in that month. [One] reckons a single log of a line. Its size and
// the pattern give the holes; the form of the spawn says how much goes into a
// hole, and a share is added for what is spilt; the wood says how heavy the log
// is to carry. Of the hour that a log makes over its life, about half an hour is
// felling and inoculating, and the steps of it that are done hole by hole go
// with the holes. [Of] multiplies and adds up, looks when each line is felled
// and inoculated, and writes the shopping list, the tally sheet and the tags.
// [Weeks] lays the hours out by week beside those of the soaking tank: late in
// spring both want the same hands.
//
// When it is done follows from the site's temperatures: [WindowsOf] finds the
// days on which trees are dormant and those on which one inoculates, and
// [RestOf] says how long felled wood rests. Sources disagree about that, from
// none to five months; all of them are kept, with who says so.
//
// # A running example
//
// Forty logs of white oak, 12 by 100 cm, at 15 by 7.5 cm: five rows of six
// holes, thirty holes a log. As many plugs, and 8 in the hundred more, make
// 1,296, so a pack of a thousand and three of a hundred. A log weighs about
// 11.5 kg green. Forty of them take a little over 18 hours, felling with it.
//
// Everything here is arithmetic on its arguments: no clock, no file, no
// chances. What the arithmetic rests on stands in data/inoculating.toml, each
// with its source; most of it nobody has published, and it says so.
package takes
