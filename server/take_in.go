package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// takeInCommand takes files of unsent changes in to a farm that nobody serves at the moment.
func takeInCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("take-in")
	data := dataFlag(set)
	set.Usage = func() {
		fmt.Fprintln(set.Output(), "usage: corymb take-in [-data folder] FILE...")
		set.PrintDefaults()
	}
	if err := set.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return err
		}
		return errUsage
	}
	if set.NArg() == 0 {
		return wrongUsage(set, "take-in needs the files that phones saved")
	}
	if _, err := os.Stat(filepath.Join(*data, store.FileName)); err != nil {
		return fmt.Errorf("there is no farm in %s: name its folder with -data", *data)
	}
	farm, err := store.Open(*data, time.Now)
	if err != nil {
		return err
	}
	err = takeIn(ctx, farm, set.Args(), out)
	return errors.Join(err, farm.Close())
}

// takeIn reads every file before it takes in the first, so that a bad one stops all.
func takeIn(ctx context.Context, farm *store.Store, paths []string, out io.Writer) error {
	files := make([]changelog.Unsent, len(paths))
	for i, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			return fmt.Errorf("reading a file of unsent changes: %w", err)
		}
		if files[i], err = changelog.ReadUnsent(farm.Farm(), text); err != nil {
			return fmt.Errorf("%s: %w", path, asSentence(err))
		}
	}
	intake := changelog.Intake{Standing: farm.Standing, Append: farm.Append, Rights: changelog.Within(syncproto.Scopes)}
	for i, file := range files {
		taken, err := intake.TakeIn(ctx, file)
		if err != nil {
			return notTakenIn(paths[i], err)
		}
		tellTakenIn(out, paths[i], taken)
	}
	return nil
}

// notTakenIn says what kept a file from being taken in whole. What may be mended can be tried again:
// the disk, say, or the database, which an error of the store tells. A file that breaks the protocol
// does so every time.
func notTakenIn(path string, err error) error {
	var breach *syncproto.Breach
	if !errors.As(err, &breach) {
		return fmt.Errorf("%s was not taken in whole. What was taken in is safe. Once the cause is mended, read the file in again: nothing counts twice. The cause: %w", path, err)
	}
	return fmt.Errorf("%s was not taken in whole, for something in it cannot be stored. What was taken in is safe. Keep the file and leave the phone as it is, and show this to whoever looks after Corymb: %s (%s)",
		path, breach.Text, breach.Code)
}

// asSentence leaves the code of a breach out: it is for phones.
func asSentence(err error) error {
	var breach *syncproto.Breach
	if errors.As(err, &breach) {
		return errors.New(breach.Text)
	}
	return err
}

func tellTakenIn(out io.Writer, path string, taken changelog.Taken) {
	fmt.Fprintf(out, "%s: %d changes are new to the farm and are stored, %d were there already, %d were refused.\n",
		path, taken.Kept, taken.Already, len(taken.Refused))
	for _, r := range taken.Refused {
		fmt.Fprintf(out, "  change %d was refused: %s\n", r.Seq, r.Text)
	}
}
