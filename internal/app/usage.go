// SPDX-License-Identifier: Apache-2.0

package app

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// speakPlainly has a command and those below it say in our words what is wrong
// with what was typed: what is missing, and how it is written.
func speakPlainly(c *cobra.Command) {
	c.SetFlagErrorFunc(flagError)
	if c.HasParent() || !c.Runnable() {
		wrapArgs(c)
	}
	if wants, _ := wantedArgs(c); slices.Contains(wants, "RIG") {
		offerRigs(c)
	}
	for _, below := range c.Commands() {
		speakPlainly(below)
	}
}

// offerFrom has the shell complete a flag, given what is typed of the value.
func offerFrom(c *cobra.Command, flag string, values func(begun string) []string) {
	err := c.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		unfit := func(v string) bool { return !strings.HasPrefix(v, begun) }
		return slices.DeleteFunc(slices.Clone(values(begun)), unfit), cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil {
		panic(err) // the command has no such flag, or it was offered twice
	}
}

// offer has the shell complete a flag with the values that it may have.
func offer(c *cobra.Command, flag string, values ...string) {
	offerFrom(c, flag, func(string) []string { return values })
}

// offerList is offer for a flag that takes several values with commas between them.
func offerList(c *cobra.Command, flag string, values ...string) {
	offerFrom(c, flag, func(begun string) (out []string) {
		before := begun[:strings.LastIndex(begun, ",")+1]
		for _, v := range values {
			if !slices.Contains(strings.Split(before, ","), v) {
				out = append(out, before+v)
			}
		}
		return out
	})
}

// offerRigs has the shell complete a command's words with rig files.
func offerRigs(c *cobra.Command) {
	c.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
}

// wrapArgs has the errors of a command's check of its words say what to type.
func wrapArgs(c *cobra.Command) {
	check := c.Args
	c.Args = func(c *cobra.Command, args []string) error {
		if check == nil || check(c, args) == nil {
			return checkFlags(c)
		}
		return argsError(c, args)
	}
}

// placeholders are what the words of a command's use stand for, and one each.
var placeholders = map[string]struct{ meaning, example string }{
	"RIG":   {"a rig file", "rig.toml"},
	"OTHER": {"another one to set beside it", "other.toml"},
	"DIR":   {"a folder", "mine"},
	"N":     {"the number of a game", "1"},
}

// argsError says which words a command takes.
func argsError(c *cobra.Command, args []string) error {
	wants, musts := wantedArgs(c)
	switch {
	case len(wants) == 0 && c.HasAvailableSubCommands():
		return unknownCommand(c, args[0])
	case len(wants) == 0:
		return fmt.Errorf("%s takes nothing but flags; got %q", commandName(c), strings.Join(args, " "))
	case len(args) > len(wants):
		return fmt.Errorf("%s takes %s only; got %d words: %s", commandName(c), meanings(wants), len(args), strings.Join(args, " "))
	}
	return fmt.Errorf("%s needs %s: %s", commandName(c), meanings(musts), exampleUse(c, musts))
}

// wantedArgs are the words of a command's use that stand for something typed,
// without the values of its flags; and those of them that must be, or all when none must.
func wantedArgs(c *cobra.Command) (wants, musts []string) {
	words := strings.Fields(c.Use)[1:]
	for i, w := range words {
		name := strings.Trim(w, "[]")
		if strings.HasPrefix(name, "-") || i > 0 && strings.HasPrefix(strings.Trim(words[i-1], "[]"), "-") {
			continue
		}
		wants = append(wants, name)
		if name == w {
			musts = append(musts, name)
		}
	}
	if musts == nil {
		musts = wants
	}
	return wants, musts
}

func meanings(wants []string) string {
	var out []string
	for _, w := range wants {
		if p, ok := placeholders[w]; ok {
			w = p.meaning
		}
		out = append(out, w)
	}
	return strings.Join(out, " and ")
}

func exampleUse(c *cobra.Command, wants []string) string {
	s := c.CommandPath()
	for _, w := range wants {
		if p, ok := placeholders[w]; ok {
			w = p.example
		}
		s += " " + w
	}
	return s
}

// commandName is a command's path without the program.
func commandName(c *cobra.Command) string {
	_, name, _ := strings.Cut(c.CommandPath(), " ")
	return name
}

// unknownCommand names the command that may be meant, or says where they stand.
func unknownCommand(c *cobra.Command, word string) error {
	c.SuggestionsMinimumDistance = 1 + len(word)/5 // letters wrong
	if near := c.SuggestionsFor(word); len(near) > 0 {
		return fmt.Errorf("unknown command %q; did you mean %s?", word, strings.Join(near, " or "))
	}
	return fmt.Errorf("unknown command %q; `%s --help` lists them", word, c.CommandPath())
}

// The marks that cobra leaves on flags.
const (
	markRequired  = cobra.BashCompOneRequiredFlag
	markOneOf     = "cobra_annotation_one_required"
	markExclusive = "cobra_annotation_mutually_exclusive"
)

// checkFlags says which flags are missing or exclude each other.
func checkFlags(c *cobra.Command) error {
	var missing []string
	var err error
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Annotations[markRequired] != nil && !f.Changed {
			missing = append(missing, "--"+f.Name)
		}
		for _, group := range f.Annotations[markOneOf] {
			if given(c, group) == 0 && err == nil {
				err = fmt.Errorf("%s needs %s: see `%s --help`", commandName(c), flagNames(group, " or "), c.CommandPath())
			}
		}
		for _, group := range f.Annotations[markExclusive] {
			if given(c, group) > 1 && err == nil {
				err = fmt.Errorf("%s exclude each other; give one of them", flagNames(group, " and "))
			}
		}
	})
	if len(missing) == 0 {
		return err
	}
	slices.SortStableFunc(missing, func(a, b string) int { return strings.Index(c.Use, a) - strings.Index(c.Use, b) })
	return fmt.Errorf("%s needs %s: boardhand %s", commandName(c), strings.Join(missing, " and "), c.Use)
}

// given counts the flags of a group that were typed.
func given(c *cobra.Command, group string) (n int) {
	for _, name := range strings.Fields(group) {
		if c.Flags().Changed(name) {
			n++
		}
	}
	return n
}

func flagNames(group, between string) string {
	return "--" + strings.Join(strings.Fields(group), between+"--")
}

// flagError says what is wrong with a flag.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var empty *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		return fmt.Errorf("there is no flag %s here; `%s --help` lists them", dashed(unknown.GetSpecifiedName()), c.CommandPath())
	case errors.As(err, &empty):
		f := empty.GetFlag()
		return fmt.Errorf("--%s needs a value: %s", f.Name, f.Usage)
	case errors.As(err, &wrong):
		return valueError(wrong)
	}
	return err
}

func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

// valueForms say what a flag of a type takes.
var valueForms = map[string]string{
	"duration": "a time with its unit, like 2s or 500ms",
	"int":      "a whole number",
	"int64":    "a whole number",
	"uint64":   "a whole number, 0 or more",
	"float64":  "a number",
	"bool":     "true or false",
}

// valueError says what a flag takes.
func valueError(e *pflag.InvalidValueError) error {
	f := e.GetFlag()
	if form, ok := valueForms[f.Value.Type()]; ok {
		return fmt.Errorf("--%s takes %s; got %q", f.Name, form, e.GetValue())
	}
	return fmt.Errorf("--%s: %w", f.Name, e.Unwrap())
}
