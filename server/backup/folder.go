package backup

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// Suits tells whether backups of the farm in a data folder may be put into another folder, which must be
// there: the folder of a disk that is not plugged in is not made, or backups would fill the wrong disk.
// The error is a *Problem.
func Suits(folder, data string) error {
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return &Problem{CodeNoFolder, fmt.Sprintf("The folder for backups, %s, is not there. If it is on a disk that is not plugged in, plug it in; the next try is within the hour. The backups that were made are safe where they are.", folder), err}
	}
	inside, err := isInside(folder, data)
	if err != nil {
		return err
	}
	if inside {
		return &Problem{Code: CodeInside, Text: fmt.Sprintf("The folder for backups, %s, lies in the farm's own, %s, and would be lost with it. Choose one elsewhere, on another disk if there is one.", folder, data)}
	}
	return nil
}

// isInside compares folders themselves, since one may have many names.
func isInside(folder, data string) (bool, error) {
	own, err := os.Stat(data)
	if err != nil {
		return false, err
	}
	at, err := filepath.Abs(folder)
	if err == nil {
		at, err = filepath.EvalSymlinks(at)
	}
	if err != nil {
		return false, err
	}
	for {
		info, err := os.Stat(at)
		if err != nil {
			return false, err
		}
		if os.SameFile(info, own) {
			return true, nil
		}
		up := filepath.Dir(at)
		if up == at {
			return false, nil
		}
		at = up
	}
}

// Kept is a backup in a folder.
type Kept struct {
	File string // its name in the folder
	Size int64
	Made time.Time
}

// List finds the backups of a farm in a folder, by their names and by what is in them, the newest first.
// It does not read them through.
func List(folder, farm string) ([]Kept, error) { return new(catalogue).list(folder, farm) }

// catalogue remembers what it found in backups that are still as they were.
type catalogue struct {
	mu   sync.Mutex
	seen map[seenFile]Kept
}

type seenFile struct {
	path string
	size int64
	at   time.Time
}

func (c *catalogue) list(folder, farm string) ([]Kept, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("looking for backups in %s: %w", folder, err)
	}
	before := c.seen
	c.seen = map[seenFile]Kept{}
	var found []Kept
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !ours.MatchString(e.Name()) || !info.Mode().IsRegular() {
			continue // it went away, or was never one
		}
		file := seenFile{filepath.Join(folder, e.Name()), info.Size(), info.ModTime()}
		kept, is := before[file]
		if !is {
			kept, is = lookInto(folder, e.Name(), farm)
		}
		if is {
			c.seen[file] = kept
			found = append(found, kept)
		}
	}
	slices.SortStableFunc(found, func(a, b Kept) int { return b.Made.Compare(a.Made) })
	return found, nil
}

// lookInto reads the manifest of a backup. What cannot be read, or is another farm's, is none of ours.
func lookInto(folder, name, farm string) (k Kept, is bool) {
	file, err := os.Open(filepath.Join(folder, name))
	if err != nil {
		return k, false
	}
	defer func() { _ = file.Close() }() // it only read
	info, err := file.Stat()
	if err != nil {
		return k, false
	}
	m, _, err := contents(file, info.Size())
	if err != nil || m.Farm != farm {
		return k, false
	}
	return Kept{File: name, Size: info.Size(), Made: m.Made}, true
}

// sweep deletes the backups of a farm that are not to be kept any longer, never the one that was just made.
func sweep(folder, farm, made string, now time.Time) (dropped []string, err error) {
	found, err := List(folder, farm)
	if err != nil {
		return nil, err
	}
	times := make([]time.Time, len(found))
	for i, k := range found {
		times[i] = k.Made
	}
	_, drop := Keep(times, now)
	var failed []error
	for _, i := range drop {
		path := filepath.Join(folder, found[i].File)
		if path == made {
			continue
		}
		if err := os.Remove(path); err != nil {
			failed = append(failed, fmt.Errorf("deleting a backup that is not to be kept any longer: %w", err))
			continue
		}
		dropped = append(dropped, path)
	}
	return dropped, errors.Join(failed...)
}
