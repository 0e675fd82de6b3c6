package syncproto

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"unicode/utf8"
)

// partCount is how many elements the canonical array of a change has.
const partCount = 14

// AppendCanonical appends the change's canonical bytes: the JSON array
//
//	[incarnation,seq,l,c,rest,person,scope,op,type,id,field,value,extra,0]
//
// in the form of RFC 8785 (JCS). The last element is reserved and always 0.
func (c Change) AppendCanonical(b []byte) []byte {
	b = append(b, '[')
	b = appendText(b, c.Incarnation)
	for _, n := range [...]int64{c.Seq, c.Stamp.L, c.Stamp.C, int64(c.Rest)} {
		b = append(b, ',')
		b = strconv.AppendInt(b, n, 10)
	}
	for _, s := range [...]string{c.Person, string(c.Scope), string(c.Op), c.Type, c.ID, c.Field} {
		b = append(b, ',')
		b = appendText(b, s)
	}
	b = append(b, ',')
	b = c.Value.AppendCanonical(b)
	b = append(b, ',')
	b = appendExtra(b, c.Extra)
	return append(b, ",0]"...)
}

// Canonical returns the change's canonical bytes.
func (c Change) Canonical() []byte { return c.AppendCanonical(nil) }

// MarshalJSON makes a change travel as its canonical array.
func (c Change) MarshalJSON() ([]byte, error) { return c.Canonical(), nil }

// AppendCanonical appends the value as a JSON number, string or array of strings.
func (v Value) AppendCanonical(b []byte) []byte {
	switch v.Kind {
	case KindText:
		return appendText(b, v.Text)
	case KindList:
		b = append(b, '[')
		for i, id := range v.List {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendText(b, id)
		}
		return append(b, ']')
	default:
		return strconv.AppendInt(b, v.Int, 10)
	}
}

// MarshalJSON writes the value in canonical form.
func (v Value) MarshalJSON() ([]byte, error) { return v.AppendCanonical(nil), nil }

func appendExtra(b []byte, extra map[string]Value) []byte {
	keys := make([]string, 0, len(extra))
	for k := range extra {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	b = append(b, '{')
	for i, k := range keys {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendText(b, k)
		b = append(b, ':')
		b = extra[k].AppendCanonical(b)
	}
	return append(b, '}')
}

// appendText writes a string as RFC 8785 section 3.2.2.2 wants it: only the quote, the backslash
// and control characters are escaped. encoding/json escapes more.
func appendText(b []byte, s string) []byte {
	const short = "btnfr"
	b = append(b, '"')
	for i := range len(s) {
		switch ch := s[i]; {
		case ch == '"' || ch == '\\':
			b = append(b, '\\', ch)
		case ch >= 0x20:
			b = append(b, ch)
		default:
			if k := bytes.IndexByte([]byte("\b\t\n\f\r"), ch); k >= 0 {
				b = append(b, '\\', short[k])
			} else {
				b = append(b, `\u00`...)
				b = append(b, hex.EncodeToString([]byte{ch})...)
			}
		}
	}
	return append(b, '"')
}

// UnmarshalJSON reads a change from its array. It checks shapes, not limits: see Check.
func (c *Change) UnmarshalJSON(data []byte) error {
	var parts []json.RawMessage
	if err := json.Unmarshal(data, &parts); err != nil {
		return fmt.Errorf("reading a change: %w", err)
	}
	if len(parts) != partCount {
		return fmt.Errorf("reading a change: it has %d parts, want %d", len(parts), partCount)
	}
	var reserved int64
	targets := [partCount]any{
		&c.Incarnation, &c.Seq, &c.Stamp.L, &c.Stamp.C, &c.Rest, &c.Person, &c.Scope,
		&c.Op, &c.Type, &c.ID, &c.Field, &c.Value, &c.Extra, &reserved,
	}
	c.Extra = nil
	for i, part := range parts {
		if !utf8.Valid(part) || bytes.Equal(part, []byte("null")) {
			return fmt.Errorf("reading part %d of a change: it is null or not UTF-8", i+1)
		}
		if err := json.Unmarshal(part, targets[i]); err != nil {
			return fmt.Errorf("reading part %d of a change: %w", i+1, err)
		}
	}
	if reserved != 0 {
		return fmt.Errorf("reading a change: its last part is %d, want 0", reserved)
	}
	if len(c.Extra) == 0 {
		c.Extra = nil
	}
	return nil
}

// UnmarshalJSON reads a number, a string or an array of strings.
func (v *Value) UnmarshalJSON(data []byte) error {
	*v = Value{}
	switch data[0] {
	case 'n':
		return fmt.Errorf("null is not a value")
	case '"':
		v.Kind = KindText
		return json.Unmarshal(data, &v.Text)
	case '[':
		v.Kind = KindList
		v.List = []string{}
		return json.Unmarshal(data, &v.List)
	default:
		return json.Unmarshal(data, &v.Int)
	}
}
