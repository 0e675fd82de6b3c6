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

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/tables"
	"corymb/server/export"
	"corymb/server/store"
)

// exportCommand writes a farm that nobody serves at the moment into one file that other programs can read, or its tables
// into a folder.
func exportCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("export")
	data := dataFlag(set)
	to := set.String("out", "", "the `file` to write, which ends in .zip and is not there yet; with -csv a folder, empty or not there yet")
	asCSV := set.Bool("csv", false, "write every table as a CSV file for spreadsheets; such files cannot be made a farm again")
	lang := set.String("lang", string(tables.English), "with -csv, the `language` of headings: en, with commas between cells, or es, with semicolons and decimal commas")
	if err := parse(set, args); err != nil {
		return err
	}
	if *to == "" {
		return wrongUsage(set, "export needs a place to write to: name it with -out")
	}
	language := tables.Language(*lang)
	if language != tables.English && language != tables.Spanish {
		return wrongUsage(set, "the language is en or es, not %q", *lang)
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
	if *asCSV {
		err = exportTables(ctx, farm, *to, language, out)
	} else {
		err = exportTo(ctx, farm, *to, out)
	}
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

// exportTables writes a CSV file for each table.
func exportTables(ctx context.Context, s *store.Store, folder string, l tables.Language, out io.Writer) error {
	state, _, err := s.State(ctx)
	if err != nil {
		return err
	}
	if there, err := os.ReadDir(folder); err == nil && len(there) > 0 {
		return fmt.Errorf("%s is not empty, and nothing is written over: name another folder with -out", folder)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("making a folder for the tables: %w", err)
	}
	all := tables.Of(farm.Read(crop.FarmID(s.Farm()), state), state, crop.DateOf(time.Now()))
	for _, t := range all {
		if err := writeTable(t, filepath.Join(folder, t.FileName(l)), l); err != nil {
			return fmt.Errorf("writing the table %s: %w", t.Name.English, err)
		}
	}
	fmt.Fprintf(out, "%s holds %d tables.\n", folder, len(all))
	return nil
}

func writeTable(t tables.Table, path string, l tables.Language) (err error) {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	return t.WriteCSV(file, l)
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
