package changelog

import (
	"cmp"
	"slices"

	"corymb/syncproto"
)

// LookKind says why something wants a person's look.
type LookKind string

// The reasons for a look.
const (
	LookMissed    LookKind = "missed"    // corrections of one count that had not seen each other
	LookTwice     LookKind = "twice"     // one writer's count held under two incarnations
	LookWithdrawn LookKind = "withdrawn" // something was recorded for what had been withdrawn
	LookNegative  LookKind = "negative"  // a count that its corrections take below zero
)

// Look is one thing that a person should settle. Settling it is a change like any other.
type Look struct {
	Kind  LookKind
	Key   EntityKey
	Field string // the count cell; empty for LookWithdrawn
}

// Looks lists everything that wants a look, sorted.
func (s *State) Looks() []Look {
	var looks []Look
	s.Entities(func(e *Entity) { looks = append(looks, e.looks()...) })
	slices.SortFunc(looks, func(a, b Look) int {
		return cmp.Or(
			cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Key.Type, b.Key.Type),
			cmp.Compare(a.Key.ID, b.Key.ID), cmp.Compare(a.Field, b.Field),
		)
	})
	return looks
}

func (e *Entity) looks() []Look {
	var looks []Look
	for _, cell := range e.Cells() {
		count := e.Count(cell)
		if count.Missed {
			looks = append(looks, Look{Kind: LookMissed, Key: e.Key, Field: cell})
		}
		if count.Twice {
			looks = append(looks, Look{Kind: LookTwice, Key: e.Key, Field: cell})
		}
		if count.Total < 0 {
			looks = append(looks, Look{Kind: LookNegative, Key: e.Key, Field: cell})
		}
	}
	if e.Withdrawn() && e.touchedSince(e.slots[SlotKey{Op: syncproto.OpSet, Field: FieldWithdrawn}]) {
		looks = append(looks, Look{Kind: LookWithdrawn, Key: e.Key})
	}
	return looks
}

// touchedSince tells whether something was recorded after the withdrawal. What shares its
// operation was known to whoever withdrew.
func (e *Entity) touchedSince(withdrawal Entry) bool {
	for _, entry := range e.slots {
		if entry.Order.Compare(withdrawal.Order) > 0 {
			return true
		}
	}
	return false
}
