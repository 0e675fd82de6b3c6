package syncproto

import (
	"cmp"
	"encoding/json"
	"fmt"
)

// Stamp is a hybrid logical time (Kulkarni et al. 2014): L in milliseconds since 1970 UTC, C a
// counter within L. A device's stamps and the server's orders are both of this shape.
type Stamp struct {
	L int64
	C int64
}

// Bounds of a stamp. MaxL is the last millisecond of the year 9999.
const (
	MaxL = 253_402_300_799_999
	MaxC = 65_535
)

// Compare orders stamps by L, then C.
func (s Stamp) Compare(o Stamp) int {
	if d := cmp.Compare(s.L, o.L); d != 0 {
		return d
	}
	return cmp.Compare(s.C, o.C)
}

// Next is the smallest stamp above s: a counter that is full carries into L.
func (s Stamp) Next() Stamp {
	if s.C >= MaxC {
		return Stamp{L: s.L + 1}
	}
	return Stamp{L: s.L, C: s.C + 1}
}

// Valid tells whether the stamp lies within its bounds.
func (s Stamp) Valid() bool { return s.L >= 0 && s.L <= MaxL && s.C >= 0 && s.C <= MaxC }

// MarshalJSON writes [l,c].
func (s Stamp) MarshalJSON() ([]byte, error) { return json.Marshal([2]int64{s.L, s.C}) }

// UnmarshalJSON reads [l,c].
func (s *Stamp) UnmarshalJSON(data []byte) error {
	n, err := numbers(data, 2)
	if err != nil {
		return fmt.Errorf("reading a stamp: %w", err)
	}
	*s = Stamp{L: n[0], C: n[1]}
	return nil
}
