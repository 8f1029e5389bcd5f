// Package tincture makes the tincture calendar: when each batch can start, be
// strained, decocted, blended and bottled, how surely, and how many bottles of
// what strength come out.
//
// A batch needs several dried mushrooms at once, which come in when the yard
// brings them; it ties up jars for weeks and the pot for a day; and work is
// only done on working days. [Schedule] weighs all that over the draws of the
// forecast and prints dates that hold as often as the grower asks for, with
// the chance of each and of all together. [Wishes] says which batches to plan,
// [NewWorkdays] on which days there is work, [Needs] what a batch takes.
//
// [Balance] follows the liquids of a batch by mass: water in the dried goods,
// spirit held by the marc, contraction. It matters: the usual recipe of 40 %
// spirit blended 1:1 with decoction ends below 20 % by volume, where sources
// no longer agree that it keeps.
//
// [PotOf] says how much water goes into the pot, [YieldsOf] how a batch came out
// against what was to be expected, [ForBottles] and [ForStock] scale a recipe.
// [Order] turns the question round: bottles by a day, with the latest start and
// what is short, or how many can be promised. All chances of several things
// together are counted over draws, none is a product.
//
// Jars and pot go to batches in the order of priority. Where that makes others
// wait, the plan notes what the arrangement of least weighted waiting would
// bring; that search, not the printed dates, is checked against the optimum of
// a whole-number programme.
//
// The package reads no clock and no file. It says what a batch calls for in
// care, and makes no claim about what a tincture does.
package tincture
