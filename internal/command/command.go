package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/alecthomas/kong"
)

// streams are the ends of the program that the commands read and write.
type streams struct {
	ctx      context.Context
	in       io.Reader
	out, err io.Writer
}

type commands struct {
	Demo  demoCmd  `cmd:"" help:"Print the round of an invented garden on real weather, and end. Nothing is written."`
	Round roundCmd `cmd:"" help:"Print the round of your garden for one morning."`
	asks
	kinds
	Write   writeCmd   `cmd:"" help:"Type an entry: a look, a treatment, a harvest, a note."`
	Entries bookCmd    `cmd:"" name:"book" help:"List, show, correct, check, copy what the book holds."`
	Names   namesCmd   `cmd:"" help:"The crops and materials that entries may name."`
	Shed    shedCmd    `cmd:"" help:"What stands in the shed, and what of its labels is known."`
	Record  recordCmd  `cmd:"" help:"Treatments as records: what is missing, how long they are kept, exports, the notice to workers."`
	Ledger  ledgerCmd  `cmd:"" help:"Bring entries into the book, take them out, read them."`
	Weather weatherCmd `cmd:"" help:"Bring weather into the book, check it, show it, fetch forecasts and score them."`
	Schema  schemaCmd  `cmd:"" help:"Print the JSON Schema of an entry or of the round."`
	Version versionCmd `cmd:"" help:"Print the version."`
}

// Run runs the command line args and returns the exit status: 0 done, 1 it
// could not be done, 2 the call was not understood.
func Run(ctx context.Context, args []string, in io.Reader, out, errw io.Writer) int {
	var c commands
	status := -1
	parser, err := kong.New(&c,
		kong.Name("oidium"),
		kong.Description("Where is powdery mildew likely this morning, which leaves to look at, and what to do or to leave. Label and local law first."),
		kong.Writers(out, errw),
		kong.Exit(func(code int) { status = code }),
		kong.Vars{"entry": idWord},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
	)
	if err != nil {
		fmt.Fprintln(errw, "oidium:", err)
		return 2
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	kctx, err := parser.Parse(flagsFirst(parser.Model.Node, args))
	if status >= 0 { // --help was printed
		return status
	}
	if err != nil {
		fmt.Fprintf(errw, "oidium: %v\nTry: oidium --help\n", err)
		return 2
	}
	err = kctx.Run(&streams{ctx: ctx, in: in, out: out, err: errw})
	var quiet *reported
	switch {
	case err == nil:
		return 0
	case errors.As(err, &quiet):
		return 1
	}
	fmt.Fprintln(errw, "oidium:", err)
	return 1
}

// reported is an error whose details the user has already been shown.
type reported struct{ what string }

func (r *reported) Error() string { return r.what }

// open opens the named file, or standard input for "-".
func (s *streams) open(name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(s.in), nil
	}
	f, err := os.Open(name)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("there is no file %q; give the path of a file, or - for standard input", name)
	}
	return f, err
}
