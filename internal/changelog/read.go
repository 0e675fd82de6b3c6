package changelog

import (
	"slices"

	"corymb/syncproto"
)

// FieldWithdrawn is the field that withdraws an entity: 1 withdraws, 0 restores.
const FieldWithdrawn = "withdrawn"

// Text is a field's text, or "" when it was never set to one.
func (e *Entity) Text(field string) string {
	return e.field(field).Text
}

// Int is a field's number, or 0 when it was never set to one.
func (e *Entity) Int(field string) int64 {
	return e.field(field).Int
}

// List is a field's ids, or nil.
func (e *Entity) List(field string) []string {
	return e.field(field).List
}

func (e *Entity) field(field string) syncproto.Value {
	return e.slots[SlotKey{Op: syncproto.OpSet, Field: field}].Value
}

// Fields lists the names of the fields that were ever set, sorted.
func (e *Entity) Fields() []string {
	return e.namesOf(syncproto.OpSet)
}

// Cells lists the names of the count cells that were ever written or corrected, sorted.
func (e *Entity) Cells() []string {
	names := append(e.namesOf(syncproto.OpCount), e.namesOf(syncproto.OpCorrect)...)
	slices.Sort(names)
	return slices.Compact(names)
}

func (e *Entity) namesOf(op syncproto.Op) []string {
	var names []string
	for k := range e.slots {
		if k.Op == op {
			names = append(names, k.Field)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// Members lists the elements of a set, sorted.
func (e *Entity) Members(field string) []string {
	var in []string
	for k, entry := range e.slots {
		if k.Op == opMember && k.Field == field && entry.Op == syncproto.OpAdd {
			in = append(in, k.Part)
		}
	}
	slices.Sort(in)
	return in
}

// Texts visits every text and id that stands anywhere in the entity, and every element that any of its sets
// ever had, also one that was removed.
func (e *Entity) Texts(visit func(string)) {
	for k, entry := range e.slots {
		visit(k.Part)
		visit(entry.Value.Text)
		for _, id := range entry.Value.List {
			visit(id)
		}
	}
}

// Withdrawn tells whether the entity was withdrawn and not restored since.
func (e *Entity) Withdrawn() bool { return e.Int(FieldWithdrawn) == 1 }

// Newest is the highest entry of the entity.
func (e *Entity) Newest() Entry {
	var newest Entry
	for _, entry := range e.slots {
		if entry.Compare(newest) > 0 {
			newest = entry
		}
	}
	return newest
}
