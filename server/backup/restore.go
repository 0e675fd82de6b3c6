package backup

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"corymb/server/disk"
	"corymb/server/store"
)

// Verified is what a backup holds, once all of it was read.
type Verified struct {
	Manifest
	Log store.Verified
}

// Verify reads a backup, compares every byte with what was written, and verifies the database in it, which
// it takes out among the system's temporary files. The error says what is wrong.
func Verify(ctx context.Context, path string, now func() time.Time) (Verified, error) {
	a, err := open(ctx, path)
	if err != nil {
		return Verified{}, err
	}
	defer func() { _ = a.Close() }() // it only read
	found, err := a.checkDatabase(ctx, "", true, now)
	if disk.IsFull(err) {
		err = fmt.Errorf("there is no room in %s to take the database out and look into it: make room, or name another folder in TMPDIR (%w)", os.TempDir(), err)
	}
	return Verified{a.Manifest, found}, err
}

// Restore makes a data folder of a backup. The folder must be empty or absent. All of the backup is read
// and found good before anything is written, and the folder has its name only when it is complete. What
// is restored has no mark, so that its first opening draws a new epoch: the phones then read anew and send
// again what it lacks.
func Restore(ctx context.Context, from, dir string, now func() time.Time) (m Manifest, err error) {
	folder, err := disk.Unmade(dir)
	if err != nil {
		return m, err
	}
	a, err := open(ctx, from)
	if err != nil {
		return m, err
	}
	defer func() { _ = a.Close() }() // it only read
	if err := folder.Make(); err != nil {
		return m, err
	}
	if err := a.restore(ctx, folder, now); err != nil {
		return m, errors.Join(asRestoring(err, folder.Dir), folder.Drop())
	}
	return a.Manifest, nil
}

// restore writes every file into a folder and then gives that its name.
func (a *archive) restore(ctx context.Context, folder disk.NewFolder, now func() time.Time) error {
	unfinished := folder.Unfinished()
	if _, err := a.checkDatabase(ctx, unfinished, false, now); err != nil {
		return err
	}
	folders := map[string]bool{unfinished: true}
	for _, e := range a.Manifest.Files {
		if err := a.extract(ctx, unfinished, e); err != nil {
			return err
		}
		for at := filepath.Join(unfinished, filepath.FromSlash(e.Name)); at != unfinished; {
			at = filepath.Dir(at)
			folders[at] = true
		}
	}
	for folder := range folders {
		if err := disk.SyncFolder(folder); err != nil {
			return err
		}
	}
	return folder.Finish()
}

// asRestoring words what kept a backup from being restored.
func asRestoring(err error, dir string) error {
	if disk.IsFull(err) {
		return fmt.Errorf("there is no room to restore the backup beside %s, so nothing was restored: make room and try again (%w)", dir, err)
	}
	var problem *Problem
	if errors.As(err, &problem) {
		return err
	}
	return fmt.Errorf("restoring into %s: %w; nothing was restored", dir, err)
}
