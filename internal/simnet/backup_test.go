package simnet

import (
	"context"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"corymb/server/backup"
	"corymb/syncproto"
)

// copyServed copies the database of the shed, if it runs.
func (s *sim) copyServed() {
	if s.shed.live == nil {
		return
	}
	s.copied = s.shed.backupServed()
	s.trace("the database is copied while it is served")
}

// What is restored was copied while the shed ran, at any moment between two commits.
func TestSeedsRestoredFromCopiesMadeWhileServing(t *testing.T) {
	f := newFarms(t)
	const seeds = 60
	sum, failed := f.runMany(t, 1, seeds, options{hot: true})
	t.Logf("%d seeds: %d changes, %d restored sheds, %d phones", seeds, sum.changes, sum.restores, sum.clones)
	if failed != 0 {
		out, err := f.run(failed, options{hot: true, traced: true})
		t.Fatalf("seed %d: %s (%v)\n%s", failed, sum.fault, err, out.trace)
	}
	if sum.restores < seeds {
		t.Errorf("only %d sheds were restored", sum.restores)
	}
}

// The drill: the shed burns down, and the farm goes on from yesterday's backup. One phone has been there
// since, one was away with what it had not sent, one is a copy of the first, and one is new.
func TestADrillOfARestoredFarm(t *testing.T) {
	const seed = 20_261_129
	t.Logf("seed %d", seed)
	s := &sim{rnd: rand.New(rand.NewPCG(seed, 0)), now: startOfTime}
	s.shed = &shed{sim: s, dir: scratch(t), scopes: map[string][]syncproto.Scope{"ana": syncproto.Scopes, "ben": syncproto.Scopes, "": syncproto.Scopes}}
	s.shed.start()
	ana, ben := s.newDevice("ana's phone", "ana"), s.newDevice("ben's phone", "ben")
	s.recordsOf(ana, 40)
	s.recordsOf(ben, 40)
	s.heal()

	// In the night a backup is made. Something that is not settled is under way.
	s.recordsOf(ana, 1)
	folder := t.TempDir()
	made, err := backup.Make(context.Background(), backup.Making{Farm: s.shed.store, Folder: folder, Version: "v1", Now: s.shed.now})
	if err != nil {
		t.Fatal(err)
	}
	covered := made.Manifest.Arrival

	// The next day ana counts and is acknowledged, somebody copies her phone, and ben is away.
	s.crash(ben)
	s.restart(ben)
	ben.away = true
	s.recordsOf(ben, 30)
	s.recordsOf(ana, 30)
	s.settleAll(ana)
	s.clone(ana)
	copied := s.devices[len(s.devices)-1]
	s.recordsOf(ana, 10)
	s.settleAll(ana)
	s.recordsOf(copied, 10)
	newest, acked := s.shed.store.Newest(), len(s.ledger.acked)
	if newest <= covered || ana.phone.Unsettled() != 0 || ben.phone.Unsettled() == 0 {
		t.Fatalf("the shed has %d changes, the backup %d; %d and %d are unsettled: the drill is not about what it says",
			newest, covered, ana.phone.Unsettled(), ben.phone.Unsettled())
	}

	// The shed burns down, and the farm is restored on another machine.
	s.killShed()
	s.shed.dir = filepath.Join(scratch(t), "restored")
	if _, err := backup.Restore(context.Background(), made.Path, s.shed.dir, s.shed.now); err != nil {
		t.Fatal(err)
	}
	s.restores++
	s.shed.start()
	if !s.shed.store.Restored() || s.shed.store.Newest() != covered {
		t.Fatalf("restored: %v, with %d changes of %d", s.shed.store.Restored(), s.shed.store.Newest(), covered)
	}
	s.newDevice("a new phone", "")
	ben.away = false
	s.heal()
	s.check()
	if s.fault != "" {
		t.Error(s.fault)
	}
	if len(s.ledger.acked) < acked { // check finds each of them in the log
		t.Errorf("%d acknowledgements are known, of %d", len(s.ledger.acked), acked)
	}
	t.Logf("%d changes, of which the backup covered %d and %d had been acknowledged since", s.shed.store.Newest(), covered, newest-covered)
	s.shed.stop()
}

func (s *sim) newDevice(name, person string) *device {
	d := &device{name: name, person: person, member: name, disk: NewDisk(), told: map[string]syncproto.Stamp{}}
	s.devices = append(s.devices, d)
	s.boot(d)
	return d
}

// settleAll lets time run until nothing of a phone is unsettled.
func (s *sim) settleAll(d *device) {
	for range 120 {
		if d.phone.Unsettled() == 0 && d.phone.Online() {
			return
		}
		s.now += 1_000
		s.settleDown()
	}
	s.fail("%s is not settled after two minutes", d.name)
}

func (s *sim) recordsOf(d *device, n int) {
	for range n {
		s.now += 500
		s.record(d)
	}
}
