// Package syncproto is the form in which changes travel and are hashed: the Change, its canonical
// bytes, the chain over them, and the messages between a phone and the shed. PROTOCOL.md says the
// same in words.
package syncproto

import (
	"fmt"
	"strconv"
	"strings"
)

// Change is one fact that one device recorded. It never changes once it was framed: Seq and the
// canonical bytes are frozen together.
type Change struct {
	Incarnation string // UUID; new whenever a device's past cannot be proven
	Seq         int64  // 1, 2, 3 … within the incarnation
	Stamp       Stamp  // the device's hybrid clock; all changes of one operation share it
	Rest        int    // how many more changes of the same operation follow this one
	Person      string // who did it; empty before a person was chosen
	Scope       Scope
	Op          Op
	Type        string // entity type
	ID          string // entity id
	Field       string
	Value       Value
	// Extra holds what only some changes carry (see the Extra* names) and whatever a later version
	// adds; it is hashed, stored and passed on whole.
	Extra map[string]Value
}

// Scope decides who may pull a change.
type Scope string

// The scopes, from the widest audience to the narrowest.
const (
	ScopeField Scope = "field"
	ScopeShed  Scope = "shed"
	ScopeMoney Scope = "money"
)

// Scopes lists every scope in canonical order.
var Scopes = []Scope{ScopeField, ScopeShed, ScopeMoney}

// Op says how a change merges.
type Op string

// The operations known to this version. Others merge like OpSet and survive.
const (
	OpSet     Op = "set"     // a field: the highest order wins
	OpCount   Op = "count"   // a count cell: one writer an incarnation, its latest value stands
	OpCorrect Op = "correct" // a signed correction of a count cell by another device
	OpAdd     Op = "add"     // an element joins a set
	OpRemove  Op = "remove"  // an element leaves a set
)

// Names in Change.Extra.
const (
	ExtraSaw    = "saw"    // int, OpCorrect: the total that the corrector saw
	ExtraAfter  = "after"  // list of identities, OpCorrect: corrections it had seen, the one it followed first
	ExtraFormer = "former" // string, the identity under which the change was sent before
)

// Identity names a change among all changes of a farm: "incarnation:seq".
type Identity string

// Identity is the change's own.
func (c Change) Identity() Identity { return IdentityOf(c.Incarnation, c.Seq) }

// IdentityOf joins the two parts of an identity.
func IdentityOf(incarnation string, seq int64) Identity {
	return Identity(incarnation + ":" + strconv.FormatInt(seq, 10))
}

// Split takes an identity apart.
func (id Identity) Split() (incarnation string, seq int64, err error) {
	inc, digits, ok := strings.Cut(string(id), ":")
	seq, parseErr := strconv.ParseInt(digits, 10, 64)
	if !ok || inc == "" || len(id) > MaxNameBytes || strings.HasPrefix(digits, "+") || parseErr != nil || seq < 1 || seq > MaxInt {
		return "", 0, fmt.Errorf("%.60q is not an identity of the form incarnation:seq", string(id))
	}
	return inc, seq, nil
}

// Former is the identity under which the change was sent before, if it says so.
func (c Change) Former() (Identity, bool) {
	v, ok := c.Extra[ExtraFormer]
	return Identity(v.Text), ok && v.Kind == KindText
}

// Original is the change as it was under its former identity: same facts, old incarnation and seq.
func (c Change) Original() (Change, bool) {
	former, ok := c.Former()
	if !ok {
		return Change{}, false
	}
	inc, seq, err := former.Split()
	if err != nil {
		return Change{}, false
	}
	o := c
	o.Incarnation, o.Seq = inc, seq
	o.Extra = map[string]Value{}
	for k, v := range c.Extra {
		if k != ExtraFormer {
			o.Extra[k] = v
		}
	}
	return o, true
}
