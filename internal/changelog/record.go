package changelog

import (
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

// Unsaid keeps the facts that would change the state if this writer said them: the rest stands
// there already with the same value.
func (s *State) Unsaid(facts []Fact, incarnation string) []Fact {
	return slices.DeleteFunc(slices.Clone(facts), func(f Fact) bool {
		slot := SlotOf(syncproto.Change{Op: f.Op, Field: f.Field, Value: f.Value, Incarnation: incarnation})
		entity := s.Entity(f.Type, f.ID)
		if entity == nil {
			return false
		}
		standing, ok := entity.slots[slot]
		return ok && standing.Op == f.Op && standing.Value.Equal(f.Value) &&
			maps.EqualFunc(standing.Extra, f.Extra, syncproto.Value.Equal)
	})
}
