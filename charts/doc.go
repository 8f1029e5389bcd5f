// Package charts holds every form in which a yard and its forecast leave the
// program: the HTML pages here, and the tables and JSON of the commands. It
// computes no forecast and reads no folder: everything arrives in an [Input].
//
// [Pages] renders the pages: today as a sheet for the door, one page for each
// pile, the harvest by species, the jar shelf, the stock, what was written down
// with the way to mend it, the site with its weather, how right past forecasts
// were, and where the numbers come from.
// They work from disk, with no request to anywhere, with and without the
// charting library; the same Input gives the same bytes. [Wrong], [Work],
// [Coming] and [NotYet] are the sentences of the first page, for the command
// line too.
//
// What somebody typed never steers: text for a terminal goes through [Screen]
// as a whole, JSON escapes what could, pages lose it. Every text of a page goes
// through html/template. The options of a chart are built
// with go-echarts' typed builders and written by html/template as JSON into
// the page, where one fixed script (package script) reads them; go-echarts'
// own renderer is never used, because it runs text that somebody typed.
//
// The colours are those of Okabe & Ito (2008, Color universal design), which
// people with any common colour blindness can tell apart; nothing is said by
// colour alone.
package charts
