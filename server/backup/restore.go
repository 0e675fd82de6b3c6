package backup

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
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
	if dir, err = freePlace(dir); err != nil {
		return m, err
	}
	a, err := open(ctx, from)
	if err != nil {
		return m, err
	}
	defer func() { _ = a.Close() }() // it only read
	unfinished := dir + ".partial"
	if err := makeUnfinished(unfinished); err != nil {
		return m, err
	}
	if err := a.restore(ctx, unfinished, dir, now); err != nil {
		return m, errors.Join(asRestoring(err, dir), os.RemoveAll(unfinished))
	}
	return a.Manifest, nil
}

func makeUnfinished(path string) error {
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		err = os.Mkdir(path, 0o700)
	}
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there, which may be what is left of a restore that was broken off: delete it, or move it away, and restore again", path)
	}
	if err != nil {
		return fmt.Errorf("making a folder to restore into: %w", err)
	}
	return nil
}

// restore writes every file into a folder and then gives that its name.
func (a *archive) restore(ctx context.Context, unfinished, dir string, now func() time.Time) error {
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
	return rename(unfinished, dir)
}

// rename gives a restored folder its name, which an empty folder may have: not every system renames over it.
func rename(unfinished, dir string) error {
	err := removeIfThere(dir)
	if err == nil {
		err = os.Rename(unfinished, dir)
	}
	if err != nil {
		return fmt.Errorf("%w; if %s is the top of a disk, name a folder in it", err, dir)
	}
	return disk.SyncFolder(filepath.Dir(dir))
}

// freePlace is where a farm may be restored to: the folder, behind any link, if it holds nothing.
func freePlace(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	if behind, err := filepath.EvalSymlinks(dir); err == nil {
		dir = behind
	}
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return dir, nil
	case err != nil:
		return "", fmt.Errorf("looking into %s: %w; name an empty folder, or one that is not there yet, with -data", dir, err)
	case len(entries) > 0:
		return "", fmt.Errorf("%s is not empty, and a restore never writes over a farm: move it away, or name another folder with -data", dir)
	}
	return dir, nil
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
