package simnet

import "errors"

// ErrFull is what a phone is told whose storage takes nothing more.
var ErrFull = errors.New("storing on the phone: there is no room; nothing of it was kept, make room and record it again")

// Disk is a phone's storage. What is stored is stored whole, or not at all.
type Disk struct {
	// Full makes everything fail that wants to be stored.
	Full bool

	kept Records
}

// NewDisk is an empty one.
func NewDisk() *Disk { return &Disk{} }

// Records reads what is stored. It is not to be altered.
func (d *Disk) Records() *Records { return &d.kept }

// Copy is what a backup, or a clone of the whole phone, takes with it.
func (d *Disk) Copy() *Disk { return &Disk{kept: d.kept.copy()} }

// Evict loses everything, as a browser may that is short of room.
func (d *Disk) Evict() { d.kept = Records{} }

// store lets one transaction write. It must not fail half way.
func (d *Disk) store(write func(*Records)) error {
	if d.Full {
		return ErrFull
	}
	write(&d.kept)
	return nil
}
