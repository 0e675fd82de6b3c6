package changelog

import (
	"slices"

	"corymb/syncproto"
)

// Count is what a count cell comes to.
type Count struct {
	// Total is the sum over the cell's writers, corrected. Below zero it wants a look.
	Total int64
	// Tips are the corrections that no later correction has seen, the standing one first. A further
	// correction names them all in ExtraAfter.
	Tips []syncproto.Identity
	// Missed says that corrections were made that had not seen each other; only the line of the
	// newest counts until someone settles it.
	Missed bool
	// Twice says that one writer's cell is held under two incarnations and nobody has corrected the
	// cell since; the newer one counts.
	Twice bool
}

// Count reads a count cell.
func (e *Entity) Count(cell string) Count {
	written, doubled := e.written(cell)
	corrections := e.corrections(cell)
	names := namesOf(corrections)
	tips := tipsOf(corrections, names)
	count := Count{Total: written, Missed: len(tips) > 1, Twice: uncorrected(doubled, corrections)}
	for _, t := range tips {
		count.Tips = append(count.Tips, names.nameOf(t))
	}
	if len(tips) > 0 {
		count.Total += names.lineOf(tips[0])
	}
	return count
}

// written sums the writers of a cell. The entries of one writer under several incarnations are one:
// the newest counts, and is listed as doubled.
func (e *Entity) written(cell string) (total int64, doubled []Entry) {
	entries := e.entriesOf(syncproto.OpCount, cell)
	former := map[string]string{}
	for _, entry := range entries {
		former[entry.Incarnation] = formerIncarnation(entry)
	}
	writers := writersOf(former)
	counted := map[string]Entry{}
	for _, entry := range entries {
		writer := writers[entry.Incarnation]
		if newest, ok := counted[writer]; ok {
			doubled = append(doubled, newest)
			continue
		}
		counted[writer] = entry
		total += entry.Value.Int
	}
	return total, doubled
}

// uncorrected tells whether an entry has no correction above it. Whoever corrects the cell has
// looked, also where the correction is 0 because the number is right.
func uncorrected(entries, corrections []Entry) bool {
	return slices.ContainsFunc(entries, func(entry Entry) bool {
		return len(corrections) == 0 || corrections[0].Order.Compare(entry.Order) <= 0
	})
}

// writersOf follows each incarnation to the first that it is known to have been. Incarnations that
// name each other in a ring are the one with the smallest id.
func writersOf(former map[string]string) map[string]string {
	writers := make(map[string]string, len(former))
	for incarnation := range former {
		passed, writer := pathToWriter(incarnation, former, writers)
		for _, p := range passed {
			writers[p] = writer
		}
	}
	return writers
}

// pathToWriter lists the incarnations on the way whose writer is not known yet.
func pathToWriter(incarnation string, former, known map[string]string) (passed []string, writer string) {
	when := map[string]int{}
	for at := incarnation; at != ""; at = former[at] {
		if writer, ok := known[at]; ok {
			return passed, writer
		}
		if i, again := when[at]; again {
			return passed, slices.Min(passed[i:])
		}
		when[at], passed = len(passed), append(passed, at)
	}
	return passed, passed[len(passed)-1]
}

func formerIncarnation(e Entry) string {
	incarnation, _, _ := formerOf(e).Split()
	return incarnation
}

// formerOf is the identity under which a change was first framed, where it was sent again; else "".
func formerOf(e Entry) syncproto.Identity {
	former := syncproto.Identity(e.Extra[syncproto.ExtraFormer].Text)
	if _, _, err := former.Split(); err != nil {
		return ""
	}
	return former
}

// entriesOf lists the standing entries of one op in one field, the newest first.
func (e *Entity) entriesOf(op syncproto.Op, field string) []Entry {
	var found []Entry
	for k, entry := range e.slots {
		if k.Op == op && k.Field == field {
			found = append(found, entry)
		}
	}
	slices.SortFunc(found, func(a, b Entry) int { return b.Compare(a) })
	return found
}
