package cli

import (
	"errors"
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

// usageTemplate is what the help of every command shows below its description.
const usageTemplate = `Usage:
  {{if .HasAvailableSubCommands}}{{.CommandPath}} COMMAND{{else}}{{.UseLine}}{{end}}
{{- if .HasAvailableSubCommands}}

Commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}
{{- if .HasAvailableLocalFlags}}

Flags:
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasExample}}

Example:
{{.Example}}{{end}}

` + exitCodes + "\n"

// newRoot returns the command that all others hang on.
func newRoot(s Streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "sightpost",
		Short: "where a screen with an eye tracker goes, and how to set its mount",
		Long: `Sightpost finds where a screen with an eye tracker goes for a seated person who
selects words by looking, and how to set the tube mount that holds it. A case file
holds what was measured; start one with "sightpost new", or work in the browser with
"sightpost serve".`,
		Example: `  sightpost new mine
  sightpost solve mine/case.yaml --out mine/sheet`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          knownCommand,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if doubleClicked() {
				return runDesktop(cmd.Context(), s)
			}
			return cmd.Help()
		},
	}
	root.SuggestionsMinimumDistance = 2
	root.SetUsageTemplate(usageTemplate)
	root.SetVersionTemplate("sightpost {{.Version}}\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		var bad *badValue
		if errors.As(err, &bad) {
			return bad.error
		}
		return seeHelp(cmd, err)
	})
	root.AddCommand(newNew(s), newSolve(s), newCheck(s), newVary(s), newRefit(s), newMatch(s), newDraw(s), newExport(s), newRecord(s), newServe(s), newSchema(s))
	return root
}

// knownCommand refuses what is not a command, with the nearest that is.
func knownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	err := fmt.Errorf("unknown command %q", args[0])
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		return withHint(err, "did you mean %s?", `"`+strings.Join(near, `" or "`)+`"`)
	}
	return seeHelp(cmd, err)
}

// seeHelp returns err with the hint where the help is.
func seeHelp(cmd *cobra.Command, err error) error {
	return withHint(err, "see %q", cmd.CommandPath()+" --help")
}

// oneCase refuses anything but one argument, a case.
func oneCase(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return seeHelp(cmd, fmt.Errorf("%s needs a case: name its file, or - for standard input", cmd.Name()))
	case 1:
		return nil
	}
	return seeHelp(cmd, fmt.Errorf("%s takes one case, not %d", cmd.Name(), len(args)))
}

// atMostOne refuses more than one argument, which is called what.
func atMostOne(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > 1 {
			return seeHelp(cmd, fmt.Errorf("%s takes one %s, not %d", cmd.Name(), what, len(args)))
		}
		return nil
	}
}

// firstOr returns the first argument, or what is meant without one.
func firstOr(args []string, without string) string {
	if len(args) == 0 {
		return without
	}
	return args[0]
}

// version returns the version that the program was built from.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(unknown)"
}
