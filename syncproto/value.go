package syncproto

import "slices"

// Kind says which of the three shapes a value has.
type Kind uint8

// The shapes of a value.
const (
	KindInt Kind = iota
	KindText
	KindList
)

// Value is a whole number within ±(2^53-1), an NFC string, or a list of ids. The zero Value is 0.
type Value struct {
	Kind Kind
	Int  int64
	Text string
	List []string
}

// Int makes a number.
func Int(n int64) Value { return Value{Kind: KindInt, Int: n} }

// Text makes a string. It must be NFC to pass Check.
func Text(s string) Value { return Value{Kind: KindText, Text: s} }

// List makes a list of ids.
func List(ids ...string) Value { return Value{Kind: KindList, List: ids} }

// Equal tells whether two values are the same.
func (v Value) Equal(o Value) bool {
	return v.Kind == o.Kind && v.Int == o.Int && v.Text == o.Text && slices.Equal(v.List, o.List)
}
