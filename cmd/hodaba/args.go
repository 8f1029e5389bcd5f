package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/data"
)

// noArgs refuses words behind a command that takes none.
func noArgs(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return lineWrong("as in: hodaba "+c.Use, "%s takes no %q", c.Name(), args[0])
}

// oneArg takes at most one word.
func oneArg(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) <= 1 {
			return nil
		}
		return lineWrong("quote a name of several words", "%s takes one %s, not %s", c.Name(), what, strings.Join(quote(args), " "))
	}
}

// first is the program without a command: what to do first. A word that is no
// command is named with the nearest one.
func (a *app) first(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return unknownCommand(c, args[0])
	}
	return a.print(firstWords)
}

const firstWords = `hodaba keeps the record of a yard of mushroom logs and forecasts from it.

See it work on a made-up yard:     hodaba demo
Begin with your own:               hodaba start my-yard
Then, inside that folder:
  write down what you do and see   hodaba record harvested oak-north 2.4kg
  ask what to do this week         hodaba work
  ask when, how likely, how much   hodaba forecast
  plan the tinctures               hodaba batches
  plan the next season             hodaba next-season

All commands: hodaba --help
`

func unknownCommand(c *cobra.Command, word string) error {
	var names []string
	for _, sub := range c.Commands() {
		if !sub.Hidden {
			names = append(names, sub.Name())
		}
	}
	if near, ok := data.Nearest(word, names); ok {
		return lineWrong("did you mean hodaba "+near+"? All of them: hodaba --help", "there is no command %q", word)
	}
	return lineWrong("all of them: hodaba --help", "there is no command %q", word)
}

func quote(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = fmt.Sprintf("%q", w)
	}
	return out
}
