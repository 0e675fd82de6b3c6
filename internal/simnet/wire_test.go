package simnet

import (
	"encoding/binary"

	"corymb/server/live"
)

// stream is one direction of a line: bytes under way, and those that arrived.
type stream struct {
	underWay []byte
	arrived  []byte
}

// header is the length of what goes before a message: its length, and whether it is binary.
const header = 5

func (s *stream) send(m Message) {
	s.underWay = binary.BigEndian.AppendUint32(s.underWay, uint32(len(m.Data)))
	kind := byte(0)
	if m.Binary {
		kind = 1
	}
	s.underWay = append(append(s.underWay, kind), m.Data...)
}

// move lets the first n bytes under way arrive.
func (s *stream) move(n int) {
	s.arrived = append(s.arrived, s.underWay[:n]...)
	s.underWay = s.underWay[n:]
}

// receive takes the next message that arrived whole.
func (s *stream) receive() (Message, bool) {
	if len(s.arrived) < header {
		return Message{}, false
	}
	end := header + int(binary.BigEndian.Uint32(s.arrived))
	if len(s.arrived) < end {
		return Message{}, false
	}
	m := Message{Binary: s.arrived[4] == 1, Data: s.arrived[header:end:end]}
	s.arrived = s.arrived[end:]
	return m, true
}

// wire is a line between a phone and the shed. Either may have let go of it, and what it had sent
// before may still arrive.
type wire struct {
	device   *device // nil once the phone has let go
	talk     *live.Talk
	served   int // the shed's life that the talk belongs to
	restores int // how often its data had been restored then
	up       stream
	down     stream
	cut      bool  // nothing more is sent either way; whoever has received the rest finds out
	silent   bool  // cut, and nobody finds out but by waiting
	stalled  int64 // nothing arrives before
	heardAt  int64 // by the shed
}

// breakOff cuts the line so that n bytes still arrive upwards and m downwards.
func (w *wire) breakOff(n, m int, silent bool) {
	w.up.underWay, w.down.underWay = w.up.underWay[:n], w.down.underWay[:m]
	w.cut, w.silent = true, silent
}

// over tells that nobody holds the line any more, or nothing more can come of it.
func (w *wire) over() bool {
	return w.device == nil && (w.talk == nil || w.cut && len(w.up.underWay) == 0)
}
