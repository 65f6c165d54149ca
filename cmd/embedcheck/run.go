package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

// Exit codes, for scripts.
const (
	exitDone  = 0 // done, nothing at or above fail_on
	exitFound = 1 // done, something is
	exitUsage = 2 // the call or the rule file is wrong
	exitRead  = 3 // a model could not be read at all

	exitInterrupted = 130 // stopped from outside, as shells count it
)

// errFound says that a finding is at or above fail_on. It carries no message:
// the summary has told.
var errFound = errors.New("findings at or above fail_on")

// errInterrupted says that a run was stopped from outside.
var errInterrupted = errors.New("stopped")

// usageError is a call that cannot be done as it stands.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

func usagef(format string, args ...any) error {
	return usageError{fmt.Errorf(format, args...)}
}

// run is the whole program: results go to stdout, narration and errors to
// stderr; the exit code is returned.
func run(args []string, stdout, stderr io.Writer) int {
	app := newApp(stdout, stderr)
	err := app.Run(flagsFirst(app, args))
	var usage usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errFound):
		return exitFound
	case errors.As(err, &usage):
		fmt.Fprintln(stderr, "embedcheck: "+err.Error())
		return exitUsage
	case errors.Is(err, errInterrupted):
		fmt.Fprintln(stderr, "embedcheck: "+err.Error())
		return exitInterrupted
	}
	fmt.Fprintln(stderr, "embedcheck: "+err.Error())
	return exitRead
}

func newApp(stdout, stderr io.Writer) *cli.App {
	onUsage := func(_ *cli.Context, err error, _ bool) error { return usageError{err} }
	app := &cli.App{
		Name:            "embedcheck",
		Usage:           "check cast-in items in concrete building models before the pour",
		HideHelpCommand: true,
		Writer:          stdout,
		ErrWriter:       stderr,
		ExitErrHandler:  func(*cli.Context, error) {}, // only main exits
		OnUsageError:    onUsage,
		Commands: []*cli.Command{
			checkCommand(),
			compareCommand(),
			decideCommand(),
			explainCommand(),
			inventoryCommand(),
			rulesCommand(),
			scheduleCommand(),
			screenCommand(),
			sheetCommand(),
			triageCommand(),
		},
		DisableSliceFlagSeparator: true, // the name of a file may hold a comma
		Action: func(c *cli.Context) error {
			if c.NArg() == 0 {
				return cli.ShowAppHelp(c)
			}
			return usagef("no command %q; there are %s (embedcheck --help)", c.Args().First(), commandNames(c.App))
		},
	}
	for _, c := range app.Commands {
		c.OnUsageError = onUsage
		c.HideHelpCommand = true
	}
	return app
}

// commandNames lists the commands as a sentence does: "check, decide and rules".
func commandNames(app *cli.App) string {
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Name)
	}
	return inWords(names)
}

// inWords lists as a sentence does; of one and more.
func inWords(list []string) string {
	last := len(list) - 1
	if last == 0 {
		return list[0]
	}
	return strings.Join(list[:last], ", ") + " and " + list[last]
}

// flagsFirst moves the flags of a subcommand before its arguments: users write
// "check wall.ifc --out dir", the library reads flags only up to the first
// argument. Everything after "--" stays as it is.
func flagsFirst(app *cli.App, args []string) []string {
	if len(args) < 3 {
		return args
	}
	cmd := app.Command(args[1])
	if cmd == nil {
		return args
	}
	var flags, rest []string
	for i := 2; i < len(args); i++ {
		a := args[i]
		switch {
		case a == "--":
			rest = append(rest, args[i:]...)
			i = len(args)
		case len(a) < 2 || a[0] != '-':
			rest = append(rest, a)
		default:
			flags = append(flags, a)
			if takesValue(cmd, a) && i+1 < len(args) {
				i++
				flags = append(flags, args[i])
			}
		}
	}
	return append(append([]string{args[0], args[1]}, flags...), rest...)
}

// takesValue reports whether the next argument belongs to the flag.
func takesValue(cmd *cli.Command, arg string) bool {
	name := strings.TrimLeft(arg, "-")
	if strings.Contains(name, "=") {
		return false
	}
	for _, f := range cmd.Flags {
		for _, n := range f.Names() {
			if _, isBool := f.(*cli.BoolFlag); n == name && !isBool {
				return true
			}
		}
	}
	return false
}
