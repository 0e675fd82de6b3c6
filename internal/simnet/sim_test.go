package simnet

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/uuid"

	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// startOfTime is when every simulation starts, in ms since 1970 UTC: noon of 10 June 2026.
const startOfTime = 1_781_092_800_000

// sim is one simulated farm: phones, lines, the shed, and what goes wrong.
type sim struct {
	joins   int // ids of devices that joined again
	rnd     *rand.Rand
	now     int64 // the true time, ms since 1970 UTC
	devices []*device
	wires   []*wire
	shed    *shed
	ledger  ledger
	door    int64 // no line is had before

	visits   []string // ids
	facted   int64    // changes recorded
	copies   bool     // much is copied and restored
	larges   bool     // operations of more than a frame are many
	hot      bool     // the database is copied while it is served
	restores int
	copied   *shedCopy
	evicted  int // changes that were not settled when a phone lost its storage

	faults faults                      // guards taken out of the phones
	wrap   func(log live.Log) live.Log // takes guards out of the log

	fault string // the first thing that was wrong
	log   *strings.Builder
}

// outcome is what became of a simulation.
type outcome struct {
	fault    string // empty where everything held
	trace    string
	evicted  int
	changes  int64
	restores int
	clones   int
}

// options change a simulation.
type options struct {
	faults faults
	wrap   func(log live.Log) live.Log
	hot    bool // copies of the shed are made while it runs
	traced bool
}

// simulate runs a seed in a folder that holds a copy of an empty database.
func simulate(seed uint64, dir string, o options) outcome {
	s := &sim{rnd: rand.New(rand.NewPCG(seed, 0x636f72796d62)), now: startOfTime, faults: o.faults, wrap: o.wrap}
	if o.traced {
		s.log = &strings.Builder{}
	}
	s.begin(dir)
	s.copies, s.larges = s.rnd.IntN(4) == 0, s.rnd.IntN(50) == 0
	if o.hot {
		s.hot, s.copies = true, true
	}
	if s.rnd.IntN(4) == 0 {
		s.shed.tells = 1 + s.rnd.Int64N(8)
	}
	for range 60 + s.rnd.IntN(160) {
		if s.fault != "" {
			break
		}
		s.step()
	}
	if s.fault == "" {
		s.heal()
	}
	if s.fault == "" {
		s.check()
	}
	s.shed.stop()
	out := outcome{fault: s.fault, evicted: s.evicted, changes: s.facted, restores: s.restores, clones: len(s.devices)}
	if s.log != nil {
		out.trace = s.log.String()
	}
	return out
}

func (s *sim) begin(dir string) {
	s.shed = &shed{sim: s, dir: dir, scopes: map[string][]syncproto.Scope{}}
	s.shed.start()
	for i := range 3 + min(s.rnd.IntN(7), s.rnd.IntN(7)) {
		d := &device{name: fmt.Sprint("phone ", i+1), member: fmt.Sprint("first device ", i), person: fmt.Sprint("person ", i%5), disk: NewDisk(), told: map[string]syncproto.Stamp{}}
		s.shed.scopes[d.person] = syncproto.Scopes
		if s.rnd.IntN(4) == 0 {
			s.wrongClock(d)
		}
		s.devices = append(s.devices, d)
		s.boot(d)
	}
	s.shed.scopes["person 1"] = syncproto.Scopes[:1]
}

// step lets a little time pass, something be recorded, messages travel, and something go wrong.
func (s *sim) step() {
	s.pass()
	if s.rnd.IntN(3) == 0 {
		s.record(s.anyDevice())
	}
	for range s.rnd.IntN(12) {
		s.move()
	}
	if s.rnd.IntN(2) == 0 {
		s.commit()
	}
	if s.rnd.IntN(12) == 0 {
		s.shed.project()
	}
	switch {
	case s.hot && s.rnd.IntN(15) == 0:
		s.copyServed()
	case s.copies && s.rnd.IntN(12) == 0:
		s.copyOrRestore()
	case s.larges && s.rnd.IntN(40) == 0:
		s.large(s.anyDevice())
	case s.rnd.IntN(8) == 0:
		s.goWrong()
	}
}

// pass lets time pass: mostly a moment, now and then so much that lines are given up.
func (s *sim) pass() {
	switch n := s.rnd.IntN(40); {
	case n == 0:
		s.now += s.rnd.Int64N(90_000)
	case n < 8:
		s.now += s.rnd.Int64N(5_000)
	default:
		s.now += s.rnd.Int64N(300)
	}
	for _, d := range s.devices {
		s.tick(d)
	}
	s.sweep()
}

func (s *sim) tick(d *device) {
	p := d.phone
	if p == nil {
		return
	}
	p.Tick(d.at(s.now))
	s.notice(d)
	if !p.Wants(d.at(s.now)) {
		return
	}
	if s.now < s.door || d.away || s.shed.live == nil {
		p.Lost(d.at(s.now))
		return
	}
	w := &wire{device: d, talk: s.shed.live.Begin(memberOf(d.member, s.shed.scopes[d.person])), served: s.shed.lives, restores: s.restores, heardAt: s.now}
	d.wire = w
	s.wires = append(s.wires, w)
	p.Connected(d.at(s.now))
	s.trace("%s connects for %s", d.name, short(p.line.incarnation))
}

// notice closes the line that a phone has let go of.
func (s *sim) notice(d *device) {
	if d.wire != nil && !d.phone.Online() {
		s.trace("%s hangs up", d.name)
		s.leave(d.wire)
	}
}

// sweep forgets lines that nothing can come of any more, and lets the shed give up silent ones.
func (s *sim) sweep() {
	kept := s.wires[:0]
	for _, w := range s.wires {
		if w.talk != nil && (w.served != s.shed.lives || s.shed.live == nil || s.now > w.heardAt+60_000) {
			w.talk = nil
			w.cut = true
		}
		if !w.over() {
			kept = append(kept, w)
		}
	}
	clear(s.wires[len(kept):])
	s.wires = kept
}

// move does one thing on one line.
func (s *sim) move() {
	if len(s.wires) == 0 {
		return
	}
	w := s.wires[s.rnd.IntN(len(s.wires))]
	switch s.rnd.IntN(4) {
	case 0:
		s.phoneSays(w)
	case 1:
		s.shedSays(w)
	case 2:
		s.carryUp(w, s.some(len(w.up.underWay)))
	default:
		s.carryDown(w, s.some(len(w.down.underWay)))
	}
}

// some is how much of n bytes arrives: mostly all.
func (s *sim) some(n int) int {
	if s.rnd.IntN(3) > 0 {
		return n
	}
	return s.upTo(n)
}

// upTo draws evenly from 0 to n, from one draw whatever n is.
func (s *sim) upTo(n int) int { return int(s.rnd.Float64() * float64(n+1)) }

func (s *sim) phoneSays(w *wire) {
	if w.device == nil || w.cut {
		return
	}
	if m, ok := w.device.phone.Say(); ok {
		w.up.send(m)
	}
}

func (s *sim) shedSays(w *wire) {
	if w.talk == nil || w.cut || w.served != s.shed.lives || s.shed.live == nil {
		return
	}
	if m, ok := w.talk.Say(); ok {
		w.down.send(Message(m))
	}
}

func (s *sim) carryUp(w *wire, n int) {
	if s.now < w.stalled || w.talk == nil || w.served != s.shed.lives || s.shed.live == nil || !w.talk.Room() {
		return
	}
	w.up.move(n)
	for {
		m, ok := w.up.receive()
		if !ok {
			return
		}
		w.heardAt = s.now
		w.talk.Hear(live.Message(m))
	}
}

func (s *sim) carryDown(w *wire, n int) {
	if s.now < w.stalled || w.device == nil {
		return
	}
	w.down.move(n)
	for w.device != nil {
		m, ok := w.down.receive()
		if !ok {
			break
		}
		s.hear(w.device, w, m)
	}
	if w.device != nil && w.cut && !w.silent && len(w.down.underWay) == 0 {
		w.device.phone.Lost(w.device.at(s.now))
		s.notice(w.device)
	}
}

func (s *sim) hear(d *device, w *wire, m Message) {
	p := d.phone
	if code := codeOf(m); code != "" {
		s.trace("%s is refused: %s", d.name, m.Data)
		if code != syncproto.CodeBusy && code != syncproto.CodeReused && code != syncproto.CodeGap {
			s.fail("the shed refuses %s: %s", d.name, m.Data)
		}
	}
	before := d.disk.kept.Incarnation
	if w.restores == s.restores { // else the shed that said so was replaced by an older copy
		s.ledger.hear(p, m)
	}
	if err := p.Hear(m, d.at(s.now)); err != nil && !errors.Is(err, ErrFull) {
		s.fail("%s does not understand: %v", d.name, err)
	}
	if !d.copied && !m.Binary {
		d.noteTold()
	}
	if after := d.disk.kept.Incarnation; after != before {
		s.trace("%s becomes %s", d.name, short(after))
	}
	if !m.Binary {
		s.trace("%s hears %s", d.name, m.Data[:min(300, len(m.Data))])
	} else {
		s.trace("%s hears news, reads to %d", d.name, d.disk.kept.reading().arrival())
	}
	s.notice(d)
}

func (r *Reading) arrival() int64 {
	if r.Cursor == nil {
		return 0
	}
	return r.Cursor.Arrival
}

func (s *sim) commit() {
	if s.shed.live != nil {
		s.shed.live.Commit()
	}
}

func (s *sim) anyDevice() *device { return s.devices[s.rnd.IntN(len(s.devices))] }

func (s *sim) newUUID() uuid.UUID {
	var id uuid.UUID
	for i := range id {
		id[i] = byte(s.rnd.Uint32())
	}
	id[6], id[8] = id[6]&0x0f|0x40, id[8]&0x3f|0x80
	return id
}

func (s *sim) fail(format string, args ...any) {
	if s.fault == "" {
		s.fault = fmt.Sprintf(format, args...)
		s.trace("WRONG: %s", s.fault)
	}
}

func (s *sim) trace(format string, args ...any) {
	if s.log != nil {
		fmt.Fprintf(s.log, "%10.3f  %s\n", float64(s.now-startOfTime)/1000, fmt.Sprintf(format, args...))
	}
}

// emptyFolder makes a data folder with an empty farm, to be copied for each simulation.
func emptyFolder(dir string) error {
	var s sim
	s.now = startOfTime
	opened, err := store.OpenStill(dir, (&shed{sim: &s}).now)
	if err != nil {
		return err
	}
	return opened.Close()
}

func copyFolder(to, from string) error {
	for _, name := range []string{store.FileName, markName} {
		data, err := os.ReadFile(filepath.Join(from, name))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, name), data, 0o600); err != nil {
			return err
		}
	}
	return nil
}
