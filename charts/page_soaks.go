package charts

import (
	"fmt"
	"math"
	"strconv"

	"hodaba/forecast"
	"hodaba/yard"
)

// soaksPage is the main part of the tank book.
type soaksPage struct {
	Lead     string
	Now      []doorLine
	Setup    []string // lines of yard.toml to write; empty where the tank is known
	Caption  string
	Rows     []tankRow
	More     string // what comes beyond the rows
	Loads    *drawing
	Weeks    []drawing
	Partings []string
	Past     *grid
	PastKey  string
	Notes    []string
	Supply   *grid
	Said     []string
	Cautions []string
}

// tankRow is one ruled line of the page.
type tankRow struct {
	Weeks, In, Out string
	Parts          []string
	Weather        string
	Expected       string
	Picked         string
	Why            string // instead of all the others where nothing goes in
}

func (b *book) soaksSheet() sheet {
	p := soaksPage{Lead: b.soakLead(), Setup: b.soakSetup(), Past: b.pastGrid(), PastKey: b.gotKey(), Notes: append(b.tankNotes(), b.soakNotes()...),
		Loads: b.loadDrawing(), Weeks: b.weekDrawings(), Cautions: soakCautions}
	for _, t := range b.tasks {
		if t.Page == soaksFile {
			p.Now = append(p.Now, b.doorLine(t))
		}
	}
	p.Rows, p.More = b.tankRows()
	p.Caption = b.tankCaption()
	for _, g := range b.partings() {
		p.Partings = append(p.Partings, g.words()+".")
	}
	if n := forecast.ForcedLogs(b.State, b.Data); n > 0 {
		s := b.supplyAnswer(SupplyAsk{Logs: n, Yard: true})
		g := b.supplyGrid(s)
		p.Supply, p.Said = &g, b.rotaSupplySaid(s)
	}
	out := sheet{kind: "soaks", file: soaksFile, title: "Tank book", main: p, charts: p.Weeks}
	if p.Loads != nil {
		out.charts = append([]drawing{*p.Loads}, p.Weeks...)
	}
	return out
}

// tankCaption says what the book rests on.
func (b *book) tankCaption() string {
	room, weeks, times := b.State.Config.Soak.TankLogs, forecast.CycleWeeks(b.State, b.Data), ""
	if t := b.Result.Tank; t != nil && t.Room > 0 {
		room, weeks = t.Room, max(t.Comes, t.Cycle)
		if t.Loads > weeks {
			times = ", " + count(t.Loads, "load", "loads")
		}
	}
	return fmt.Sprintf("The tank book: %s at most a load%s; each part again after %s",
		count(room, "log", "logs"), times, count(weeks, "week", "weeks"))
}

func (b *book) tankRows() (rows []tankRow, beyond string) {
	lines, more := b.bookLines()
	for _, l := range lines {
		r := tankRow{Weeks: l.Weeks(), Why: l.Why}
		if x := l.Load; x != nil {
			r.In, r.Out = dayMonth(x.In), x.Out.Time().Format("2 Jan")
			for _, p := range x.Parts {
				r.Parts = append(r.Parts, partOf(p.Pile, p.Part)+", "+strconv.Itoa(p.Logs))
				if p.Planned {
					r.Parts = append(r.Parts, "(planned)")
				}
			}
			r.Weather = b.usualWeather(x.In)
			r.Expected = b.units.kg(x.Fresh.P50) + " (" + bare(b.units.kg(x.Fresh.P10)) + "–" + bare(b.units.kg(x.Fresh.P90)) + ")"
			r.Picked = pickSpan(x.PickFrom, x.PickTo)
		}
		rows = append(rows, r)
	}
	if more > 0 {
		beyond = "After that " + count(more, "load more", "loads more") + " within the year ahead."
	}
	return rows, beyond
}

// usualWeather is night and day of a mean year in a day's month; "" where no
// normals are known.
func (b *book) usualWeather(d yard.Date) string {
	n := b.Result.Site.Normals
	if n == [12]forecast.SiteNormal{} {
		return ""
	}
	m := n[d.Month()-1]
	by, unit := b.units.degrees()
	return fmt.Sprintf("%.0f to %.0f %s", whole(math.Round(by(m.TMin))), whole(math.Round(by(m.TMax))), unit)
}

// measuredWeather is the coldest and the warmest measured between two days;
// "" where nothing was measured.
func (b *book) measuredWeather(from, to yard.Date) string {
	low, high, any := 0.0, 0.0, false
	for d := from; d <= to; d++ {
		w := b.State.Weather.At(d)
		if !w.HasTemp {
			continue
		}
		if !any {
			low, high, any = w.TMin, w.TMax, true
		}
		low, high = min(low, w.TMin), max(high, w.TMax)
	}
	if !any {
		return ""
	}
	return b.units.c(low) + " to " + b.units.c(high)
}

// pastGrid is what came of the soaks of the last half-year, newest first.
func (b *book) pastGrid() *grid {
	past := b.pastSoaks()
	g := &grid{Caption: "Soaks of the last half-year, and what came of them", Words: 7,
		Head: []string{"In", "Out", "Part", "Logs", "Measured weather", "Due about", "Got"}}
	for i := len(past) - 1; i >= 0; i-- {
		s := &past[i]
		logs, due := "", ""
		if s.Logs > 0 {
			logs = strconv.Itoa(s.Logs)
		}
		if s.Due != 0 {
			due = dayMonth(s.Due)
		}
		g.addOf(b.mendOf(s.Soaking.Entry), dayMonth(s.In), dayMonth(s.Out), partOf(s.Pile.Name, s.Soaking.Part), logs, b.measuredWeather(s.In, s.Out), due, b.got(s))
	}
	return b.withStruck(g, func(x *goneEntry) bool { return x.kind == "soaked" && x.On.To >= b.today()-7*pastWeeks })
}

// soakSetup are the lines that yard.toml lacks for a tank book; nil where the
// tank is known.
func (b *book) soakSetup() []string {
	soak := b.State.Config.Soak
	if soak.TankLogs > 0 {
		return nil
	}
	hours := soak.Hours
	if hours <= 0 {
		hours = b.Data.Practice.SoakHours.Value
	}
	return []string{
		"[soak]",
		"tank_logs   = 12               # how many logs go in at once",
		fmt.Sprintf("cycle_weeks = %-16d # from soak to soak", forecast.CycleWeeks(b.State, b.Data)),
		fmt.Sprintf("hours       = %-16.0f # in the water", hours),
		`first       = "after a year"   # or "after the first flush"`,
	}
}
