package simnet

import (
	"maps"

	"corymb/syncproto"
)

// window is how many pushes are under way at a time.
const window = 4

// batchAfter is what to push behind a seq and up to another: as many whole operations as fit one
// frame, or the next part of a large one. It is empty where nothing is left.
func (l Log) batchAfter(sent, upTo int64) syncproto.Batch {
	b := syncproto.Batch{Origins: map[string]syncproto.Origin{}}
	var filled syncproto.Size
	for _, o := range l.beyond(sent) {
		if o.first() > upTo {
			break
		}
		if !o.size.FitsFrame() {
			if len(b.Changes) == 0 {
				take(&b, o, partAfter(o, sent))
			}
			break
		}
		if filled = filled.Plus(o.size); !filled.FitsFrame() {
			break
		}
		take(&b, o, span{0, len(o.Changes)})
	}
	return b
}

// span is a stretch of an operation, by index: its end is not in it.
type span struct{ from, to int }

// partAfter is the next part of a large operation behind a seq.
func partAfter(o Operation, sent int64) span {
	part := span{from: int(max(0, sent+1-o.first()))}
	var filled syncproto.Size
	for part.to = part.from; part.to < len(o.Changes); part.to++ {
		filled = filled.Plus(syncproto.SizeOf(o.Changes[part.to : part.to+1]))
		if !filled.FitsFrame() {
			break
		}
	}
	return part
}

// take adds a stretch of an operation, with the orders that a shed had given before it was restored.
func take(b *syncproto.Batch, o Operation, s span) {
	for i := s.from; i < s.to; i++ {
		b.Changes = append(b.Changes, o.Changes[i])
		b.Orders = append(b.Orders, o.Fates[i].Order)
	}
	maps.Copy(b.Origins, o.Origins)
}
