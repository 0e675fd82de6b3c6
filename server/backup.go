package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"corymb/server/about"
	"corymb/server/backup"
	"corymb/server/store"
)

// backupCommand makes a backup of a farm that nobody serves at the moment.
func backupCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("backup")
	data := dataFlag(set)
	to := set.String("to", "", "the `folder` to put the backup into, on another disk if there is one")
	if err := parse(set, args); err != nil {
		return err
	}
	if *to == "" {
		return wrongUsage(set, "backup needs a folder: name it with -to")
	}
	if _, err := os.Stat(filepath.Join(*data, store.FileName)); err != nil {
		return fmt.Errorf("there is no farm to back up in %s: name its folder with -data", *data)
	}
	farm, err := store.Open(*data, time.Now)
	var inUse *store.InUse
	if errors.As(err, &inUse) {
		return fmt.Errorf("the farm in %s is being served, and then Corymb makes its backups itself: ask for one on its shed page, or choose where to with serve -backups", *data)
	}
	if err != nil {
		return err
	}
	made, err := backup.Make(ctx, backup.Making{Farm: farm, Folder: *to, Version: about.Version(), Now: time.Now})
	if err = errors.Join(err, farm.Close()); err != nil {
		return err
	}
	tellBackup(out, made)
	return made.NotGone
}

func tellBackup(out io.Writer, made backup.Made) {
	m := made.Manifest
	fmt.Fprintf(out, "%s was written, read back and found good. It holds %s: %d changes, %d files, %d bytes.\n",
		made.Path, called(m), m.Arrival, len(m.Files), made.Size)
	for _, name := range m.Damaged {
		fmt.Fprintf(out, "The photo %s is damaged. It is in the backup as it is; an older one may have it whole.\n", name)
	}
	for _, name := range m.LeftOut {
		fmt.Fprintf(out, "%s lies in the farm's folder and is not in the backup, since it is none of the farm's files.\n", name)
	}
	for _, path := range made.Dropped {
		fmt.Fprintf(out, "%s was deleted: newer ones take its place.\n", path)
	}
}

// called is how a farm is spoken of.
func called(m backup.Manifest) string {
	if m.Name == "" {
		return "a farm without a name"
	}
	return fmt.Sprintf("the farm %q", m.Name)
}

// chooseBackups notes where backups are to be made, if the command line says so, and says how it stands.
func chooseBackups(data, folder string, out io.Writer) error {
	if folder == "" {
		return nil
	}
	if err := backup.Choose(data, folder); err != nil {
		return err
	}
	var problem *backup.Problem
	switch err := backup.Suits(folder, data); {
	case folder == backup.Off:
		fmt.Fprintln(out, "No backups are made from now on.")
	case errors.As(err, &problem):
		fmt.Fprintln(out, problem.Text)
	case err != nil:
		return err
	default:
		fmt.Fprintf(out, "A backup is made in %s every night.\n", folder)
	}
	return nil
}
