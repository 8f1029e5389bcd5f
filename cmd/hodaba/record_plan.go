package main

import (
	"fmt"
	"strings"

	"hodaba/yard"
)

// plan is the open plan that an inoculation is of, or nil: that of its pile,
// unless it is said to be of another species or of the same logs again.
func (s *speech) plan(f *yard.Folder) *yard.Planning {
	if s.kind != "inoculated" || s.values["pile"] == "" || s.values["again"] != "" {
		return nil
	}
	state, _ := f.State(s.terms.Today, 0) // what is wrong in the journal stops no entry
	k := state.Plan(s.values["pile"])
	if k == nil {
		return nil
	}
	said := s.values["species"]
	if sp, ok := s.set.FindSpecies(said); ok {
		said = sp.Name
	}
	if said != "" && k.Species != "" && !strings.EqualFold(said, k.Species) {
		return nil
	}
	return k
}

// fromPlan fills in what nobody said of an inoculation from its plan, and
// says so.
func (a *app) fromPlan(s *speech, k *yard.Planning) {
	filled := false
	for key, v := range k.Rest() {
		if s.values[key] == "" {
			s.values[key] = v
			filled = true
		}
	}
	if !filled || a.flags.json {
		return
	}
	how := "whatever is not said is taken from it"
	if k.Done > 0 {
		how = fmt.Sprintf("%d of %d logs were done; %s", k.Done, k.Logs, how)
	}
	a.note("%s is planned for %s (%s): %s", k.Pile, k.Month, k.Entry.ID, how)
}

// askPlan takes over what is planned for the pile that was named, and asks
// how many of the logs were done.
func (a *app) askPlan(s *speech, f *yard.Folder) error {
	k := s.plan(f)
	if k == nil || s.values["species"] != "" {
		return nil
	}
	said := s.values["logs"] != ""
	a.fromPlan(s, k)
	if said || k.Left == 0 {
		return nil
	}
	answer, err := a.askUntil(fmt.Sprintf("logs (Enter: all %d that are left):", k.Left), func(v string) error { return s.answerWrong("logs", v, f) })
	if answer != "" {
		s.values["logs"] = answer
	}
	return err
}
