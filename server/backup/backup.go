// Package backup writes a farm into one file while it is served, reads that back, keeps as many as a plain
// rule says, and makes a farm of one again.
package backup

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/disk"
	"corymb/server/store"
)

// Making says what a backup is made of, and where.
type Making struct {
	Farm    *store.Store // open
	Folder  string       // which is there
	Version string       // of this program
	Now     func() time.Time
}

// Made is a backup that was read back and found good.
type Made struct {
	Path     string
	Size     int64
	Manifest Manifest
	Dropped  []string // paths of older ones, which were not to be kept any longer
	NotGone  error    // why one of those could not be deleted
}

// Make makes a backup, reads all of it back, and only then gives it its name; then older ones go, by the
// rule of Keep. Nothing else in the folder is touched. It takes the room of a whole farm there, and that of
// the database in the data folder meanwhile. The error is a *Problem, unless the context ended.
func Make(ctx context.Context, m Making) (Made, error) {
	made, err := m.make(ctx)
	if err != nil && ctx.Err() != nil {
		return made, fmt.Errorf("making a backup: %w", ctx.Err())
	}
	return made, asProblem(err, m.Folder)
}

func (m Making) make(ctx context.Context) (made Made, err error) {
	if err := Suits(m.Folder, m.Farm.Dir()); err != nil {
		return made, err
	}
	name, err := m.farmName(ctx)
	if err != nil {
		return made, err
	}
	scratch := filepath.Join(m.Farm.Dir(), scratchName)
	if err := freshFolder(scratch); err != nil {
		return made, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(scratch)) }()

	unfinished := filepath.Join(m.Folder, unfinishedName(m.Farm))
	defer func() { err = errors.Join(err, removeIfThere(unfinished)) }()
	written, err := m.write(ctx, unfinished, scratch, name)
	if err != nil {
		return made, err
	}
	if err := readBack(ctx, unfinished, written, scratch, m.Now); err != nil {
		return made, m.keepFaulty(err, unfinished, written)
	}
	made.Manifest = written
	if made.Path, made.Size, err = publish(unfinished, m.Folder, nameOf(written, m.Now().Location())); err != nil {
		return made, err
	}
	made.Dropped, made.NotGone = sweep(m.Folder, m.Farm.Farm(), made.Path, m.Now())
	return made, nil
}

func (m Making) farmName(ctx context.Context) (string, error) {
	id := m.Farm.Farm()
	state, err := m.Farm.Entity(ctx, farm.TypeFarm, id)
	if err != nil {
		return "", err
	}
	return farm.Read(crop.FarmID(id), state).Name, nil
}

// write makes the file and waits until the disk has it.
func (m Making) write(ctx context.Context, path, scratch, name string) (written Manifest, err error) {
	database := filepath.Join(scratch, store.FileName)
	held, err := m.Farm.CopyTo(ctx, database)
	if err != nil {
		return written, &Problem{Code: CodeCopy, Text: "The database could not be copied for a backup. What is recorded is safe, and the backups before are too.", cause: err}
	}
	begun := Manifest{
		Format: format, Farm: held.Farm, Name: name, Made: m.Now().UTC().Truncate(time.Second), Version: m.Version,
		Epoch: held.Epoch, Life: held.Life, Arrival: held.Arrival,
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return written, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if written, err = writeAll(ctx, file, begun, m.Farm.Dir(), database); err != nil {
		return written, err
	}
	if err := file.Sync(); err != nil {
		return written, err
	}
	letGoOfCached(file)
	return written, os.Remove(database) // its room is needed to read it back
}

// readBack compares what lies on the disk with what was to be written, and looks into the database.
func readBack(ctx context.Context, path string, written Manifest, scratch string, now func() time.Time) error {
	a, err := open(ctx, path)
	if err != nil {
		return err
	}
	defer func() { _ = a.Close() }() // it only read
	if !a.Manifest.equal(written) {
		return &Problem{Code: CodeBad, Text: "The list of what the backup holds does not read back as it was written."}
	}
	_, err = a.checkDatabase(ctx, scratch, false, now)
	return err
}

// keepFaulty keeps a backup of a database that has faults, under a name that says so, in the place of the
// last such: if worse comes, it is better than none. It never counts as good and never makes another go.
func (m Making) keepFaulty(found error, unfinished string, written Manifest) error {
	var problem *Problem
	if !errors.As(found, &problem) || problem.Code != CodeFaults {
		return found
	}
	path := filepath.Join(m.Folder, faultyName(written))
	if err := errors.Join(os.Rename(unfinished, path), disk.SyncFolder(m.Folder)); err != nil {
		return errors.Join(found, err)
	}
	problem.Text += " This backup is kept as " + path + ", but it does not count."
	return problem
}

// publish gives a backup a name that no other file has.
func publish(unfinished, folder, name string) (path string, size int64, err error) {
	info, err := os.Stat(unfinished)
	if err != nil {
		return "", 0, err
	}
	for n := 1; ; n++ {
		path = filepath.Join(folder, numbered(name, n))
		if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
			break
		} else if err != nil {
			return "", 0, err
		}
	}
	if err := os.Rename(unfinished, path); err != nil {
		return "", 0, err
	}
	return path, info.Size(), disk.SyncFolder(folder)
}

// freshFolder makes an empty folder in the place of what an earlier run left.
func freshFolder(path string) error {
	if err := os.RemoveAll(path); err != nil {
		return err
	}
	return os.Mkdir(path, 0o700)
}

func removeIfThere(path string) error {
	if err := os.Remove(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
