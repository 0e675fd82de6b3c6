package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"corymb/server/backup"
)

// restoreCommand makes a farm of a backup, in a folder that holds nothing yet.
func restoreCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("restore")
	from := set.String("from", "", "the backup, a `file` that ends in .zip")
	data := set.String("data", defaultData(), "the `folder` that is to hold the farm: empty, or not there yet")
	if err := parse(set, args); err != nil {
		return err
	}
	if *from == "" {
		return wrongUsage(set, "restore needs a backup: name its file with -from")
	}
	m, err := backup.Restore(ctx, *from, *data, time.Now)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s holds %s as it was on %s, with %d changes.\n", *data, called(m), m.Made.Local().Format("2 January 2006 at 15:04"), m.Arrival)
	fmt.Fprintf(out, "Start it with: corymb start -data %s\n", *data)
	fmt.Fprintln(out, "The phones will read it anew and send again what it lacks. It makes no backups before a folder is chosen with -backups.")
	return nil
}

// verifyBackup reads a backup and says what it holds.
func verifyBackup(ctx context.Context, path string, out io.Writer) error {
	v, err := backup.Verify(ctx, path, time.Now)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "The backup is good. It holds %s as it was on %s: %d changes by %d devices, each there once; %d entities are what they come to; %d files.\n",
		called(v.Manifest), v.Made.Local().Format("2 January 2006 at 15:04"), v.Log.Changes, v.Log.Incarnations, v.Log.Entities, len(v.Files))
	for _, name := range v.Damaged {
		fmt.Fprintf(out, "The photo %s was damaged before. It is in the backup as it was.\n", name)
	}
	return nil
}
