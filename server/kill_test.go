package main

import (
	"context"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// ordinaryRounds is how often the server is killed in an ordinary run; CORYMB_ROUNDS says another
// number.
const ordinaryRounds = 8

func killingRounds(t *testing.T, ordinary int) int {
	t.Helper()
	said := os.Getenv("CORYMB_ROUNDS")
	if said == "" {
		return ordinary
	}
	n, err := strconv.Atoi(said)
	if err != nil || n < 1 {
		t.Fatalf("CORYMB_ROUNDS is %q: it must be a number of rounds", said)
	}
	return n
}

// A kill leaves what the system was given, so this proves that nothing is acknowledged before it is
// written and that a half-written commit harms nothing; that the disk has it, durability_test.go proves.
func TestKilledDuringPushesTheServerKeepsEverythingAcknowledgedOnce(t *testing.T) {
	const seed = 20_260_601
	rounds := killingRounds(t, ordinaryRounds)
	t.Logf("seed %d, %d rounds", seed, rounds)
	data := t.TempDir()
	devices := newDevices(farmOf(t, data))
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range rounds {
		pushUntilKilled(t, start(t, data), devices, rnd)
		verifyAsAnybodyWould(t, data)
	}
	checkFarm(t, data, devices)
	logSettled(t, devices)
}

func newDevices(farm string) []*device {
	return []*device{newDevice(farm), newDevice(farm), newDevice(farm)}
}

func farmOf(t *testing.T, data string) string {
	t.Helper()
	s, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return s.Farm()
}

func verifyAsAnybodyWould(t *testing.T, data string) {
	t.Helper()
	if said, err := program(t, "verify", "-data", data).CombinedOutput(); err != nil {
		t.Fatalf("verify: %v\n%s", err, said)
	}
}

// checkFarm opens what is left: every acknowledged change that was not proven before is there exactly
// once, with its bytes and what the device was told became of it.
func checkFarm(t *testing.T, data string, devices []*device) {
	t.Helper()
	s, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	if s.Restored() {
		t.Error("it was taken for an older copy")
	}
	newest := s.Newest()
	for _, d := range devices {
		if lost := d.lost(t, s); lost > 0 {
			t.Errorf("%d of %d acknowledged changes are lost", lost, d.settled)
			continue
		}
		d.checkSettledAgain(t, s)
	}
	if s.Newest() != newest {
		t.Errorf("%d changes were acknowledged and yet not there", s.Newest()-newest)
	}
}

// lost is how many acknowledged changes a farm does not know of.
func (d *device) lost(t *testing.T, s *store.Store) int64 {
	t.Helper()
	standing, err := s.Standing(context.Background(), changelog.Asked{Incarnation: d.Incarnation, Settled: d.settled, Scopes: syncproto.Scopes})
	if err != nil {
		t.Fatal(err)
	}
	return max(d.settled-standing.Seq, 0)
}

// checkSettledAgain pushes what was acknowledged again: the store compares the bytes and says once
// more what became of it.
func (d *device) checkSettledAgain(t *testing.T, s *store.Store) {
	t.Helper()
	again := newDevice(s.Farm())
	for _, changes := range changelog.InFrames(d.log[d.proven:d.settled]) {
		frame, err := changelog.NewFrame(d.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
		if err != nil {
			t.Fatal(err)
		}
		results, err := s.Append(context.Background(), []*changelog.Frame{frame})
		if err != nil {
			t.Fatal(err)
		}
		if breach := results[0].Breach; breach != nil {
			t.Fatalf("acknowledged changes pushed again: %v", breach)
		}
		if held := results[0].Ack.Held; len(held) > 0 {
			t.Errorf("%v are held under another identity, which they never had", held)
		}
		again.note(results[0].Ack)
	}
	for _, c := range d.log[d.proven:d.settled] {
		if again.orders[c.Seq] != d.orders[c.Seq] || again.refused[c.Seq] != d.refused[c.Seq] {
			t.Errorf("seq %d was told %v %q, and now %v %q", c.Seq, d.orders[c.Seq], d.refused[c.Seq], again.orders[c.Seq], again.refused[c.Seq])
		}
	}
}

func logSettled(t *testing.T, devices []*device) {
	t.Helper()
	for _, d := range devices {
		if d.settled == 0 {
			t.Error("a device was never acknowledged anything")
		}
		t.Logf("%d of %d changes acknowledged, of which %d refused", d.settled, len(d.log), len(d.refused))
	}
}
