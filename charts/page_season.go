package charts

import (
	"fmt"

	"hodaba/charts/script"
)

// The pages of the next season: what was written down as planned, which is
// made with all other pages, and the plan as it was worked out, which takes too
// long for that and is made by itself.
const (
	seasonFile = "season.html"
	// PlanFile is the file of the latter.
	PlanFile = "season-plan.html"
)

// seasonPage is the main part of both.
type seasonPage struct {
	Title    string
	Lead     []string
	Now      []doorLine
	Plan     *grid
	Accepted *grid
	Work     []string // weeks in which work collides
	Weeks    *grid
	Takes    *grid
	Shopping *grid
	Windows  *grid
	Sources  *grid
	Drawings []drawing
	Meets    *grid
	Ifs      *grid
	Sways    *grid
	Limits   *grid
	Renewal  []string
	Trust    []string
	Commands []seasonCommand
	PlanPage string // the page of a plan that was worked out
	Cautions []string
}

// seasonCommand is something to type, and what it does.
type seasonCommand struct{ Does, Type string }

// seasonSheet is the page of what is planned and not done.
func (b *book) seasonSheet() sheet {
	kept := b.Season
	b.Season = nil
	s := b.seasonBook(percent)
	b.Season = kept
	p := seasonPage{Title: "Next season", Accepted: s.acceptedGrid()}
	for _, t := range b.tasks {
		if t.Page == seasonFile {
			t.Page = "" // this is that page
			p.Now = append(p.Now, b.doorLine(t))
		}
	}
	if b.PlanPage {
		p.PlanPage = PlanFile
	}
	p.Lead = []string{s.writtenLead()}
	s.layTakes(&p)
	p.Trust = s.assumed()
	p.Commands = s.commands()
	if len(s.open) > 0 {
		p.Cautions = s.cautious()
	}
	return sheet{kind: "season", file: seasonFile, title: p.Title, main: p}
}

// writtenLead says what is planned and not done.
func (s *seasonBook) writtenLead() string {
	if len(s.open) == 0 {
		return "No inoculation is planned yet."
	}
	logs, done := 0, 0
	var hours float64
	for _, k := range s.open {
		logs, done = logs+k.Left, done+k.Done
	}
	hours = s.takes.Total.Hours.Start()
	text := fmt.Sprintf("%s of %s are planned and still to be inoculated", count(logs, "log", "logs"), count(len(s.open), "pile", "piles"))
	if logs == 1 {
		text = fmt.Sprintf("1 log of %s is planned and still to be inoculated", count(len(s.open), "pile", "piles"))
	}
	if done > 0 {
		text += fmt.Sprintf(", %d are done", done)
	}
	if hours > 0 {
		text += fmt.Sprintf("; felling and inoculating them takes about %s", workHours(hours))
	}
	return text + "."
}

// commands say how a plan is made, written down and printed.
func (s *seasonBook) commands() []seasonCommand {
	out := []seasonCommand{
		{"Work out what to inoculate; it takes about a minute:", "hodaba next-season"},
		{"The same as a page beside this one:", "hodaba next-season --page"},
		{"Logs lie there; what to do with them:", `hodaba next-season --logs "60 oak 12cm, 30 birch 15cm"`},
		{"Take a plan up, so that it stands here:", "hodaba next-season --accept"},
	}
	if len(s.open) > 0 {
		out = append(out, seasonCommand{"A sheet for helpers to keep count on, and tags for the piles:", "hodaba print tally"}, seasonCommand{"", "hodaba print tags"})
	}
	return out
}

// layTakes fills in what the season takes.
func (s *seasonBook) layTakes(p *seasonPage) {
	p.Work, p.Weeks, p.Takes, p.Shopping = s.collisions(), s.weekGrid(), s.takesGrid(), s.shoppingGrid()
	if len(s.takes.Lines) > 0 {
		p.Windows, p.Sources = s.windowGrid(), s.windowSources()
	}
}

// planSheet is the page of a plan that was worked out.
func (b *book) planSheet() sheet {
	s := b.seasonBook(percent)
	p := seasonPage{Title: fmt.Sprintf("Plan of the season %d", s.plan.Year), Lead: s.lead(), Plan: s.lineGrid(), Accepted: s.acceptedGrid(),
		Drawings: s.fruitDrawings(), Meets: s.meetGrid(), Ifs: s.ifGrid(), Sways: s.swayGrid(), Limits: s.limitGrid(),
		Renewal: s.renewal(), Trust: append(s.assumed(), s.trust()...), Cautions: s.cautious()}
	if said := s.already(); said != "" {
		p.Lead = append(p.Lead, said)
	}
	s.layTakes(&p)
	p.Commands = []seasonCommand{{"Take it up, by asking the same question with --accept:", "hodaba next-season --accept"}}
	return sheet{kind: "season", file: PlanFile, title: p.Title, main: p, charts: p.Drawings,
		basis: fmt.Sprintf("Worked out on %s in %d possible courses and judged in %d others (seed %d).", fullDay(s.plan.AsOf), s.plan.Draws, s.plan.Fresh, s.plan.Seed)}
}

// SeasonPage renders the page of the plan in Input.Season, to stand beside the
// other pages, and the scripts that it needs.
func SeasonPage(in Input) ([]File, error) {
	b := newBook(in)
	if b.Season == nil {
		return nil, fmt.Errorf("there is no plan of a season to make a page of")
	}
	f, err := b.render(b.planSheet())
	if err != nil {
		return nil, err
	}
	files := []File{f}
	if b.Library != nil {
		files = append(files, File{bootFile, script.Boot()}, File{libraryFile, b.Library})
	}
	return files, nil
}
