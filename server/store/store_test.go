package store

import (
	"context"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// noon is the server's clock in these tests.
var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

func fixed() time.Time { return noon }

func open(t *testing.T, dir string) *Store {
	t.Helper()
	s, err := Open(dir, fixed)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // a test may have closed it already
	return s
}

// phone records and pushes as one incarnation.
type phone struct {
	changelog.Recorder
	wall int64
}

func newPhone() *phone {
	return &phone{Recorder: changelog.Recorder{Incarnation: uuid.NewString(), Person: "ana"}, wall: noon.UnixMilli() - 3_600_000}
}

// says records one operation.
func (p *phone) says(facts ...changelog.Fact) []syncproto.Change {
	p.wall += 1000
	return p.Operation(p.wall, facts...)
}

// name is a fact about a bed.
func name(bed, text string) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: bed, Field: "name", Value: syncproto.Text(text)}
}

func frame(t *testing.T, changes ...syncproto.Change) *changelog.Frame {
	t.Helper()
	f, err := changelog.NewFrame(changes[0].Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func push(t *testing.T, s *Store, frames ...*changelog.Frame) []changelog.Result {
	t.Helper()
	results, err := s.Append(context.Background(), frames)
	if err != nil {
		t.Fatal(err)
	}
	return results
}

// known is how far an incarnation is, asked by a phone that knows what became of its changes up to a
// seq.
func known(t *testing.T, s *Store, incarnation string, settled int64) changelog.Standing {
	t.Helper()
	standing, err := s.Standing(context.Background(), changelog.Asked{Incarnation: incarnation, Settled: settled})
	if err != nil {
		t.Fatal(err)
	}
	return standing
}

func settle(t *testing.T, s *Store, changes ...syncproto.Change) syncproto.Ack {
	t.Helper()
	r := push(t, s, frame(t, changes...))[0]
	if r.Breach != nil {
		t.Fatal(r.Breach)
	}
	return r.Ack
}

func verify(t *testing.T, s *Store) Verified {
	t.Helper()
	found, err := s.Verify(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range found.Faults {
		t.Error(fault)
	}
	return found
}

func TestAppendedChangesAreThereAfterReopening(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p := newPhone()
	ack := settle(t, s, p.says(name("b1", "North"), name("b2", "South"))...)
	if ack.Seq != 2 || len(ack.Orders)+len(ack.Held)+len(ack.Refused) != 0 {
		t.Fatalf("ack %+v", ack)
	}
	farm, epoch := s.Farm(), s.Epoch()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = open(t, dir)
	if s.Farm() != farm || s.Epoch() != epoch || s.Restored() {
		t.Errorf("farm or epoch changed, or taken for restored: %v", s.Restored())
	}
	state, newest, err := s.State(context.Background())
	if err != nil || newest != 2 || state.Entity("bed", "b2").Text("name") != "South" {
		t.Errorf("newest %d, err %v", newest, err)
	}
	if found := verify(t, s); found.Changes != 2 || found.Entities != 2 || found.Incarnations != 1 {
		t.Errorf("verified %+v", found)
	}
}
