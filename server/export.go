package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"corymb/server/export"
	"corymb/server/store"
)

// exportCommand writes a farm that nobody serves at the moment into one file that other programs can read.
func exportCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("export")
	data := dataFlag(set)
	to := set.String("out", "", "the `file` to write, which ends in .zip and is not there yet")
	if err := parse(set, args); err != nil {
		return err
	}
	if *to == "" {
		return wrongUsage(set, "export needs a place to write to: name it with -out")
	}
	if _, err := os.Stat(filepath.Join(*data, store.FileName)); err != nil {
		return fmt.Errorf("there is no farm to export in %s: name its folder with -data", *data)
	}
	farm, err := store.Open(*data, time.Now)
	var inUse *store.InUse
	if errors.As(err, &inUse) {
		return fmt.Errorf("the farm in %s is being served: export it on its shed page, or stop Corymb there first", *data)
	}
	if err != nil {
		return err
	}
	err = exportTo(ctx, farm, *to, out)
	return errors.Join(err, farm.Close())
}

// exportTo writes a file that has its name only when it is whole.
func exportTo(ctx context.Context, farm *store.Store, path string, out io.Writer) error {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s is there already, and nothing is written over it: name another file with -out", path)
	}
	unfinished := path + ".partial"
	told, err := writeExport(ctx, farm, unfinished)
	if err == nil {
		err = os.Rename(unfinished, path)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("exporting to %s: %w", path, err), removeIfThere(unfinished))
	}
	fmt.Fprintf(out, "%s holds the farm's %d changes and %d photos. Make a farm of it with: corymb import -data FOLDER -from %s\n", path, told.Changes, told.Photos, path)
	for _, name := range told.Damaged {
		fmt.Fprintf(out, "The photo %s is damaged. It is in the file as it is; a backup may have it whole.\n", name)
	}
	return nil
}

func writeExport(ctx context.Context, farm *store.Store, path string) (told export.Told, err error) {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return told, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if told, err = export.Write(ctx, farm, file); err != nil {
		return told, err
	}
	return told, file.Sync()
}

// export writes the farm that is being served.
func (s *server) export(ctx context.Context, to io.Writer) error {
	told, err := export.Write(ctx, s.farm, to)
	if err == nil && len(told.Damaged) > 0 {
		s.logger.Warn("an export holds damaged photos as they are", "photos", told.Damaged)
	}
	return err
}

func removeIfThere(path string) error {
	if err := os.Remove(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// importExport makes a farm of an export, in a folder that holds nothing yet.
func importExport(ctx context.Context, from, data string, out io.Writer) error {
	told, err := export.Read(ctx, from, data, time.Now)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s holds the farm that was exported: %d changes and %d photos.\n", data, told.Changes, told.Photos)
	fmt.Fprintf(out, "Start it with: corymb start -data %s\n", data)
	fmt.Fprintln(out, "Nobody has joined it yet: an export holds no keys. Each phone joins with a new code, and sends again what the farm lacks.")
	return nil
}
