package store

import (
	"crypto/sha256"
	"encoding/binary"
)

// A slot's place is its key in the table of slots: half of it from the entity, so that those of an
// entity lie together, and half from the slot. It is where the search for the slot begins: another
// slot may have it, and then the next place is the slot's, and so on. Since no row is ever taken
// out alone, a free place ends the search. So places are short and still never confuse two slots.

// placeOf is where the search for a slot begins: the first 4 bytes of the SHA-256 of its entity's
// name, then the first 4 of that of the whole name.
func placeOf(name slotName) int64 {
	text := make([]byte, 0, 256)
	text = appendName(text, name.entity.Type, name.entity.ID)
	entity := sha256.Sum256(text)
	whole := sha256.Sum256(appendName(text, string(name.slot.Op), name.slot.Field, name.slot.Part))
	return int64(binary.BigEndian.Uint32(entity[:]))<<32 | int64(binary.BigEndian.Uint32(whole[:]))
}

// appendName ends each part with a NUL, which no name holds.
func appendName(b []byte, parts ...string) []byte {
	for _, part := range parts {
		b = append(append(b, part...), 0)
	}
	return b
}

// nextPlace is where to look when a place is another slot's. It stays among the entity's.
func nextPlace(place int64) int64 {
	return place&^0xffffffff | int64(uint32(place)+1)
}

// placesOf are the least and the greatest place of an entity's slots.
func placesOf(entityType, id string) (low, high int64) {
	entity := sha256.Sum256(appendName(nil, entityType, id))
	low = int64(binary.BigEndian.Uint32(entity[:])) << 32
	return low, low | 0xffffffff
}
