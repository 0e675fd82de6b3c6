package changelog

import (
	"bytes"
	"slices"
	"strconv"

	"corymb/syncproto"
)

// Dump writes the whole state in one canonical form, a line for each slot, sorted by bytes. Two
// replicas are equal if their dumps are. A line is the JSON array (RFC 8785)
//
//	[type,id,op,field,part,entry op,value,l,c,incarnation,seq]
func (s *State) Dump() []byte {
	var lines [][]byte
	s.Entities(func(e *Entity) {
		for slot, entry := range e.slots {
			lines = append(lines, dumpLine(e.Key, slot, entry))
		}
	})
	slices.SortFunc(lines, bytes.Compare)
	return bytes.Join(lines, []byte("\n"))
}

func dumpLine(key EntityKey, slot SlotKey, e Entry) []byte {
	var b bytes.Buffer
	texts := []string{key.Type, key.ID, string(slot.Op), slot.Field, slot.Part, string(e.Op)}
	b.WriteByte('[')
	for _, t := range texts {
		b.Write(syncproto.Text(t).AppendCanonical(nil))
		b.WriteByte(',')
	}
	b.Write(e.Value.AppendCanonical(nil))
	b.WriteByte(',')
	for _, n := range [...]int64{e.Order.L, e.Order.C} {
		b.WriteString(strconv.FormatInt(n, 10))
		b.WriteByte(',')
	}
	b.Write(syncproto.Text(e.Incarnation).AppendCanonical(nil))
	b.WriteByte(',')
	b.WriteString(strconv.FormatInt(e.Seq, 10))
	b.WriteByte(']')
	return b.Bytes()
}
