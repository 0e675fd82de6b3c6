package backup

import (
	"errors"
	"time"
)

// State is how the backups of a farm stand.
type State struct {
	Folder  string // that was chosen at the shed, empty for none
	On      bool
	Running bool
	Good    *Good // the last good one, nil for none
	There   bool  // it is where it was put, as far as was last looked
	Failure *Failure
	Next    time.Time // zero for never
	Kept    []Kept    // what lies in the folder, the newest first
}

// State looks into the folder, too.
func (n *Nightly) State() State {
	n.mu.Lock()
	folder := n.kept.Folder
	n.mu.Unlock()
	kept, _ := n.folder.list(folder, n.Farm.Farm()) // a folder that is not there holds none, as a failure says
	next := n.next(n.Now())
	n.mu.Lock()
	defer n.mu.Unlock()
	return State{
		Folder: n.kept.Folder, On: n.kept.On, Running: n.running || n.wanted,
		Good: n.kept.Good, There: n.there, Failure: n.kept.Failure, Next: next, Kept: kept,
	}
}

// ErrNoFolder says that no folder was chosen for backups, which is done at the shed.
var ErrNoFolder = errors.New("no folder was chosen for backups: start Corymb in the shed with serve -backups FOLDER")

// MakeNow has a backup made as soon as possible, if Run runs, and does not wait for it. One that is asked
// for while another is under way comes after it, and has what was recorded meanwhile.
func (n *Nightly) MakeNow() error {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.kept.Folder == "" {
		return ErrNoFolder
	}
	n.wanted = true
	select {
	case n.asked <- struct{}{}:
	default:
	}
	return nil
}

// Turn has backups made every night, or not.
func (n *Nightly) Turn(on bool) error {
	n.mu.Lock()
	defer n.mu.Unlock()
	if on && n.kept.Folder == "" {
		return ErrNoFolder
	}
	turned := n.kept
	turned.On = on
	if err := turned.write(n.Farm.Dir()); err != nil {
		return err
	}
	n.kept = turned
	return nil
}
