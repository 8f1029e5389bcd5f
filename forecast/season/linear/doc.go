// Package linear chooses whole numbers of units at least cost, so that targets
// are met with a chance each and limits are kept. A unit may be a log of some
// kind inoculated in some month, a target the dried kilograms of a year, a
// limit the hours of a month; the package knows none of it, only a
// [Programme]: what units cost, what they give in each draw of the future, and
// what is asked.
//
// Say 20 kg are wanted in 8 years of 10. Each draw gives every kind its own
// yield, so that a plan meets the target in some draws and misses it in others;
// it will do if the draws in which it meets it weigh 0.8 of all. Which those
// are is part of the choice, and that makes it hard: between two good plans
// there may be only worse ones.
//
// [Programme.Solve] goes about it in four steps.
//
//  1. A bound. Inequalities that every plan keeps (doc comment of the bound in
//     bound.go, with their proofs) make a linear programme in fractions, whose
//     least cost no plan can go below. It also says of what a cheap plan is
//     made. [LP] solves it, by gonum's simplex and a plain one of our own, and
//     no answer is taken that does not prove itself.
//  2. A start. That plan rounded to whole numbers is mended, unit by unit where
//     one does most for its cost, until all targets are met; then every unit is
//     taken that no target misses. On the way down, the linear programme of
//     small changes says in which direction to go on.
//  3. A search. Units are taken out and others put in, by seed; each plan is
//     judged exactly, on all draws, by what changed.
//  4. The last word. The plan is reckoned afresh. One unit less of any line
//     that does not earn breaks a target.
//
// How good is it? [Plan.Gap] is what is proved, and mostly far too wide, since
// the bound is low. [Within] is what holds on programmes so small that another
// solver can prove the optimum.
//
// If the targets cannot be met, Solve returns the plan that comes nearest, and
// [Programme.Relax] says what would have to give way: a chance, a need, a
// limit, and how far. [Programme.Best] turns the question round, for units that
// are there, such as the logs of a windfall.
//
// Nothing here reads a clock: a search stops by the work it has done, so that
// the same programme and seed give the same plan again.
package linear
