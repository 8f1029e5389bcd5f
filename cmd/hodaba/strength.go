package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast/alcohol"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

const asLiquid = "write AMOUNT@STRENGTH, such as 50ml@96 or 2floz@80proof; water is 50ml@0"

func (a *app) strength() *cobra.Command {
	c := &cobra.Command{
		Use:   "strength HOW LIQUID …",
		Short: "alcohol arithmetic: blend, dilute, read a hydrometer",
		Long: long(`Works out what comes of spirit and water poured together, how much water brings
spirit down to a strength, and the true strength behind a hydrometer's reading. It
needs no yard.

A liquid is AMOUNT@STRENGTH: the amount in ml, l, floz, g, kg or lb; the strength in %
by volume at 20 °C, such as 96, or in US proof, such as 80proof. Water is 50ml@0.`),
		Example: `  hodaba strength blend 50ml@95 50ml@0
  hodaba strength blend 96 40 --to 60 --make 1l
  hodaba strength dilute 100ml@40 --to 25
  hodaba strength reading 35.9 --at 10`,
		Args: cobra.ArbitraryArgs,
	}
	subs := []*cobra.Command{a.strengthBlend(), a.strengthDilute(), a.strengthReading()}
	c.RunE = func(_ *cobra.Command, args []string) error { return wrongHow(args, subs) }
	c.AddCommand(subs...)
	c.SetFlagErrorFunc(belowZero) // the commands below inherit it
	return c
}

// belowZero is about a number below zero, which the command line takes for an
// option.
func belowZero(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) || !strings.ContainsAny(unknown.GetSpecifiedShortnames()[:min(1, len(unknown.GetSpecifiedShortnames()))], "0123456789.,") {
		return flagError(c, err)
	}
	value := "-" + unknown.GetSpecifiedShortnames()
	if c.Name() == "reading" {
		return lineWrong("look at the scale, and write as in: hodaba strength reading 35.9 --at 10", "%q: a hydrometer shows nothing below 0 %%", value)
	}
	return lineWrong(asLiquid, "%q: no amount and no strength lies below 0", value)
}

// wrongHow is about a missing or unknown word after strength.
func wrongHow(args []string, subs []*cobra.Command) error {
	const remedy = "as in: hodaba strength blend 50ml@95 50ml@0; all of it: hodaba strength --help"
	if len(args) == 0 {
		return lineWrong(remedy, "strength needs to know what: blend, dilute or reading")
	}
	var names []string
	for _, s := range subs {
		names = append(names, s.Name())
	}
	if near, ok := data.Nearest(args[0], names); ok {
		return lineWrong("did you mean hodaba strength "+near+"?", "strength knows no %q", args[0])
	}
	return lineWrong(remedy, "strength knows no %q: it can blend, dilute or correct a reading", args[0])
}

// answerFlags are those of a command that reads no yard.
func (a *app) answerFlags(c *cobra.Command) {
	c.Flags().SortFlags = false
	c.Flags().BoolVar(&a.flags.json, "json", false, "answer as JSON")
	c.Flags().BoolVar(&a.flags.plain, "plain", false, "only plain signs (also where the locale is not UTF-8)")
}

func (a *app) strengthBlend() *cobra.Command {
	var at, to, make string
	c := &cobra.Command{
		Use:   "blend LIQUID …",
		Short: "what comes of liquids, or how much of two makes a third",
		Long: long(`Says what comes of liquids poured together: how much, and how strong. A liquid is AMOUNT@STRENGTH; see hodaba strength --help.

With --to it says how much of two liquids makes that strength. Both may be strengths alone, or one of them an AMOUNT@STRENGTH that the other is poured to.`),
		Example: "  hodaba strength blend 50ml@95 50ml@0\n  hodaba strength blend 1l@80proof 500g@0\n" +
			"  hodaba strength blend 96 40 --to 60 --make 1l\n  hodaba strength blend 1l@40 96 --to 60",
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		if to != "" {
			return a.soughtBlend(args, to, make, at)
		}
		switch {
		case len(args) == 0:
			return lineWrong("as in: hodaba strength blend 50ml@95 50ml@0", "blend needs the liquids that are poured together")
		case make != "":
			return lineWrong("as in: hodaba strength blend 96 40 --to 60 --make 1l", "--make needs the strength to come to: --to")
		}
		ls, err := liquidsOf(args)
		if err != nil {
			return err
		}
		return a.answerStrength(ls, at, func() (charts.Strength, error) { return blended(ls) })
	}
	c.Flags().StringVar(&to, "to", "", "how much of two liquids makes this strength, such as 60")
	c.Flags().StringVar(&make, "make", "", "with --to: how much to make (default 1l)")
	atFlag(c, &at)
	a.answerFlags(c)
	return c
}

// atFlag is for what is also wanted at another temperature.
func atFlag(c *cobra.Command, at *string) {
	c.Flags().StringVar(at, "at", "", "say too what a hydrometer shows in it at this temperature, °C, or as 50F")
}

func (a *app) strengthDilute() *cobra.Command {
	const example = "as in: hodaba strength dilute 100ml@40 --to 25"
	var at, to string
	c := &cobra.Command{
		Use:     "dilute LIQUID --to STRENGTH",
		Short:   "how much water brings a liquid down to a strength",
		Long:    long(`Says how much water brings a liquid down to a strength, and how much that makes. A liquid is AMOUNT@STRENGTH; see hodaba strength --help.`),
		Example: "  hodaba strength dilute 100ml@40 --to 25\n  hodaba strength dilute 8floz@190proof --to 80proof",
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return lineWrong(example, "dilute needs a liquid")
		case len(args) > 1:
			return lineWrong("what comes of several says hodaba strength blend", "dilute takes one liquid, not %s", strings.Join(quote(args), " "))
		case to == "":
			return lineWrong(example, "dilute needs the strength to come down to: --to")
		}
		ls, err := liquidsOf(args)
		if err != nil {
			return err
		}
		abv, err := strengthOf(to)
		if err != nil {
			return err
		}
		return a.answerStrength(ls, at, func() (charts.Strength, error) { return diluted(ls[0], abv) })
	}
	c.Flags().StringVar(&to, "to", "", "the strength to come down to, such as 25 or 50proof")
	atFlag(c, &at)
	a.answerFlags(c)
	return c
}

func (a *app) strengthReading() *cobra.Command {
	const example = "as in: hodaba strength reading 35.9 --at 10"
	var at string
	c := &cobra.Command{
		Use:     "reading VALUE --at TEMP",
		Short:   "the true strength behind a hydrometer's reading",
		Long:    long(`Corrects what a hydrometer for 20 °C shows, in % by volume, for the temperature of the spirit. It holds for plain spirit alone: what is dissolved in a tincture spoils the reading.`),
		Example: "  hodaba strength reading 35.9 --at 10\n  hodaba strength reading 35.9 --at 50F",
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return lineWrong(example, "reading needs what the hydrometer shows")
		case len(args) > 1:
			return lineWrong(example, "reading takes one value, not %s", strings.Join(quote(args), " "))
		case at == "":
			return lineWrong(example, "reading needs the temperature of the spirit: --at")
		}
		s, us, err := readingOf(args[0], at)
		if err != nil {
			return err
		}
		return a.printStrength(s, us)
	}
	c.Flags().StringVar(&at, "at", "", "the temperature of the spirit, °C, or as 50F")
	a.answerFlags(c)
	return c
}

// liquidsOf reads all liquids of a command line.
func liquidsOf(args []string) ([]liquid, error) {
	ls := make([]liquid, len(args))
	for i, s := range args {
		var err error
		if ls[i], err = liquidOf(s); err != nil {
			return nil, err
		}
	}
	return ls, nil
}

// answerStrength works out a strength and prints it; at is the temperature that
// is asked for beside, or "".
func (a *app) answerStrength(ls []liquid, at string, work func() (charts.Strength, error)) error {
	s, err := work()
	if err != nil {
		return err
	}
	us := slices.ContainsFunc(ls, func(l liquid) bool { return l.us })
	if at != "" {
		if s.Warm, err = warmed(s.Out, at, &us); err != nil {
			return err
		}
	}
	return a.printStrength(s, us)
}

// warmed is a liquid at a temperature; us is set where that was given in °F.
func warmed(l alcohol.Liquid, at string, us *bool) (*charts.Warm, error) {
	c, f, err := degreesOf(at)
	if err != nil {
		return nil, err
	}
	*us = *us || f
	w := &charts.Warm{C: c}
	if w.Density, err = alcohol.Density(l.MassFraction(), c); err != nil {
		return nil, lineWrong("look at the amounts and strengths", "%s", err)
	}
	if w.Shows, err = alcohol.Reading(min(l.ABV(), 100), c); err != nil {
		w.Shows = -1 // water that is warm, strong spirit that is warm: off the scale
	}
	return w, nil
}

func (a *app) printStrength(s charts.Strength, us bool) error {
	if a.flags.json {
		return a.encoded(charts.StrengthJSON(s))
	}
	set, err := data.Load()
	if err != nil {
		return err
	}
	t := a.terminal(us)
	return a.print(t.Strength(s) + "\n" + t.Cautions(strengthCautions(s, set.Practice.Keeping)))
}

// strengthCautions are what must be said beside a strength.
func strengthCautions(s charts.Strength, k data.Keeping) []string {
	cs := []string{"Worked out for plain spirit and water: what is dissolved in a tincture is not counted, and it spoils a hydrometer's reading."}
	if len(s.Pours) == 0 && s.AtC < 0 || s.Warm != nil && s.Warm.C < 0 {
		cs = append(cs, "Weak spirit freezes below 0 °C: with ice in it the reading means nothing.")
	}
	if s.Out.EthanolG == 0 {
		return cs
	}
	if c := tincture.KeepingCaution(s.Out.ABV(), k); c != "" {
		cs = append(cs, c)
	}
	return append(cs, "Spirit and its vapour burn: keep them from flame and spark, and air the room.")
}

// blended pours liquids together.
func blended(ls []liquid) (charts.Strength, error) {
	var s charts.Strength
	for _, l := range ls {
		s.Pours = append(s.Pours, l.pour)
		s.Out = s.Out.Plus(l.pour.Liquid)
	}
	return proved(s)
}

// diluted brings a liquid down to abv % by volume at 20 °C.
func diluted(l liquid, abv float64) (charts.Strength, error) {
	have := l.pour.Liquid
	water, err := alcohol.Dilute(have, abv)
	switch {
	case err != nil && abv > have.ABV():
		return charts.Strength{}, lineWrong("to raise it, pour stronger spirit to it, as in: hodaba strength blend 1l@40 96 --to 60", "%s", err)
	case err != nil:
		return charts.Strength{}, lineWrong("give --to a strength above 0", "%s", err)
	case !(have.MassG()+water <= mostMade):
		return charts.Strength{}, lineWrong("look at --to and at the amount", "down to %g %% it would take more than 1,000 t of water", abv)
	}
	return proved(charts.Strength{Pours: []charts.Pour{l.pour}, WaterG: &water, Out: have.Plus(alcohol.Liquid{WaterG: water})})
}

// mostMade is the mass in g beyond which a dilution can only be a slip of the
// pen: ten times what is believed of an amount.
const mostMade = 1e9

// proved adds the US proof.
func proved(s charts.Strength) (charts.Strength, error) {
	proof, err := alcohol.ProofUS(min(s.Out.ABV(), 100)) // rounding may lift pure ethanol a hair above
	if err != nil {
		return s, lineWrong("look at the amounts and strengths", "%s", err)
	}
	s.Proof = proof
	return s, nil
}

// readingOf corrects a hydrometer's reading for a temperature; us tells that
// this was given in °F.
func readingOf(value, at string) (s charts.Strength, us bool, err error) {
	if strings.Contains(strings.ToLower(value), "proof") {
		return s, false, lineWrong("read the scale of a hydrometer for 20 °C, in % by volume", "%q: a proof scale is made for 60 °F, not for 20 °C", value)
	}
	if s.Shown, err = strengthOf(value); err != nil {
		return s, false, err
	}
	if s.AtC, us, err = degreesOf(at); err != nil {
		return s, us, err
	}
	abv, err := alcohol.FromReading(s.Shown, s.AtC)
	if err != nil {
		return s, us, lineWrong("look at the scale and at the thermometer", "no spirit of %g °C makes a hydrometer show %g %%", s.AtC, s.Shown)
	}
	if s.Out, err = alcohol.Spirit(100, min(abv, 100)); err != nil {
		return s, us, lineWrong("look at the reading and the temperature", "%s", err)
	}
	s, err = proved(s)
	return s, us, err
}

// liquid is one of the command line.
type liquid struct {
	pour charts.Pour
	us   bool // in fluid ounces or pounds
}

// liquidOf reads AMOUNT@STRENGTH.
func liquidOf(text string) (l liquid, err error) {
	amount, strength, ok := strings.Cut(text, "@")
	if !ok {
		return l, lineWrong(asLiquid, "%q is no liquid", text)
	}
	abv, err := strengthOf(strength)
	if err != nil {
		return l, err
	}
	q, err := amountOf(amount)
	if err != nil {
		return l, err
	}
	l.us = holdsAny(amount, "fl", "lb", "pound")
	l.pour.Weighed = q.Unit == yard.Kilogram
	if l.pour.Liquid, err = poured(q, abv); err != nil {
		return l, lineWrong(asLiquid, "%q: %s", text, err)
	}
	return l, nil
}

// poured is an amount of spirit of abv % by volume at 20 °C.
func poured(q yard.Quantity, abv float64) (alcohol.Liquid, error) {
	if q.Unit == yard.Millilitre {
		return alcohol.Spirit(q.Low, abv)
	}
	p, err := alcohol.MassFraction(abv)
	g := q.Low * 1000
	return alcohol.Liquid{EthanolG: g * p, WaterG: g * (1 - p)}, err
}

// amountOf reads a volume or a weight. Ounces alone may be either, and are
// refused.
func amountOf(text string) (yard.Quantity, error) {
	if holdsAny(text, "oz", "ounce") && !holdsAny(text, "fl") {
		return yard.Quantity{}, lineWrong("write floz for fluid ounces, and a weight in g, kg or lb", "%q: oz may be a weight or a volume", text)
	}
	q, err := yard.ParseAmount(text, nil)
	switch {
	case err != nil || q.Unit != yard.Millilitre && q.Unit != yard.Kilogram:
		return q, lineWrong(asLiquid, "%q is no amount in ml, l, floz, g, kg or lb", text)
	case q.Low != q.High:
		return q, lineWrong("give one amount", "%q is a range", text)
	case q.Low == 0:
		return q, lineWrong("leave it out, or look at the number", "%q is nothing to pour", text)
	}
	return q, nil
}

// holdsAny reports whether an amount is written with one of these letters.
func holdsAny(amount string, letters ...string) bool {
	amount = strings.ToLower(amount)
	return slices.ContainsFunc(letters, func(l string) bool { return strings.Contains(amount, l) })
}

// strengthOf reads a strength, 96, 96% or 80proof, in % by volume at 20 °C.
func strengthOf(text string) (float64, error) {
	const remedy = "write % by volume from 0 to 100, such as 96, or US proof up to 200, such as 80proof"
	s := strings.ToLower(strings.TrimSpace(text))
	s, proof := strings.CutSuffix(s, "proof")
	if !proof {
		s = strings.TrimSuffix(s, "%")
	}
	v, err := decimal(s)
	if err != nil {
		return 0, lineWrong(remedy, "%q is no strength", text)
	}
	if proof {
		if v, err = alcohol.FromProofUS(v); err != nil {
			return 0, lineWrong(remedy, "%s", err)
		}
		return min(v, 100), nil // rounding may lift 200 proof a hair above
	}
	if _, err := alcohol.MassFraction(v); err != nil {
		return 0, lineWrong(remedy, "%s", err)
	}
	return v, nil
}

// degreesOf reads a temperature, 10, 10C or 50F, into °C; us tells that it was
// given in °F.
func degreesOf(text string) (c float64, us bool, err error) {
	s := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(text), "°", ""))
	s, us = strings.CutSuffix(s, "f")
	if !us {
		s = strings.TrimSuffix(s, "c")
	}
	if c, err = decimal(s); err != nil {
		return 0, us, lineWrong("write °C, such as 10, or °F, such as 50F", "--at: %q is no temperature", text)
	}
	if us {
		c = (c - 32) * 5 / 9
	}
	if !(c >= alcohol.MinC && c <= alcohol.MaxC) {
		return 0, us, lineWrong("let the spirit come near 20 °C and read again; °F as 50F", "--at: %s is outside -20 to 40 °C, where the tables end", text)
	}
	return c, us, nil
}
