package simnet

import (
	"fmt"
	"slices"

	"corymb/syncproto"
)

const (
	year1970 = 86_400_000 // a day into it
	year2099 = 4_070_908_800_000
)

// goWrong lets one thing go wrong, or one that was wrong be well again.
func (s *sim) goWrong() {
	d := s.anyDevice()
	switch n := s.rnd.IntN(100); {
	case n < 22:
		s.cut()
	case n < 30:
		s.stall()
	case n < 38:
		s.wrongClock(d)
	case n < 48:
		s.togglePhone(d)
	case n < 60:
		s.toggleShed()
	case n < 66:
		d.disk.Full = !d.disk.Full
		s.trace("the disk of %s is full: %v", d.name, d.disk.Full)
	case n < 72:
		s.shed.full = !s.shed.full
		s.trace("the disk of the shed is full: %v", s.shed.full)
	case n < 75:
		s.shed.sick = !s.shed.sick
		s.trace("the shed cannot read: %v", s.shed.sick)
	case n < 78:
		s.door = s.now + s.rnd.Int64N(60_000)
		s.trace("the door is closed for %d ms", s.door-s.now)
	case n < 81:
		if s.rnd.IntN(3) == 0 {
			s.joinAgain(d)
		} else {
			s.changeScopes(d)
		}
	case n < 84:
		s.evict(d)
	case n < 88:
		s.clone(d)
	case n < 92:
		s.restorePhone(d)
	case n < 97:
		s.restoreShed()
	case n < 98:
		if s.rnd.IntN(12) == 0 {
			s.large(d)
		}
	default:
		if d.phone != nil {
			d.phone.Wake(d.at(s.now), false)
		}
	}
}

// copyOrRestore copies something, or puts a copy in the place of what has gone on since.
func (s *sim) copyOrRestore() {
	switch d := s.anyDevice(); s.rnd.IntN(5) {
	case 0:
		s.clone(d)
	case 1:
		s.restorePhone(d)
	case 2:
		s.restoreShed()
	default:
		s.toggleShed()
	}
}

// cut breaks a line, at any byte of what is under way.
func (s *sim) cut() {
	if len(s.wires) == 0 {
		return
	}
	w := s.wires[s.rnd.IntN(len(s.wires))]
	n, m := s.upTo(len(w.up.underWay)), s.upTo(len(w.down.underWay))
	w.breakOff(n, m, s.rnd.IntN(3) == 0)
	s.trace("a line breaks, %d bytes up and %d down arrive", n, m)
}

func (s *sim) stall() {
	if len(s.wires) == 0 {
		return
	}
	w := s.wires[s.rnd.IntN(len(s.wires))]
	w.stalled = s.now + s.rnd.Int64N(40_000)
}

// wrongClock moves a wall clock: back to 1970, far ahead, a jump either way, a drift; or sets it.
func (s *sim) wrongClock(d *device) {
	d.drift = 0
	switch s.rnd.IntN(7) {
	case 0:
		d.skew = year1970 - s.now
	case 1:
		d.skew = year2099 - s.now
	case 2:
		d.skew += s.rnd.Int64N(7_200_000) - 3_600_000
	case 3:
		d.skew += s.rnd.Int64N(200_000) - 100_000
	case 4:
		d.drift = s.rnd.Int64N(200) - 100
	case 5:
		s.shed.skew, s.shed.wasWrong = s.rnd.Int64N(600_000)-300_000, true
		s.trace("the clock of the shed is %d ms wrong", s.shed.skew)
		return
	default:
		d.skew = 0
	}
	s.trace("the clock of %s is %d ms wrong, drifting by %d", d.name, d.skew, d.drift)
}

func (s *sim) togglePhone(d *device) {
	if d.phone == nil {
		s.restart(d)
		return
	}
	s.trace("%s dies", d.name)
	s.crash(d)
	if s.rnd.IntN(2) == 0 {
		s.restart(d)
	}
}

// toggleShed kills the shed, or starts it.
func (s *sim) toggleShed() {
	if s.shed.live == nil {
		s.shed.start()
		return
	}
	s.killShed()
	if !s.hot && s.rnd.IntN(3) == 0 {
		s.copied = s.shed.backup()
		s.trace("the data folder is copied")
	}
	if s.rnd.IntN(2) == 0 {
		s.shed.start()
	}
}

// killShed ends the shed's process. What it had sent may still arrive.
func (s *sim) killShed() {
	s.shed.stop()
	for _, w := range s.wires {
		if w.talk != nil && !w.cut {
			w.breakOff(0, s.upTo(len(w.down.underWay)), s.rnd.IntN(4) == 0)
		}
	}
	s.sweep()
}

func (s *sim) restoreShed() {
	if s.copied == nil {
		return
	}
	s.killShed()
	mark := []string{"kept", "lost", "older"}[s.rnd.IntN(3)]
	s.shed.restore(s.copied, mark)
	s.trace("the data folder is restored, its mark %s", mark)
	s.shed.start()
}

func (s *sim) changeScopes(d *device) {
	scopes := [][]syncproto.Scope{syncproto.Scopes[:1], syncproto.Scopes[:2], syncproto.Scopes}[s.rnd.IntN(3)]
	s.shed.scopes[d.person] = scopes
	s.trace("%s may read %v", d.person, scopes)
}

// joinAgain gives a phone the id of another device, as it gets where its token was lost, and hangs up.
func (s *sim) joinAgain(d *device) {
	s.joins++
	d.member = fmt.Sprint("device ", s.joins)
	s.trace("%s joins again, as %s", d.name, d.member)
	if d.wire != nil {
		d.wire.cut = true
	}
}

// evict loses a phone's storage, which is reported.
func (s *sim) evict(d *device) {
	for incarnation, log := range d.disk.kept.Logs {
		for _, o := range log.beyond(log.Settled) {
			if !o.Moved {
				s.evicted += len(o.Changes)
				s.trace("evicted from %s before they were settled: %s %d to %d", d.name, short(incarnation), o.first(), o.last())
			}
		}
	}
	s.trace("%s loses its storage", d.name)
	s.crash(d)
	d.disk.Evict()
	d.own, d.last, d.backup = nil, syncproto.Stamp{}, nil
	s.restart(d)
}

// clone starts a copy of a phone's disk on another phone.
func (s *sim) clone(d *device) {
	if len(s.devices) >= 12 {
		return
	}
	copied := &device{name: fmt.Sprint("phone ", len(s.devices)+1), person: d.person, member: d.member, skew: d.skew}
	d.copyDisk().putIn(copied)
	s.devices = append(s.devices, copied)
	s.trace("%s is a clone of %s", copied.name, d.name)
	s.restart(copied)
}

// restorePhone copies a phone's disk, or puts the copy back.
func (s *sim) restorePhone(d *device) {
	if d.backup == nil {
		d.backup = d.copyDisk()
		s.trace("%s is backed up", d.name)
		return
	}
	s.crash(d)
	d.backup.putIn(d)
	s.trace("%s is put back to its backup", d.name)
	s.restart(d)
}

// heal ends all faults and lets time run until everybody is quiet, then a while longer.
func (s *sim) heal() {
	s.trace("all is well again")
	s.door, s.shed.full, s.shed.sick = 0, false, false
	if s.shed.live == nil {
		s.shed.start()
	}
	for _, d := range s.devices {
		d.disk.Full = false
		s.restart(d)
	}
	const step, longest, quiet = 1_000, 30 * 60_000, 45_000
	s.shed.project()
	since := s.now
	for end := s.now + longest; s.now < end && s.fault == ""; s.now += step {
		s.settleDown()
		if !s.isQuiet() {
			since = s.now
		}
		if s.now-since >= quiet {
			return
		}
	}
	s.fail("not quiet after %d minutes: %s", longest/60_000, s.whoIsNot())
}

// settleDown lets everything that can be said be said and heard.
func (s *sim) settleDown() {
	for _, d := range s.devices {
		s.tick(d)
	}
	s.sweep()
	for moved := true; moved && s.fault == ""; {
		for _, w := range slices.Clone(s.wires) {
			s.phoneSays(w)
			s.carryUp(w, len(w.up.underWay))
		}
		s.commit()
		moved = false
		for _, w := range slices.Clone(s.wires) {
			s.shedSays(w)
			moved = moved || len(w.down.underWay) > 0 && s.now >= w.stalled && w.device != nil
			s.carryDown(w, len(w.down.underWay))
		}
		for _, d := range s.devices {
			s.tick(d)
		}
		s.sweep()
	}
}
