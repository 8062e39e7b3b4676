package cli

import (
	"cmp"
	"context"
	_ "embed" // for the help
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
)

// Streams are the standard streams of one run.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// The exit codes, as every command's help lists them.
const (
	exitOK          = 0
	exitInput       = 2
	exitUnmet       = 3
	exitInterrupted = 130
)

// exitCodes ends the help of every command.
const exitCodes = `Exit codes:
  0    done; the case works in every required posture
  2    wrong usage or input, or a file that cannot be read or written
  3    a valid case whose requirements are not met; the closest result is printed
  130  interrupted`

// usageTemplate is what the help of every command shows below its description.
const usageTemplate = `Usage:
  {{if .HasAvailableSubCommands}}{{.CommandPath}} COMMAND{{else}}{{.UseLine}}{{end}}
{{- if .HasAvailableSubCommands}}

Commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}
{{- if .HasAvailableFlags}}

Flags:
{{.Flags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasExample}}

Example:
{{.Example}}{{end}}

` + exitCodes + "\n"

// Root returns the command that all others hang on, and that prints to out.
func Root(out io.Writer) *cobra.Command {
	c := described("sightpost", nil)
	c.Version, c.SilenceErrors, c.SilenceUsage = version(), true, true
	c.RunE = func(cmd *cobra.Command, _ []string) error {
		if doubleClicked() {
			return serveAtHome(cmd)
		}
		return cmd.Help()
	}
	root := family(c, newNew(), newSolve(), newCheck(), newVary(), newRefit(), newMatch(), newDraw(), newExport(), newRecord(), newPack(), newUnpack(), newServe(), newSchema(), newNotices())
	root.PersistentFlags().Bool("quiet", false, "say nothing beside answers, warnings and errors")
	root.SetOut(out)
	root.InitDefaultCompletionCmd() // which takes the output that is set
	if c, _, err := root.Find([]string{"completion"}); err == nil {
		c.Short, c.Long = "write a script that completes commands in a shell", ""
	}
	addCompletions(root)
	root.SetUsageTemplate(usageTemplate)
	root.SetVersionTemplate("sightpost {{.Version}}\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		var bad *badValue
		var unknown *pflag.NotExistError
		switch {
		case errors.As(err, &bad):
			return bad.error
		case errors.As(err, &unknown):
			var names []string
			cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
			if near := casefile.Nearest(unknown.GetSpecifiedName(), names); near != "" {
				return withHint(err, "did you mean --%s?", near)
			}
		}
		return seeHelp(cmd, err)
	})
	return root
}

//go:embed help.txt
var helpText string

// described returns the command of a use and arguments, with what its help says.
func described(use string, args cobra.PositionalArgs) cobra.Command {
	_, words, _ := strings.Cut(helpText, "\n# "+use+"\n")
	words, _, _ = strings.Cut(words, "\n# ")
	short, words, _ := strings.Cut(words, "\n\n")
	long, example, _ := strings.Cut(words, "Example:\n")
	return cobra.Command{Use: use, Short: short, Long: strings.TrimSpace(long), Example: strings.TrimRight(example, "\n"), Args: args}
}

// family returns a command that has others below it and refuses what is none of them,
// with the nearest that is.
func family(cmd cobra.Command, members ...*cobra.Command) *cobra.Command {
	cmd.SuggestionsMinimumDistance = 2
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil
		}
		err := fmt.Errorf("unknown command %q", args[0])
		if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
			return withHint(err, "did you mean %s?", `"`+strings.Join(near, `" or "`)+`"`)
		}
		return seeHelp(cmd, err)
	}
	cmd.AddCommand(members...)
	return &cmd
}

// takes refuses a number of arguments that is not ok: needs says what the command needs,
// and one of what it takes a single one, if that is so.
func takes(ok func(n int) bool, needs, one string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		n := len(args)
		switch {
		case ok(n):
			return nil
		case n > 1 && one != "":
			return seeHelp(cmd, fmt.Errorf("%s takes one %s, not %d", cmd.Name(), one, n))
		}
		return seeHelp(cmd, fmt.Errorf("%s needs %s", cmd.Name(), needs))
	}
}

// oneCase refuses anything but one argument, a case.
var oneCase = takes(func(n int) bool { return n == 1 }, "a case: name its file, or - for standard input", "case")

// atMostOne refuses more than one argument, which is called what.
func atMostOne(what string) cobra.PositionalArgs {
	return takes(func(n int) bool { return n <= 1 }, "", what)
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

// errUnmet says that a case is valid and its requirements are not met. What was found is already
// printed when it comes back.
var errUnmet = errors.New("requirements not met")

// verdict returns an error if the case of that label is not met.
func verdict(label string, met bool) error {
	if met {
		return nil
	}
	return fmt.Errorf("%s: %w", label, errUnmet)
}

// unseen is [verdict] where nothing that was printed says why.
func unseen(label string, met bool) error {
	if met {
		return nil
	}
	return withHint(verdict(label, met), `"solve" or "check" says why`)
}

// errSaid goes with the error of a run whose errors have been printed one by one.
var errSaid = errors.New("printed already")

// hinted is an error with what to do about it.
type hinted struct {
	error
	hint string
}

// Unwrap returns the error without the hint.
func (h *hinted) Unwrap() error { return h.error }

// withHint returns err with what to do about it.
func withHint(err error, format string, args ...any) error {
	return &hinted{error: err, hint: fmt.Sprintf(format, args...)}
}

// seeHelp returns err with the hint where the help is.
func seeHelp(cmd *cobra.Command, err error) error {
	return withHint(err, "see %q", cmd.CommandPath()+" --help")
}

// Main runs the command line of this process and returns the exit code. An interrupt ends it
// within a second, whatever it waits for.
func Main() int {
	const grace = 900 * time.Millisecond
	s := Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, func() {
		stop() // a second interrupt ends the program at once
		time.Sleep(grace)
		sayInterrupted(s.Err)
		os.Exit(exitInterrupted)
	})
	return Run(ctx, os.Args[1:], s)
}

func sayInterrupted(w io.Writer) { say(w, "interrupted; no file was left half written") }

// Run runs the command that args name and returns the exit code.
func Run(ctx context.Context, args []string, s Streams) int {
	out := &answers{Writer: s.Out}
	root := Root(out)
	root.SetArgs(args)
	root.SetIn(s.In)
	root.SetErr(s.Err)
	err := root.ExecuteContext(ctx)
	if err == nil {
		err = out.failed
	}
	switch {
	case ctx.Err() != nil:
		sayInterrupted(s.Err)
		return exitInterrupted
	case err == nil:
		return exitOK
	case !errors.Is(err, errSaid):
		tell(s.Err, err)
	}
	if errors.Is(err, errUnmet) {
		return exitUnmet
	}
	return exitInput
}

// answers is standard output; failed is the first error of a write. The help of a command
// does not tell of one.
type answers struct {
	io.Writer
	failed error
}

// Write implements [io.Writer].
func (a *answers) Write(p []byte) (int, error) {
	n, err := a.Writer.Write(p)
	a.failed = cmp.Or(a.failed, err)
	return n, err
}

// tell writes err, a message for each of its lines, and what to do about it to
// standard error.
func tell(w io.Writer, err error) {
	for line := range strings.Lines(err.Error()) {
		say(w, "%s", answer.Plain(strings.TrimRight(line, "\n")))
	}
	var h *hinted
	if errors.As(err, &h) {
		say(w, "%s", h.hint)
	}
}

// say writes one message to standard error. Nothing can be done when that fails.
func say(w io.Writer, format string, args ...any) {
	_, _ = fmt.Fprintf(w, "sightpost: "+format+"\n", args...)
}

// note says what can be left out.
func note(c *cobra.Command, format string, args ...any) {
	if !quiet(c) {
		say(c.ErrOrStderr(), format, args...)
	}
}

// quiet reports whether nothing is to be said that can be left out.
func quiet(c *cobra.Command) bool {
	q, _ := c.Flags().GetBool("quiet") // which every command has
	return q
}
