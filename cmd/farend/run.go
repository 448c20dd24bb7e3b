package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/alecthomas/kong"

	"farend/finding"
)

// The exit codes of every command.
const (
	exitFine     = 0 // nothing worse than tight
	exitFindings = 1 // a danger, something that fails, or a safety rule that could not be assessed
	exitUsage    = 2 // the call or the file is wrong
	exitFault    = 3 // our fault

	exitInterrupted = 130 // interrupted: 128 and the number of the signal, as shells have it
)

// streams are where a command reads and writes, and what may be done there.
type streams struct {
	in       io.Reader
	out, err io.Writer
	colour   bool // out is a terminal that shows colours
	progress bool // err is a terminal, on which a line may be overwritten
}

// console is the streams of the process. There is no colour where NO_COLOR is set or the terminal is a dumb one.
func console() streams {
	dumb := os.Getenv("TERM") == "dumb"
	return streams{
		in: os.Stdin, out: os.Stdout, err: os.Stderr,
		colour:   terminal(os.Stdout) && !dumb && os.Getenv("NO_COLOR") == "",
		progress: terminal(os.Stderr) && !dumb,
	}
}

// terminal reports whether a file is a terminal; the null device, also a character device, is taken for one, to no harm.
func terminal(file *os.File) bool {
	info, err := file.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// page is the output as a page for people.
func (s streams) page() *page { return &page{out: s.out, plain: !s.colour} }

// commands is the whole command line.
type commands struct {
	Demo    demoCommand    `cmd:"" help:"Write worked examples with their results, and say what was found."`
	New     newCommand     `cmd:"" help:"Ask four questions and write a scheme that passes."`
	Check   checkCommand   `cmd:"" help:"Solve a scheme and judge it: verdict, findings, tables."`
	Parts   partsCommand   `cmd:"" help:"Search the catalogue; show a part with the basis of every number, or several side by side."`
	Explain explainCommand `cmd:"" help:"Say what a rule compares with what, and whence."`
	Netlist netlistCommand `cmd:"" help:"Write a solved case as a netlist for ngspice."`

	Draw      drawCommand      `cmd:"" help:"Draw sheets of a scheme as SVG, PDF, PNG or DXF: plan, diagrams, run sheets, charts."`
	Report    reportCommand    `cmd:"" help:"Bind one PDF to build from: verdict, findings, drawings, schedules, commissioning."`
	Addresses addressesCommand `cmd:"" help:"Number pixels in universes for the network, and say what they ask of it."`

	Schema  schemaCommand  `cmd:"" help:"Print a JSON Schema of scheme files, for editors."`
	Version versionCommand `cmd:"" help:"Print the version."`

	Help       helpCommand       `cmd:"" help:"Read about the scheme file, places, parts, units and grades."`
	Completion completionCommand `cmd:"" help:"Print what a shell needs to complete farend with the Tab key."`
}

// A failure is an error with the exit code it asks for and a hint; unread says that it is about a scheme, file, that could not be read.
type failure struct {
	code int
	text string
	hint string
	file string

	unread bool
}

func (f *failure) Error() string { return f.text }

func usage(text, hint string) error { return &failure{code: exitUsage, text: text, hint: hint} }

// outcome is what a command that ran says with its exit code.
type outcome int

// run is the whole command: arguments in, exit code out. Output that cannot be written is an error of the call.
func run(ctx context.Context, args []string, io streams) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(io.err, "farend: a fault of ours: %v\n%s", r, debug.Stack())
			code = exitFault
		}
	}()
	paper := bufio.NewWriter(io.out)
	io.out = paper
	code = perform(ctx, args, io)
	if err := paper.Flush(); err != nil && code != exitInterrupted {
		return io.fail(usage(fmt.Sprintf("the output cannot be written: %v", cause(err)), ""))
	}
	return code
}

// perform parses the call and does what it asks.
func perform(ctx context.Context, args []string, io streams) int {
	var c commands
	left := -1
	parser, err := kong.New(&c,
		kong.Name("farend"),
		kong.Description("Designs and proves low-voltage addressable-LED installations. Extra-low voltage is not expected to shock in dry use; 30 A burns all the same. "+
			"Mains work belongs to a licensed electrician and the local code."),
		kong.Writers(io.out, io.err),
		kong.Exit(func(status int) { left = status }),
		kong.PostBuild(func(k *kong.Kong) error {
			k.Model.HelpFlag.Help = "Say what this does and how it is called."
			return nil
		}),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(io),
	)
	if err != nil {
		return io.fail(err)
	}
	if completed(parser) {
		return exitFine
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	call, err := parser.Parse(args)
	if left >= 0 { // help was asked for and given
		return left
	}
	if err != nil {
		return io.fail(wrongCall(err))
	}
	var result outcome
	call.Bind(&result)
	if err := call.Run(); err != nil {
		return io.fail(err)
	}
	return int(result)
}

// wrongCall says what is wrong with a call in our own words where the parser's are terse, and where to read on.
func wrongCall(err error) error {
	var wrong *kong.ParseError
	if !errors.As(err, &wrong) || wrong.Context == nil || wrong.Context.Command() == "" {
		return usage(err.Error(), "farend --help lists the commands")
	}
	name, _, _ := strings.Cut(wrong.Context.Command(), " ")
	text := err.Error()
	if missing, ok := strings.CutPrefix(text, "expected "); ok {
		text = "farend " + name + " needs " + strings.Trim(missing, `"`)
	}
	return usage(text, "farend "+name+" --help shows how it is called")
}

// fail says what went wrong and returns the exit code.
func (s streams) fail(err error) int {
	var f *failure
	var mistakes *wrongFile
	switch {
	case errors.As(err, &mistakes):
		mistakes.print(s.err)
		return exitUsage
	case errors.As(err, &f):
		fmt.Fprintf(s.err, "farend: %s\n", f.text)
		if f.hint != "" {
			fmt.Fprintf(s.err, "hint: %s\n", finding.Hanging(f.hint, len("hint: ")))
		}
		return f.code
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(s.err, "farend: interrupted")
		return exitInterrupted
	}
	fmt.Fprintf(s.err, "farend: %v\n", err)
	return exitFault
}

// A wrongFile is a scheme with mistakes in it.
type wrongFile struct {
	mistakes finding.Mistakes
	source   []byte
}

func (w *wrongFile) Error() string { return w.mistakes.Error() }

func (w *wrongFile) print(out io.Writer) {
	fmt.Fprint(out, w.mistakes.Explain(w.source))
	noun := "mistakes"
	if len(w.mistakes) == 1 {
		noun = "mistake"
	}
	fmt.Fprintf(out, "%d %s; nothing was computed\n", len(w.mistakes), noun)
}

type versionCommand struct {
	JSON bool `name:"json" help:"As JSON."`
}

type versionJSON struct {
	SchemaVersion int    `json:"schema_version"`
	Version       string `json:"version"`
}

// version is the version of this tree.
const version = "0.1.0"

func (v versionCommand) Run(s streams) error {
	if v.JSON {
		return writeJSON(s.out, versionJSON{1, version})
	}
	_, err := fmt.Fprintf(s.out, "farend %s\n", version)
	return err
}
