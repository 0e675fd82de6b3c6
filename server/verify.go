package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"corymb/server/store"
)

// verifyCommand compares a farm's log with what was made from it, or does so with a backup after reading
// it through. It fails if they differ.
func verifyCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("verify")
	data := dataFlag(set)
	rebuild := set.Bool("rebuild", false, "first make the merge state anew from the log")
	file := set.String("backup", "", "a `file` to verify in place of a farm's folder")
	if err := parse(set, args); err != nil {
		return err
	}
	if *file != "" && *rebuild {
		return wrongUsage(set, "a backup is never altered: restore it, and use -rebuild on the farm")
	}
	if *file != "" {
		return verifyBackup(ctx, *file, out)
	}
	if _, err := os.Stat(filepath.Join(*data, store.FileName)); err != nil {
		return fmt.Errorf("there is no farm to verify in %s: name its folder with -data", *data)
	}
	farm, err := store.Open(*data, time.Now)
	if err != nil {
		return err
	}
	if *rebuild {
		err = farm.Rebuild(ctx)
	}
	var found store.Verified
	if err == nil {
		found, err = farm.Verify(ctx)
	}
	if err = errors.Join(err, farm.Close()); err != nil {
		return err
	}
	for _, fault := range found.Faults {
		fmt.Fprintln(out, fault)
	}
	if len(found.Faults) > 0 {
		return fmt.Errorf("%d faults were found in %s: keep a copy of it, then try verify -rebuild; if faults remain, put the newest backup in its place", len(found.Faults), *data)
	}
	fmt.Fprintf(out, "All is well: %d changes by %d devices, each there once; %d entities are what they come to.\n",
		found.Changes, found.Incarnations, found.Entities)
	return nil
}
