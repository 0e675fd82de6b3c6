package simnet

import (
	"slices"

	"corymb/syncproto"
)

// device is a phone with its owner, its clock and what it must not lose.
type device struct {
	name   string
	person string
	member string // the device that it joined as
	disk   *Disk
	phone  *Phone // nil while it is off
	wire   *wire
	skew   int64 // of its wall clock, ms
	drift  int64 // thousandths: what the skew grows by a second, in ms

	own    []syncproto.Change         // recorded on this disk; everything is still to be there
	last   syncproto.Stamp            // of the last of them
	told   map[string]syncproto.Stamp // the first order that it was told of each, by facts
	copied bool                       // its disk was copied, or is a copy

	backup *diskCopy
	offAt  int64 // when it was switched off
	away   bool  // where no line is to be had
}

// diskCopy is a copy of a phone's disk.
type diskCopy struct {
	disk *Disk
	own  []syncproto.Change
	last syncproto.Stamp
}

func (d *device) at(now int64) Moment {
	return Moment{Now: now, Wall: now + d.skew + d.drift*(now-startOfTime)/1000}
}

func (d *device) copyDisk() *diskCopy {
	d.copied = true
	return &diskCopy{disk: d.disk.Copy(), own: slices.Clone(d.own), last: d.last}
}

// putIn is the copy as the disk of a device.
func (c *diskCopy) putIn(d *device) {
	d.disk, d.own, d.last, d.copied = c.disk.Copy(), slices.Clone(c.own), c.last, true
}

// boot starts the app. An empty disk that is full keeps it from starting.
func (s *sim) boot(d *device) {
	phone, err := Start(d.disk, d.person, s.newUUID)
	if err != nil {
		return
	}
	phone.faults = s.faults
	d.phone = phone
}

// crash loses what was not stored.
func (s *sim) crash(d *device) {
	if d.wire != nil {
		s.leave(d.wire)
	}
	d.phone = nil
}

// leave lets a phone go of a line. What it had sent may still arrive.
func (s *sim) leave(w *wire) {
	w.device.wire = nil
	w.device = nil
	w.cut = true
	w.down = stream{}
	w.up.underWay = w.up.underWay[:s.upTo(len(w.up.underWay))]
}

// restart boots a phone that is off, if it can be.
func (s *sim) restart(d *device) {
	if d.phone == nil {
		s.boot(d)
		if d.phone != nil {
			s.trace("%s starts as %s", d.name, short(d.disk.kept.Incarnation))
		}
	}
}

func short(incarnation string) string { return incarnation[:min(8, len(incarnation))] }
