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
	var filled syncproto.Size // of the stretch from..at that is being filled
	from, at := 0, 0
	for _, operation := range operations(changes) {
		size := syncproto.SizeOf(operation)
		if !filled.Plus(size).FitsFrame() && at > from {
			cut = append(cut, changes[from:at])
			from, filled = at, syncproto.Size{}
		}
		at += len(operation)
		filled = filled.Plus(size)
		if !size.FitsFrame() {
			cut = append(cut, parts(operation)...)
			from, filled = at, syncproto.Size{}
		}
	}
	if at > from {
		cut = append(cut, changes[from:])
	}
	return cut
}

func parts(operation []syncproto.Change) [][]syncproto.Change {
	var cut [][]syncproto.Change
	var filled syncproto.Size
	from := 0
	for i := range operation {
		size := syncproto.SizeOf(operation[i : i+1])
		if !filled.Plus(size).FitsFrame() {
			cut = append(cut, operation[from:i])
			from, filled = i, syncproto.Size{}
		}
		filled = filled.Plus(size)
	}
	return append(cut, operation[from:])
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
