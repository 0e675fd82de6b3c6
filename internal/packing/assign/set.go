package assign

import "math/bits"

// set is a set of small whole numbers.
type set []uint64

func newSet(size int) set { return make(set, (size+63)/64) }

func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) remove(i int)   { s[i/64] &^= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }

func (s set) size() int {
	sum := 0
	for _, word := range s {
		sum += bits.OnesCount64(word)
	}
	return sum
}

func (s set) union(other set) {
	for i := range s {
		s[i] |= other[i]
	}
}

func (s set) meets(other set) bool {
	for i := range s {
		if s[i]&other[i] != 0 {
			return true
		}
	}
	return false
}

// within says whether all of s is in other.
func (s set) within(other set) bool {
	for i := range s {
		if s[i]&^other[i] != 0 {
			return false
		}
	}
	return true
}

func (s set) equal(other set) bool {
	for i := range s {
		if s[i] != other[i] {
			return false
		}
	}
	return true
}

func (s set) clone() set { return append(set(nil), s...) }

// all walks the members in ascending order.
func (s set) all(yield func(int) bool) {
	for i, word := range s {
		for word != 0 {
			if !yield(i*64 + bits.TrailingZeros64(word)) {
				return
			}
			word &= word - 1
		}
	}
}
