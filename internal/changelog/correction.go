package changelog

import (
	"slices"

	"corymb/syncproto"
)

// corrections lists a cell's corrections, the newest first. One that was sent again is the same
// correction; two of one former identity that say otherwise, of copies of a phone, are two.
func (e *Entity) corrections(cell string) []Entry {
	said := map[string]bool{}
	return slices.DeleteFunc(e.entriesOf(syncproto.OpCorrect, cell), func(entry Entry) bool {
		facts := FactsOf(syncproto.Change{Value: entry.Value, Extra: entry.Extra})
		saying := string(firstIdentity(entry)) + "\n" + string(facts)
		again := said[saying]
		said[saying] = true
		return again
	})
}

// firstIdentity is the identity under which a change was first framed.
func firstIdentity(e Entry) syncproto.Identity {
	if former := formerOf(e); former != "" {
		return former
	}
	return e.Identity()
}

// named finds the corrections of a cell by the identities that others name them by.
type named map[syncproto.Identity]Entry

// namesOf names each correction by its own identity, and by its former one unless another bears that.
func namesOf(corrections []Entry) named {
	names := named{}
	for _, entry := range corrections {
		names[entry.Identity()] = entry
	}
	for _, entry := range corrections {
		former := formerOf(entry)
		if _, taken := names[former]; former != "" && !taken {
			names[former] = entry
		}
	}
	return names
}

// nameOf is how a further correction names one: by the identity under which it was first framed, if that
// names it alone. What a phone sends again may turn out to be held already, and then its new identity
// never exists.
func (n named) nameOf(e Entry) syncproto.Identity {
	if first := firstIdentity(e); n[first].Identity() == e.Identity() {
		return first
	}
	return e.Identity()
}

// tipsOf lists the corrections that no other has seen, the newest first. Corrections that claim to
// have seen each other in a ring leave none: then the newest stands.
func tipsOf(corrections []Entry, names named) []Entry {
	seen := map[syncproto.Identity]bool{}
	for _, entry := range corrections {
		for _, id := range entry.Extra[syncproto.ExtraAfter].List {
			if other, ok := names[syncproto.Identity(id)]; ok {
				seen[other.Identity()] = true
			}
		}
	}
	tips := slices.DeleteFunc(slices.Clone(corrections), func(entry Entry) bool { return seen[entry.Identity()] })
	if len(tips) == 0 && len(corrections) > 0 {
		return corrections[:1]
	}
	return tips
}

// lineOf sums a correction and those that it followed, each the first that the later one had seen. A
// line that meets itself ends there.
func (n named) lineOf(tip Entry) int64 {
	total := int64(0)
	passed := map[syncproto.Identity]bool{}
	for at, ok := tip, true; ok && !passed[at.Identity()]; at, ok = n.followedBy(at) {
		passed[at.Identity()] = true
		total += at.Value.Int
	}
	return total
}

// followedBy is the correction that another went on from, if it is known.
func (n named) followedBy(e Entry) (Entry, bool) {
	after := e.Extra[syncproto.ExtraAfter].List
	if len(after) == 0 {
		return Entry{}, false
	}
	found, ok := n[syncproto.Identity(after[0])]
	return found, ok
}
