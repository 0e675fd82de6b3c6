package syncproto

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Limits of a change and of a frame.
const (
	MaxFrameChanges     = 2_000
	MaxFrameBytes       = 4 << 20 // canonical, of all changes of a frame
	MaxFrameElements    = 65_536  // of all lists: a column of them can be far shorter than they are
	MaxOperationChanges = 32_000
	MaxOperationBytes   = 16 << 20 // canonical
	MaxMessageBytes     = 8 << 20  // after inflating
	MaxChangeBytes      = 1 << 20  // canonical
	MaxTextBytes        = 8_192
	MaxNameBytes        = 128 // ids, types, fields, ops, persons
	MaxListLen          = 1_000
	MaxExtra            = 16
	MaxInt              = 1<<53 - 1
)

// Check tells what keeps a change from being stored, whatever its meaning: bounds, identity, text.
func (c Change) Check() error {
	if !isUUID(c.Incarnation) {
		return fmt.Errorf("incarnation %q is not a UUID in lower case", c.Incarnation)
	}
	if c.Seq < 1 || c.Seq > MaxInt {
		return fmt.Errorf("seq %d is out of bounds", c.Seq)
	}
	if !c.Stamp.Valid() {
		return fmt.Errorf("stamp %d.%d is out of bounds", c.Stamp.L, c.Stamp.C)
	}
	if c.Rest < 0 || c.Rest >= MaxOperationChanges {
		return fmt.Errorf("rest %d is out of bounds", c.Rest)
	}
	if !slices.Contains(Scopes, c.Scope) {
		return fmt.Errorf("scope %q is unknown", c.Scope)
	}
	if err := checkNames(c); err != nil {
		return err
	}
	if err := c.Value.check(); err != nil {
		return fmt.Errorf("value: %w", err)
	}
	if err := checkExtra(c.Extra); err != nil {
		return err
	}
	if c.MostBytes() > MaxChangeBytes && len(c.Canonical()) > MaxChangeBytes {
		return fmt.Errorf("it has more than %d canonical bytes", MaxChangeBytes)
	}
	return nil
}

func checkNames(c Change) error {
	names := []struct {
		what, text string
		mayBeEmpty bool
	}{
		{"person", c.Person, true}, {"op", string(c.Op), false}, {"type", c.Type, false},
		{"id", c.ID, false}, {"field", c.Field, false},
	}
	for _, n := range names {
		if n.text == "" && n.mayBeEmpty {
			continue
		}
		if err := checkName(n.text); err != nil {
			return fmt.Errorf("%s: %w", n.what, err)
		}
	}
	return nil
}

func checkExtra(extra map[string]Value) error {
	if len(extra) > MaxExtra {
		return fmt.Errorf("it has %d extra parts, more than %d", len(extra), MaxExtra)
	}
	for k, v := range extra {
		if strings.Trim(k, "abcdefghijklmnopqrstuvwxyz_") != "" || k == "" {
			return fmt.Errorf("extra part %q: names are a to z and _", k)
		}
		if err := v.check(); err != nil {
			return fmt.Errorf("extra part %q: %w", k, err)
		}
	}
	return nil
}

func (v Value) check() error {
	switch v.Kind {
	case KindText:
		return checkText(v.Text, MaxTextBytes)
	case KindList:
		if len(v.List) > MaxListLen {
			return fmt.Errorf("a list of %d ids is longer than %d", len(v.List), MaxListLen)
		}
		for _, id := range v.List {
			if err := checkName(id); err != nil {
				return err
			}
		}
		return nil
	default:
		if v.Int > MaxInt || v.Int < -MaxInt {
			return fmt.Errorf("%d is beyond 2^53-1", v.Int)
		}
		return nil
	}
}

func checkName(s string) error {
	if s == "" {
		return fmt.Errorf("it is empty")
	}
	return checkText(s, MaxNameBytes)
}

func checkText(s string, limit int) error {
	if len(s) > limit {
		return fmt.Errorf("text of %d bytes is longer than %d", len(s), limit)
	}
	// json.Unmarshal puts U+FFFD where a lone surrogate stood, so the bytes would not round-trip.
	if strings.ContainsRune(s, '\uFFFD') || strings.ContainsRune(s, 0) {
		return fmt.Errorf("text %q holds a character that cannot be kept", s)
	}
	if !norm.NFC.IsNormalString(s) {
		return fmt.Errorf("text %q is not NFC", s)
	}
	return nil
}
