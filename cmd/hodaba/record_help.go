package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/yard"
)

// long brings the text of a help to the width of the terminal.
func long(text string) string {
	var parts []string
	for _, p := range strings.Split(text, "\n\n") {
		parts = append(parts, charts.Wrap("", "", p))
	}
	return strings.Join(parts, "\n")
}

func recordHelp() string {
	var b strings.Builder
	b.WriteString(long(`Writes one entry at the end of the journal. Say it the way you would say it, or by key:
KEY=VALUE or --key VALUE. The day is today unless --on says otherwise; it may be vague
(2022, 2022-05, 2022-W20). Without EVENT, it asks.`))
	b.WriteString("\nEvents:\n")
	for _, k := range recordable() {
		b.WriteString(charts.Wrap(fmt.Sprintf("  %-11s ", k.Name), strings.Repeat(" ", 14), k.Says))
	}
	b.WriteString("\n" + charts.Wrap("  straining   ", strings.Repeat(" ", 14), "a whole straining day at once: strained, decocted, blended and bottled, "+
		"as far as they are said; without more it asks, in the order of the sheet"))
	b.WriteString("\nThe keys of one: hodaba record EVENT --help")
	return b.String()
}

// recordable are the kinds of event that record takes; corrections have a
// command of their own.
func recordable() []yard.KindInfo {
	var out []yard.KindInfo
	for _, k := range yard.Kinds() {
		if k.Name != "corrected" {
			out = append(out, k)
		}
	}
	return out
}

func kindNames() []string {
	var names []string
	for _, k := range recordable() {
		names = append(names, k.Name)
	}
	return names
}

// recordHelpFunc shows the keys of an event where one is named.
func recordHelpFunc(general func(*cobra.Command, []string)) func(*cobra.Command, []string) {
	return func(c *cobra.Command, args []string) {
		for _, arg := range append(c.Flags().Args(), args...) {
			if arg == straining {
				fmt.Fprint(c.OutOrStdout(), strainingHelp())
				return
			}
			for _, k := range recordable() {
				if k.Name == arg {
					fmt.Fprint(c.OutOrStdout(), kindHelp(k))
					return
				}
			}
		}
		general(c, args)
	}
}

func kindHelp(k yard.KindInfo) string {
	var b strings.Builder
	b.WriteString(charts.Wrap("", "", fmt.Sprintf("hodaba record %s: %s", k.Name, k.Says)))
	b.WriteString(charts.Wrap("\n  ", "  ", "hodaba record "+k.Example))
	if order := spoken[k.Name]; len(order) > 0 {
		b.WriteString("\n" + charts.Wrap("In the order of speech: ", "  ", strings.Join(order, ", ")))
	}
	b.WriteString("\n")
	for _, key := range k.Keys {
		must := ""
		if key.Required && key.Name != "on" {
			must = " (needed)"
		}
		b.WriteString(charts.Wrap(fmt.Sprintf("  %-18s ", key.Name), strings.Repeat(" ", 21),
			fmt.Sprintf("%s%s; e.g. %s", key.Holds, must, key.Example)))
	}
	return b.String()
}
