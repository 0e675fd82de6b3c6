// Command corymb counts stems in the row, brings every phone's records together in the shed, and learns
// what plants give by age.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
)

// command is one thing that the program does.
type command struct {
	name    string
	summary string
	run     func(ctx context.Context, args []string, out io.Writer) error
}

// commands lists them in the order of the usage text.
func commands() []command {
	return []command{
		{"serve", "serve a farm to phones and browsers", serveCommand},
		{"demo", "serve a made-up farm", demoCommand},
		{"import", "add plants.csv and cuts.csv to a farm", importCommand},
		{"take-in", "take files of unsent changes, saved on phones, in to a farm", takeInCommand},
		{"ages", "print stems and grades by age of plants.csv and cuts.csv", agesCommand},
		{"backup", "write a farm that is not being served into one file", backupCommand},
		{"restore", "make a farm of a backup", restoreCommand},
		{"verify", "compare a farm's log with what was made from it, or read a backup through", verifyCommand},
	}
}

// errUsage says that the command line was wrong, and that what is wrong was printed already.
var errUsage = errors.New("wrong usage")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	err := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	switch {
	case errors.Is(err, errUsage):
		os.Exit(2)
	case err != nil:
		fmt.Fprintf(os.Stderr, "corymb: %v\n", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string, out, errs io.Writer) error {
	if len(args) == 0 {
		usage(errs)
		return errUsage
	}
	if name := args[0]; name == "help" || name == "-h" || name == "-help" || name == "--help" {
		usage(out)
		return nil
	}
	for _, c := range commands() {
		if c.name == args[0] {
			err := c.run(ctx, args[1:], out)
			if errors.Is(err, flag.ErrHelp) {
				return nil
			}
			return err
		}
	}
	fmt.Fprintf(errs, "corymb: there is no command %q\n\n", args[0])
	usage(errs)
	return errUsage
}

func usage(w io.Writer) {
	fmt.Fprint(w, "usage: corymb COMMAND [flags]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-8s %s\n", c.name, c.summary)
	}
	fmt.Fprint(w, "\nEach command tells its flags with -h.\n")
}

// flags makes the flag set of a command. It prints what is wrong with a command line itself.
func flags(name string) *flag.FlagSet {
	return flag.NewFlagSet("corymb "+name, flag.ContinueOnError)
}

// parse reads a command line that has flags only.
func parse(set *flag.FlagSet, args []string) error {
	err := set.Parse(args)
	if err == nil && set.NArg() > 0 {
		return wrongUsage(set, "%s takes flags only, not %q", set.Name(), set.Arg(0))
	}
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		return errUsage
	}
	return err
}

// wrongUsage says what is wrong with a command line, and how it is written.
func wrongUsage(set *flag.FlagSet, format string, args ...any) error {
	fmt.Fprintf(set.Output(), format+"\n", args...)
	set.Usage()
	return errUsage
}
