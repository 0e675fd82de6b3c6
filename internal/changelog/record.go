package changelog

import (
	"cmp"
	"maps"
	"slices"

	"corymb/syncproto"
)

// Fact is a change before it has an identity: what is said, not yet who says it and when.
type Fact struct {
	Scope syncproto.Scope
	Op    syncproto.Op
	Type  string
	ID    string
	Field string
	Value syncproto.Value
	Extra map[string]syncproto.Value
}

// Recorder turns facts into the changes of one incarnation.
type Recorder struct {
	Incarnation string
	Person      string
	Seq         int64 // of the last change made
	Clock       Clock
}

// Operation makes the changes of one operation: they share a stamp and commit or are refused
// together. wall is in milliseconds since 1970 UTC.
func (r *Recorder) Operation(wall int64, facts ...Fact) []syncproto.Change {
	stamp := r.Clock.Tick(wall)
	changes := make([]syncproto.Change, len(facts))
	for i, f := range facts {
		r.Seq++
		changes[i] = syncproto.Change{
			Incarnation: r.Incarnation, Seq: r.Seq, Stamp: stamp, Rest: len(facts) - 1 - i,
			Person: r.Person, Scope: f.Scope, Op: f.Op, Type: f.Type, ID: f.ID,
			Field: f.Field, Value: f.Value, Extra: f.Extra,
		}
	}
	return changes
}

// Unsaid keeps the facts that are new: those that this writer did not say last in their slot, and
// that do not stand there anyhow. said holds the writer's own changes, s everybody's. differs counts
// the facts left out that somebody has changed since: they stay changed.
func (s *State) Unsaid(facts []Fact, said *State, incarnation string) (fresh []Fact, differs int) {
	for _, f := range facts {
		stands, before := s.holds(f, incarnation), said.holds(f, incarnation)
		switch {
		case before && !stands:
			differs++
		case !before && !stands:
			fresh = append(fresh, f)
		}
	}
	return fresh, differs
}

func (s *State) holds(f Fact, incarnation string) bool {
	entity := s.Entity(f.Type, f.ID)
	if entity == nil {
		return false
	}
	standing, ok := entity.slots[slotOfFact(f, incarnation)]
	return ok && standing.Op == f.Op && standing.Value.Equal(f.Value) &&
		maps.EqualFunc(standing.Extra, f.Extra, syncproto.Value.Equal)
}

func slotOfFact(f Fact, incarnation string) SlotKey {
	return SlotOf(syncproto.Change{Op: f.Op, Field: f.Field, Value: f.Value, Incarnation: incarnation})
}

// TakenBack says what takes back everything that a writer said before of the facts' entity and does
// not say among them any more: fields become empty, counts 0, elements leave their sets. said holds
// the writer's own changes; the facts are of one entity.
func TakenBack(facts []Fact, said *State, incarnation string) []Fact {
	if len(facts) == 0 {
		return nil
	}
	entity := said.Entity(facts[0].Type, facts[0].ID)
	if entity == nil {
		return nil
	}
	still := map[SlotKey]bool{}
	for _, f := range facts {
		still[slotOfFact(f, incarnation)] = true
	}
	var back []Fact
	for slot, entry := range entity.slots {
		empty, ok := emptyOf(entry)
		if !ok || still[slot] || empty.Op == entry.Op && empty.Value.Equal(entry.Value) {
			continue
		}
		empty.Scope, empty.Type, empty.ID, empty.Field = facts[0].Scope, entity.Key.Type, entity.Key.ID, slot.Field
		back = append(back, empty)
	}
	slices.SortFunc(back, func(a, b Fact) int {
		return cmp.Or(cmp.Compare(a.Field, b.Field), cmp.Compare(a.Value.Text, b.Value.Text))
	})
	return back
}

// emptyOf is the op and value that take an entry back; corrections and what a later version knows
// are left alone.
func emptyOf(e Entry) (Fact, bool) {
	switch e.Op {
	case syncproto.OpCount:
		return Fact{Op: e.Op, Value: syncproto.Int(0), Extra: e.Extra}, true
	case syncproto.OpAdd, syncproto.OpRemove:
		return Fact{Op: syncproto.OpRemove, Value: e.Value}, true
	case syncproto.OpSet:
		value := syncproto.Value{Kind: e.Value.Kind}
		if value.Kind == syncproto.KindList {
			value.List = []string{}
		}
		return Fact{Op: e.Op, Value: value}, true
	default:
		return Fact{}, false
	}
}
