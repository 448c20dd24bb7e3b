package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
	kongcompletion "github.com/jotaen/kong-completion"
	"github.com/posener/complete"

	"farend/parts"
	"farend/rulebook"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

func (c *completionCommand) Help() string {
	return "Prints what the shell must run for the Tab key to complete commands, options, parts, rules and scheme files. Put it into the file that the shell runs at its start.\n\n" +
		"Examples:\n  farend completion bash >> ~/.bashrc\n  farend completion zsh >> ~/.zshrc\n  farend completion fish > ~/.config/fish/completions/farend.fish"
}

// shells is how each shell is told to ask the program: with the line so far in COMP_LINE, as bash does (complete -C).
var shells = map[string]string{
	"bash": "complete -o default -C farend farend",
	"zsh":  "autoload -U +X bashcompinit && bashcompinit\ncomplete -o default -C farend farend",
	"fish": "function __complete_farend\n    set -lx COMP_LINE (commandline -cp)\n    test -z (commandline -ct)\n    and set COMP_LINE \"$COMP_LINE \"\n    farend\nend\ncomplete -c farend -a \"(__complete_farend)\"",
}

func (c *completionCommand) Run(s streams) error {
	_, err := fmt.Fprintln(s.out, shells[c.Shell])
	return err
}

// completed answers a shell that asks what may come next, and reports whether one did.
func completed(parser *kong.Kong) bool {
	if os.Getenv("COMP_LINE") == "" {
		return false
	}
	done := false
	kongcompletion.Register(parser, kongcompletion.WithExitFunc(func(int) { done = true }), kongcompletion.WithPredictors(map[string]complete.Predictor{
		"scheme": complete.PredictFunc(schemeFiles),
		"part":   complete.PredictFunc(func(complete.Args) []string { return parts.Catalogue().Names("") }),
		"rule":   complete.PredictFunc(func(complete.Args) []string { return ruleNames() }),
		"topic":  complete.PredictFunc(func(complete.Args) []string { return topics() }),
		"tape":   complete.PredictFunc(func(complete.Args) []string { return parts.Catalogue().Names("tape") }),
	}))
	return done
}

// schemeFiles is the schemes and folders that what was typed may begin, each once.
func schemeFiles(typed complete.Args) []string {
	either := complete.PredictOr(complete.PredictFiles("*.scheme.yaml"), complete.PredictDirs("*")).Predict(typed)
	slices.Sort(either)
	return slices.Compact(either)
}

func ruleNames() []string {
	var names []string
	for _, r := range rulebook.All() {
		names = append(names, r.Name)
	}
	return names
}

// topics are the names of the pages of help.
func topics() []string {
	var names []string
	entries, _ := pages.ReadDir("help")
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".txt"))
	}
	return names
}
