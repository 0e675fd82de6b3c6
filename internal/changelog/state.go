// Package changelog is what a change means: clocks and orders, the merge of changes to a state, and
// how that state is read. It is pure: no files, no sockets, no wall clock of its own.
package changelog

import (
	"cmp"

	"corymb/syncproto"
)

// EntityKey names an entity.
type EntityKey struct {
	Type string
	ID   string
}

// SlotKey names a slot of an entity: the place where changes compete and the highest order stands.
type SlotKey struct {
	Op    syncproto.Op // "member" for both OpAdd and OpRemove
	Field string
	// Part tells apart what may stand side by side in one field: the writer of a count cell, the
	// identity of a correction, the element of a set. Empty for everything else.
	Part string
}

// opMember is the slot of a set's element, which add and remove compete for.
const opMember syncproto.Op = "member"

// Entry is the change that stands in a slot.
type Entry struct {
	Op          syncproto.Op
	Value       syncproto.Value
	Extra       map[string]syncproto.Value
	Order       syncproto.Stamp
	Incarnation string
	Seq         int64
	Person      string
}

// Compare orders entries by order, then identity. It is never 0 for two different changes.
func (e Entry) Compare(o Entry) int {
	if d := e.Order.Compare(o.Order); d != 0 {
		return d
	}
	if d := cmp.Compare(e.Incarnation, o.Incarnation); d != 0 {
		return d
	}
	return cmp.Compare(e.Seq, o.Seq)
}

// Identity is that of the change which stands.
func (e Entry) Identity() syncproto.Identity {
	return syncproto.IdentityOf(e.Incarnation, e.Seq)
}

// State is what a set of changes comes to. It is the greatest change of every slot, so neither the
// order of arrival nor repetition can matter.
type State struct {
	entities map[EntityKey]*Entity
}

// Entity is everything known of one entity.
type Entity struct {
	Key   EntityKey
	slots map[SlotKey]Entry
}

// NewState returns the state of no changes.
func NewState() *State { return &State{entities: map[EntityKey]*Entity{}} }

// SlotOf says where a change competes.
func SlotOf(c syncproto.Change) SlotKey {
	switch c.Op {
	case syncproto.OpCount:
		return SlotKey{Op: c.Op, Field: c.Field, Part: c.Incarnation}
	case syncproto.OpCorrect:
		return SlotKey{Op: c.Op, Field: c.Field, Part: string(c.Identity())}
	case syncproto.OpAdd, syncproto.OpRemove:
		return SlotKey{Op: opMember, Field: c.Field, Part: c.Value.Text}
	default:
		return SlotKey{Op: c.Op, Field: c.Field}
	}
}

// EntryOf is what a change puts into its slot under the given order.
func EntryOf(c syncproto.Change, order syncproto.Stamp) Entry {
	return Entry{
		Op: c.Op, Value: c.Value, Extra: c.Extra, Order: order,
		Incarnation: c.Incarnation, Seq: c.Seq, Person: c.Person,
	}
}

// Merge takes one change in, with the order that decides it.
func (s *State) Merge(c syncproto.Change, order syncproto.Stamp) {
	s.Put(EntityKey{Type: c.Type, ID: c.ID}, SlotOf(c), EntryOf(c, order))
}

// Put takes an entry in, as read from where a state was kept.
func (s *State) Put(key EntityKey, slot SlotKey, e Entry) {
	entity, ok := s.entities[key]
	if !ok {
		entity = &Entity{Key: key, slots: map[SlotKey]Entry{}}
		s.entities[key] = entity
	}
	if standing, ok := entity.slots[slot]; !ok || e.Compare(standing) > 0 {
		entity.slots[slot] = e
	}
}

// Entity finds an entity, or nil.
func (s *State) Entity(entityType, id string) *Entity {
	return s.entities[EntityKey{Type: entityType, ID: id}]
}

// Entities visits every entity, in no particular order.
func (s *State) Entities(visit func(*Entity)) {
	for _, e := range s.entities {
		visit(e)
	}
}

// Len is the number of entities.
func (s *State) Len() int { return len(s.entities) }
