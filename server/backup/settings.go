package backup

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"corymb/server/disk"
)

// settings are what backup.json in the data folder holds: what was chosen, and how it went.
type settings struct {
	Folder  string   `json:"folder"` // empty where none was chosen
	On      bool     `json:"on"`
	Good    *Good    `json:"good,omitempty"`
	Failure *Failure `json:"failure,omitempty"` // after the last good one
}

// Good is a backup that was read back and found good.
type Good struct {
	Path    string    `json:"path"`
	Size    int64     `json:"size"`
	Made    time.Time `json:"made"`
	Epoch   string    `json:"epoch"`
	Life    string    `json:"life"`
	Arrival int64     `json:"arrival"` // of the last change in it
	Damaged int       `json:"damaged,omitempty"`
	LeftOut []string  `json:"left_out,omitempty"`
}

// Failure is a try that came to nothing.
type Failure struct {
	When time.Time `json:"when"`
	Code Code      `json:"code"`
	Text string    `json:"text"`
}

func readSettings(data string) (settings, error) {
	var s settings
	path := filepath.Join(data, settingsName)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err == nil {
		err = json.Unmarshal(text, &s)
	}
	if err != nil {
		return s, fmt.Errorf("reading which backups are made, %s: %w; delete the file, and choose the folder anew with -backups", path, err)
	}
	return s, nil
}

// write puts the file in the place of the one before, whole or not at all.
func (s settings) write(data string) (err error) {
	text, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		return err
	}
	path := filepath.Join(data, settingsName)
	file, err := os.OpenFile(path+".partial", os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return fmt.Errorf("noting how backups stand: %w", err)
	}
	_, err = file.Write(append(text, '\n'))
	if err = errors.Join(err, file.Sync(), file.Close()); err == nil {
		err = os.Rename(file.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("noting how backups stand: %w", errors.Join(err, removeIfThere(file.Name())))
	}
	return disk.SyncFolder(data)
}

// Off is what Choose takes for no backups.
const Off = "off"

// Choose notes in a data folder which folder backups are to be made in, or that none are to be made. A
// folder that is not there may be that of a disk which is not plugged in: it is chosen all the same. It is
// for whoever sits at the shed: a stolen phone must not have the shed write where it likes.
func Choose(data, folder string) error {
	s, err := readSettings(data)
	if err != nil {
		return err
	}
	if folder == Off {
		s.On = false
		return s.write(data)
	}
	if folder, err = filepath.Abs(folder); err != nil {
		return fmt.Errorf("choosing %s for backups: %w", folder, err)
	}
	var problem *Problem
	if err := Suits(folder, data); errors.As(err, &problem) && problem.Code != CodeNoFolder {
		return problem
	}
	s.Folder, s.On, s.Failure = folder, true, nil
	return s.write(data)
}
