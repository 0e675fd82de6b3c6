// Command corymb counts stems in the row, brings every phone's records together in the shed, and learns
// what plants give by age.
package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"corymb/webapp"
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
		{"start", "serve a farm and open it in the browser; what a double click on a release does", startCommand},
		{"serve", "serve a farm to phones and browsers", serveCommand},
		{"demo", "serve a made-up farm", demoCommand},
		{"import", "add plants.csv and cuts.csv to a farm, or make a farm of an export", importCommand},
		{"export", "write a farm that is not being served into a file that other programs can read", exportCommand},
		{"report", "write the report of a season as a PDF file, for whoever lends, buys or grows with you", reportCommand},
		{"take-in", "take files that phones saved, of unsent changes or photos, in to a farm", takeInCommand},
		{"ages", "print stems and grades by age of plants.csv and cuts.csv", agesCommand},
		{"pack", "plan which stems go to which buyers, whole bunches that bring most", packCommand},
		{"forecast", "print the stems still to come by week, of plants.csv and cuts.csv", forecastCommand},
		{"divide", "plan which plants to keep, divide, lift or replace, of plants.csv, cuts.csv and prices.csv", divideCommand},
		{"degree-days", "print the warmth of each day of a weather file", degreeDaysCommand},
		{"tags", "print stake tags for the plants of plants.csv as a PDF file", tagsCommand},
		{"card", "print the colour card as a PDF file", cardCommand},
		{"backup", "write a farm that is not being served into one file", backupCommand},
		{"restore", "make a farm of a backup", restoreCommand},
		{"verify", "compare a farm's log with what was made from it, or read a backup through", verifyCommand},
		{"version", "print which program this is", versionCommand},
		{"licences", "print the licence of everything that is in the program", licencesCommand},
	}
}

// errUsage says that the command line was wrong, and that what is wrong was printed already.
var errUsage = errors.New("wrong usage")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	err := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	if err == nil {
		return
	}
	code := 1
	if errors.Is(err, errUsage) {
		code = 2
	} else {
		fmt.Fprintf(os.Stderr, "corymb: %v\n", err)
	}
	if ownWindow() {
		fmt.Fprint(os.Stderr, "\nPress Enter to close this window.")
		_, _ = bufio.NewReader(os.Stdin).ReadString('\n') // whatever comes
	}
	os.Exit(code)
}

func run(ctx context.Context, args []string, out, errs io.Writer) error {
	if len(args) == 0 && webapp.IsRelease() {
		args = []string{"start"}
	}
	if len(args) == 0 {
		usage(errs)
		return errUsage
	}
	name := strings.TrimLeft(args[0], "-") // of these two many expect a flag
	if name == "help" || name == "version" {
		args[0] = name
	}
	if args[0] == "help" || args[0] == "-h" {
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
		fmt.Fprintf(w, "  %-11s %s\n", c.name, c.summary)
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
