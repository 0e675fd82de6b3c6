package changelog

import (
	"cmp"
	"slices"

	"corymb/syncproto"
)

// InFrames cuts whole operations of one incarnation, in seq order and without gaps, into as few
// stretches as fit a frame each. A large operation is cut into parts, which share a frame with
// nothing else.
func InFrames(changes []syncproto.Change) [][]syncproto.Change {
	var cut [][]syncproto.Change
	from, size := 0, 0 // of the stretch that is being filled
	at := 0
	for _, operation := range operations(changes) {
		bytes := canonicalSize(operation)
		if !fits(at-from+len(operation), size+bytes) && at > from {
			cut = append(cut, changes[from:at])
			from, size = at, 0
		}
		at += len(operation)
		size += bytes
		if !fits(len(operation), bytes) {
			cut = append(cut, parts(operation)...)
			from, size = at, 0
		}
	}
	if at > from {
		cut = append(cut, changes[from:])
	}
	return cut
}

func parts(operation []syncproto.Change) [][]syncproto.Change {
	var cut [][]syncproto.Change
	from, size := 0, 0
	for i := range operation {
		bytes := canonicalSize(operation[i : i+1])
		if !fits(i-from+1, size+bytes) {
			cut = append(cut, operation[from:i])
			from, size = i, 0
		}
		size += bytes
	}
	return append(cut, operation[from:])
}

func fits(changes, bytes int) bool {
	return changes <= syncproto.MaxFrameChanges && bytes <= syncproto.MaxFrameBytes
}

func canonicalSize(changes []syncproto.Change) int {
	var buffer []byte
	size := 0
	for _, c := range changes {
		buffer = c.AppendCanonical(buffer[:0])
		size += len(buffer)
	}
	return size
}

// byIncarnation sorts changes into those of each incarnation, by seq.
func byIncarnation(changes []syncproto.Change) [][]syncproto.Change {
	sorted := slices.SortedFunc(slices.Values(changes), func(a, b syncproto.Change) int {
		return cmp.Or(cmp.Compare(a.Incarnation, b.Incarnation), cmp.Compare(a.Seq, b.Seq))
	})
	return chunksWhere(sorted, func(a, b syncproto.Change) bool { return a.Incarnation == b.Incarnation })
}

// runs are the stretches of changes of one incarnation without gaps.
func runs(changes []syncproto.Change) [][]syncproto.Change {
	return chunksWhere(changes, func(a, b syncproto.Change) bool { return a.Seq+1 == b.Seq })
}

func operations(changes []syncproto.Change) [][]syncproto.Change {
	return chunksWhere(changes, func(a, _ syncproto.Change) bool { return a.Rest > 0 })
}

// chunksWhere cuts changes apart between any two that do not belong together.
func chunksWhere(changes []syncproto.Change, together func(a, b syncproto.Change) bool) [][]syncproto.Change {
	var chunks [][]syncproto.Change
	from := 0
	for i := range changes {
		if i == len(changes)-1 || !together(changes[i], changes[i+1]) {
			chunks = append(chunks, changes[from:i+1])
			from = i + 1
		}
	}
	return chunks
}
