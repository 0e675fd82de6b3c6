package simnet

import (
	"slices"
	"sort"

	"corymb/syncproto"
)

// Log is what was said under one incarnation, from seq 1 without gaps. Nothing ever leaves it.
type Log struct {
	Incarnation string
	Operations  []Operation
	Settled     int64 // highest seq that the shed is known to have settled, 0 for none
}

// Operation is one that was recorded. Its changes and their place in the chain are frozen.
type Operation struct {
	Changes []syncproto.Change
	Hash    syncproto.Hash              // chain value after the last of them; meaningless before the farm is known
	Origins map[string]syncproto.Origin // what ids of its entities were derived from
	Fates   []Fate                      // of each change
	Moved   bool                        // it was said again under a later incarnation, which now stands for it
	size    syncproto.Size
}

// Fate is what became of a change, as far as the phone was told.
type Fate struct {
	Order   syncproto.Stamp // syncproto.NoOrder where none was told
	Held    bool            // the shed has it under another identity
	Refused syncproto.Code  // empty where it was not
}

var unknownFate = Fate{Order: syncproto.NoOrder}

func (o Operation) first() int64 { return o.Changes[0].Seq }
func (o Operation) last() int64  { return o.Changes[len(o.Changes)-1].Seq }

// Last is the seq of the last change, 0 for none.
func (l Log) Last() int64 {
	if len(l.Operations) == 0 {
		return 0
	}
	return l.Operations[len(l.Operations)-1].last()
}

// with is the log with one more operation, which gets its place in the chain.
func (l Log) with(farm string, o Operation) Log {
	o.Hash = l.hashAt(farm, l.Last())
	o.size = syncproto.SizeOf(o.Changes)
	var canonical []byte
	for _, c := range o.Changes {
		canonical = c.AppendCanonical(canonical[:0])
		o.Hash = o.Hash.Then(canonical)
	}
	l.Operations = append(l.Operations, o)
	return l
}

// from is the index of the first operation that holds a seq above the given one.
func (l Log) from(seq int64) int {
	return sort.Search(len(l.Operations), func(i int) bool { return l.Operations[i].last() > seq })
}

// hashAt is the chain value after a seq, which the log reaches.
func (l Log) hashAt(farm string, seq int64) syncproto.Hash {
	i := l.from(seq)
	hash := syncproto.ChainStart(farm, l.Incarnation)
	if i > 0 {
		hash = l.Operations[i-1].Hash
	}
	if i == len(l.Operations) {
		return hash
	}
	for _, c := range l.Operations[i].Changes {
		if c.Seq > seq {
			break
		}
		hash = hash.Then(c.Canonical())
	}
	return hash
}

// proves tells whether the shed's past at a seq is this one.
func (l Log) proves(farm string, seq int64, hash string) bool {
	return seq <= l.Last() && l.hashAt(farm, seq).String() == hash
}

// unmoved is the last seq that was not said again under a later incarnation, 0 for none.
func (l Log) unmoved() int64 {
	for _, o := range slices.Backward(l.Operations) {
		if !o.Moved {
			return o.last()
		}
	}
	return 0
}

// change finds a change.
func (l Log) change(seq int64) (syncproto.Change, bool) {
	i := l.from(seq - 1)
	if seq < 1 || i == len(l.Operations) {
		return syncproto.Change{}, false
	}
	o := l.Operations[i]
	return o.Changes[seq-o.first()], true
}

// beyond lists the operations that hold a seq above the given one.
func (l Log) beyond(seq int64) []Operation { return l.Operations[l.from(seq):] }

// decide notes what became of a change. A copy of the disk keeps the fates that it has.
func (l Log) decide(seq int64, fate Fate) {
	o := &l.Operations[l.from(seq-1)]
	at := seq - o.first()
	if o.Fates[at] == fate {
		return
	}
	o.Fates = slices.Clone(o.Fates)
	o.Fates[at] = fate
}
