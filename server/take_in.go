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
	"corymb/server/photos"
	"corymb/server/store"
	"corymb/syncproto"
)

// takeInCommand takes files that phones saved, of unsent changes or of photos, in to a farm that nobody serves
// at the moment.
func takeInCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("take-in")
	data := dataFlag(set)
	limits := photoLimits(set)
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
	shed := intake{farm, func() (*photos.Photos, error) { return photos.Open(*data, *limits, time.Now) }, out}
	err = shed.takeIn(ctx, set.Args())
	return errors.Join(err, farm.Close())
}

// intake is where saved files are taken in to.
type intake struct {
	farm   *store.Store
	photos func() (*photos.Photos, error)
	out    io.Writer
}

// savedFile is a file that a phone saved, and that was found to be as phones save it.
type savedFile interface {
	takeInTo(ctx context.Context, shed intake) error
}

// takeIn reads every file before it takes in the first, so that a bad one stops all.
func (shed intake) takeIn(ctx context.Context, paths []string) error {
	files := make([]savedFile, len(paths))
	for i, path := range paths {
		file, err := readSaved(shed.farm.Farm(), path)
		if err != nil {
			return err
		}
		files[i] = file
	}
	for _, file := range files {
		if err := file.takeInTo(ctx, shed); err != nil {
			return err
		}
	}
	return nil
}

// readSaved reads a file of either kind. Which it is shows in its first letters, as in the app: what it is
// called may have changed on its way.
func readSaved(farm, path string) (savedFile, error) {
	first, err := beginningOf(path, len(zipLetters))
	switch {
	case err != nil:
		return nil, fmt.Errorf("reading a file that a phone saved: %w", err)
	case first == zipLetters:
		return readSavedPhotos(path)
	default:
		return readSavedEntries(farm, path)
	}
}

const zipLetters = "PK"

// beginningOf reads the first n bytes of a file, fewer where it has fewer.
func beginningOf(path string, n int) (first string, err error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	text, err := io.ReadAll(io.LimitReader(file, int64(n)))
	return string(text), err
}

// savedEntries is a file of unsent changes.
type savedEntries struct {
	path   string
	unsent changelog.Unsent
}

func readSavedEntries(farm, path string) (savedFile, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading a file of unsent changes: %w", err)
	}
	unsent, err := changelog.ReadUnsent(farm, text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, asSentence(err))
	}
	return savedEntries{path, unsent}, nil
}

func (f savedEntries) takeInTo(ctx context.Context, shed intake) error {
	into := changelog.Intake{Standing: shed.farm.Standing, Append: shed.farm.Append, Rights: changelog.Within(syncproto.Scopes)}
	taken, err := into.TakeIn(ctx, f.unsent)
	if err != nil {
		return notTakenIn(f.path, err)
	}
	tellTakenIn(shed.out, f.path, taken)
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
