package cli

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/record"
)

// flagWords are the values of the flags that take one of a few.
var flagWords = map[string][]string{
	"as": {"urdf", "csv"}, "format": {"svg", "pdf", "png"}, "paper": {"a4", "letter"},
	"side": {"left", "right"}, "text": {"case", "kit"}, "units": {"mm", "cm", "in"},
}

// flagFiles are the ends of the names of the files that flags take.
var flagFiles = map[string][]string{"before": {"yaml", "yml"}, "settings": {"csv", "yaml", "yml"}}

// addCompletions has the shell complete what follows a command and the commands below it:
// values of flags, case files, names of settings and codes of records.
func addCompletions(cmd *cobra.Command) {
	for _, below := range cmd.Commands() {
		addCompletions(below)
	}
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		complete := settingNames
		switch {
		case flagWords[f.Name] != nil:
			complete = cobra.FixedCompletions(flagWords[f.Name], cobra.ShellCompDirectiveNoFileComp)
		case flagFiles[f.Name] != nil:
			complete = cobra.FixedCompletions(flagFiles[f.Name], cobra.ShellCompDirectiveFilterFileExt)
		case f.Name != "set":
			return
		}
		_ = cmd.RegisterFlagCompletionFunc(f.Name, complete) // the flag is there, once
	})
	if what := cmd.Use; strings.Contains(what, " CODE") || strings.Contains(what, "[CODE") {
		cmd.ValidArgsFunction = codes
	} else if strings.Contains(what, " CASE") {
		cmd.ValidArgsFunction = cobra.FixedCompletions([]string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt)
	}
}

// settingNames completes --set by the settings of the mount of the case, each with the sign
// before its value.
func settingNames(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	const directive = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	if len(args) == 0 || args[0] == stdinName {
		return nil, directive
	}
	one, err := (&command{Command: *cmd}).readCase(args[0], nil)
	if err != nil {
		return nil, directive
	}
	names := one.SettingNames(cmd.Flag("side").Value.String())
	for i := range names {
		names[i] += "="
	}
	return names, directive
}

// codes completes the code of a record in the folder of --in.
func codes(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	f, err := record.Open(cmd.Flag("in").Value.String())
	if err != nil || len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	defer f.Close()
	all, _ := f.Codes() // none, if they cannot be read
	return all, cobra.ShellCompDirectiveNoFileComp
}
