// Package simnet is the reference client of syncproto as a machine without socket, timer or thread,
// and the simulation of farms of such phones around the real server. Only tests import it.
package simnet

import (
	"fmt"
	"slices"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Moment is a time by two clocks: Now never goes back and drives the waiting; Wall is the phone's
// own date, which may be wrong. Both in milliseconds, Wall since 1970 UTC.
type Moment struct {
	Now  int64
	Wall int64
}

// Message is one websocket message, either way.
type Message struct {
	Binary bool
	Data   []byte
}

// Phone is a client of one shed. What it must not lose lies on its Disk; the rest a crash may take:
// start another Phone on the same Disk. It is not safe for concurrent use.
//
// Whoever drives it dials whenever Wants says so, tells it Connected, passes messages both ways by
// Hear and Say, lets it Tick, and tells it when the line was Lost. Once Online is false the phone has
// let go of the line, which is then to be closed.
type Phone struct {
	disk   *Disk
	person string
	newID  func() uuid.UUID
	faults faults

	line    *line
	retryAt int64 // when to dial next
	wait    int64 // after the next failure
	fillAt  int64 // a former incarnation is not filled before
	toFill  bool  // the next line is for a former incarnation
	// A shed that follows no past at all, or calls each reused, must not be asked again and again.
	unprovenBefore, reusedBefore bool
	refusal                      syncproto.Code

	shown  *changelog.State          // what State last made, nil where something changed since
	counts map[cell]syncproto.Change // the phone's own last count of each cell
}

// faults take a guard each out of the phone. The tests of the simulation see it fail without.
type faults struct {
	forgetsUnproven bool // takes a new incarnation without saying again what was not settled
	namesNoFormer   bool // says again without the identity under which it was first framed
	prunes          bool // lets go of what is under way when the line breaks
	ignoresOrders   bool // takes its own stamp for the order, whatever the shed says
	movesCursor     bool // moves the cursor before the news that it stands for is stored
	countsAsAnother bool // counts on in a cell without the identity that it counted under before
	hearsNoClock    bool // does not feed its clock with what it is told
}

// cell is a count cell of an entity.
type cell struct{ entity, id, field string }

// Start starts the app on a disk, for a person, who may be nobody (""). newID draws UUIDs of version
// 4. It fails where an empty disk takes nothing.
func Start(disk *Disk, person string, newID func() uuid.UUID) (*Phone, error) {
	p := &Phone{disk: disk, person: person, newID: newID, wait: firstWait}
	if disk.kept.Incarnation == "" {
		device, incarnation := newID().String(), newID().String()
		if err := disk.store(func(r *Records) { r.begin(device, incarnation) }); err != nil {
			return nil, fmt.Errorf("starting on an empty phone: %w", err)
		}
	}
	p.toFill = len(disk.kept.Fill) > 0
	return p, nil
}

// Records is what the phone keeps, to be read only.
func (p *Phone) Records() *Records { return &p.disk.kept }

// Record says facts as one operation: once it returns without an error they are safe on the disk.
// origins tell what their ids were derived from and may be nil.
func (p *Phone) Record(at Moment, origins map[string]syncproto.Origin, facts ...changelog.Fact) ([]syncproto.Change, error) {
	r := p.Records()
	log := r.current()
	recorder := changelog.Recorder{Incarnation: r.Incarnation, Person: p.person, Seq: log.Last(), Clock: r.Clock}
	for i := range facts {
		facts[i] = p.withFormer(facts[i])
	}
	o := Operation{Changes: recorder.Operation(at.Wall, facts...), Origins: origins}
	o.Fates = slices.Repeat([]Fate{unknownFate}, len(o.Changes))
	again := saidAgain(o, r.Incarnation, log.Last()+1, faults{}).Changes // which must be possible too
	for _, c := range again {
		if err := c.Check(); err != nil {
			return nil, fmt.Errorf("recording %s of %s %s: %w", c.Field, c.Type, c.ID, err)
		}
	}
	if len(facts) == 0 || len(facts) > syncproto.MaxOperationChanges {
		return nil, fmt.Errorf("recording: an operation has 1 to %d changes, not %d", syncproto.MaxOperationChanges, len(facts))
	}
	if size := syncproto.SizeOf(again); size.Bytes > syncproto.MaxOperationBytes {
		return nil, fmt.Errorf("recording: an operation has at most %d canonical bytes, not %d", syncproto.MaxOperationBytes, size.Bytes)
	}
	err := p.disk.store(func(r *Records) {
		r.Clock = recorder.Clock
		r.Logs[r.Incarnation] = log.with(r.Farm, o)
	})
	if err != nil {
		return nil, err
	}
	p.noteCounts(o)
	p.shown = nil
	return o.Changes, nil
}

// withFormer lets a count of a cell that this phone counted under a former incarnation name it, so
// that the two never add up.
func (p *Phone) withFormer(f changelog.Fact) changelog.Fact {
	last, counted := p.lastCount(cell{f.Type, f.ID, f.Field})
	if f.Op != syncproto.OpCount || !counted || p.faults.countsAsAnother {
		return f
	}
	former, ok := last.Former()
	if !ok && last.Incarnation == p.Records().Incarnation {
		return f
	}
	if !ok {
		former = last.Identity()
	}
	f.Extra = withExtra(f.Extra, syncproto.ExtraFormer, syncproto.Text(string(former)))
	return f
}

func (p *Phone) lastCount(at cell) (syncproto.Change, bool) {
	if p.counts == nil {
		p.counts = map[cell]syncproto.Change{}
		r := p.Records()
		for i := len(r.Formers) - 1; i >= 0; i-- {
			p.noteCounts(r.Logs[r.Formers[i]].Operations...)
		}
		p.noteCounts(r.current().Operations...)
	}
	last, ok := p.counts[at]
	return last, ok
}

func (p *Phone) noteCounts(operations ...Operation) {
	if p.counts == nil {
		return
	}
	for _, o := range operations {
		for _, c := range o.Changes {
			if c.Op == syncproto.OpCount {
				p.counts[cell{c.Type, c.ID, c.Field}] = c
			}
		}
	}
}
