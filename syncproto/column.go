package syncproto

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/bits"
)

// A column is a run of whole numbers in the shortest of three forms (PROTOCOL.md, section 4). Both
// packed forms are frame-of-reference coding: what is left above the least number has so many bits.

const (
	formPlain = iota
	formDifferences
	formRaw
)

// maxWidth keeps packed numbers within what a reader can shift in one machine word, and within the
// numbers that JavaScript holds exactly.
const maxWidth = 48

// appendColumn writes the numbers, which lie within ±MaxInt.
func appendColumn(b []byte, numbers []int64) []byte {
	if len(numbers) == 0 {
		return b
	}
	plain, differences := packingOf(numbers)
	form, size := formPlain, plain.size(len(numbers), 0)
	if s := differences.size(len(numbers)-1, svarintLen(numbers[0])); s < size {
		form, size = formDifferences, s
	}
	if s := rawSize(numbers); s < size {
		form = formRaw
	}
	switch form {
	case formPlain:
		b = append(b, byte(formPlain<<6|plain.width))
		b = appendSvarint(b, plain.base)
		return plain.pack(b, numbers)
	case formDifferences:
		b = append(b, byte(formDifferences<<6|differences.width))
		b = appendSvarint(b, numbers[0])
		if len(numbers) == 1 {
			return b
		}
		b = appendSvarint(b, differences.base)
		return differences.packDifferences(b, numbers)
	default:
		b = append(b, formRaw<<6)
		for _, n := range numbers {
			b = appendSvarint(b, n)
		}
		return b
	}
}

// packing is a base and the bits that each number above it takes.
type packing struct {
	base  int64
	width int // more than maxWidth where the numbers cannot be packed
}

func packingBetween(low, high int64) packing {
	if low < -MaxInt || high > MaxInt {
		return packing{width: maxWidth + 1}
	}
	return packing{base: low, width: bits.Len64(uint64(high - low))}
}

func packingOf(numbers []int64) (plain, differences packing) {
	low, high := numbers[0], numbers[0]
	var lowD, highD int64
	for i, n := range numbers {
		low, high = min(low, n), max(high, n)
		if i == 0 {
			continue
		}
		d := n - numbers[i-1]
		if i == 1 {
			lowD, highD = d, d
		}
		lowD, highD = min(lowD, d), max(highD, d)
	}
	return packingBetween(low, high), packingBetween(lowD, highD)
}

// size is the length in bytes of k packed numbers with their header; before is what stands ahead.
func (p packing) size(k, before int) int {
	const never = math.MaxInt
	if p.width > maxWidth {
		return never
	}
	if k == 0 { // differences of a single number: no base
		return 1 + before
	}
	return 1 + before + svarintLen(p.base) + (k*p.width+7)/8
}

func (p packing) pack(b []byte, numbers []int64) []byte {
	w := bitWriter{bytes: b}
	for _, n := range numbers {
		w.write(uint64(n-p.base), p.width)
	}
	return w.finish()
}

func (p packing) packDifferences(b []byte, numbers []int64) []byte {
	w := bitWriter{bytes: b}
	for i := 1; i < len(numbers); i++ {
		w.write(uint64(numbers[i]-numbers[i-1]-p.base), p.width)
	}
	return w.finish()
}

func rawSize(numbers []int64) int {
	size := 1
	for _, n := range numbers {
		size += svarintLen(n)
	}
	return size
}

// bitWriter fills each byte from its lowest bit.
type bitWriter struct {
	bytes []byte
	held  uint64
	n     int
}

func (w *bitWriter) write(v uint64, width int) {
	w.held |= v << w.n
	w.n += width
	for w.n >= 8 {
		w.bytes = append(w.bytes, byte(w.held))
		w.held >>= 8
		w.n -= 8
	}
}

func (w *bitWriter) finish() []byte {
	if w.n > 0 {
		w.bytes = append(w.bytes, byte(w.held))
	}
	return w.bytes
}

// packReader reads the parts of a batch in turn. The first fault stops it; what it returns after
// that means nothing.
type packReader struct {
	data  []byte
	fault error
}

func (r *packReader) fail(format string, args ...any) {
	if r.fault == nil {
		r.fault = fmt.Errorf(format, args...)
	}
	r.data = nil
}

func (r *packReader) byte() byte {
	if len(r.data) == 0 {
		r.fail("it ends early")
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

func (r *packReader) bytes(n int) []byte {
	if n < 0 || n > len(r.data) {
		r.fail("it ends early")
		return nil
	}
	b := r.data[:n]
	r.data = r.data[n:]
	return b
}

// uvarint reads a number up to MaxInt.
func (r *packReader) uvarint() int64 {
	v, n := binary.Uvarint(r.data)
	if n <= 0 || v > MaxInt {
		r.fail("it holds a number that is cut short or too large")
		return 0
	}
	r.data = r.data[n:]
	return int64(v)
}

// count reads a number of things of which there may be so many.
func (r *packReader) count(most int) int {
	n := r.uvarint()
	if n > int64(most) {
		r.fail("it holds %d of what there may be %d", n, most)
		return 0
	}
	return int(n)
}

// svarint reads a number within ±MaxInt.
func (r *packReader) svarint() int64 {
	v, n := binary.Uvarint(r.data)
	if n <= 0 || v > 2*MaxInt {
		r.fail("it holds a number that is cut short or too large")
		return 0
	}
	r.data = r.data[n:]
	return int64(v>>1) ^ -int64(v&1)
}

// column reads numbers into all of into.
func (r *packReader) column(into []int64) {
	if len(into) == 0 {
		return
	}
	header := r.byte()
	form, width := int(header>>6), int(header&63)
	if width > maxWidth || form > formRaw || form == formRaw && width != 0 {
		r.fail("it holds a column of unknown form %d", header)
		return
	}
	switch form {
	case formPlain:
		base := r.svarint()
		r.packed(into, width)
		for i := range into {
			into[i] = r.within(into[i] + base)
		}
	case formDifferences:
		r.differences(into, width)
	default:
		for i := range into {
			into[i] = r.svarint()
		}
	}
}

func (r *packReader) differences(into []int64, width int) {
	into[0] = r.svarint()
	if len(into) == 1 {
		return
	}
	base := r.svarint()
	r.packed(into[1:], width)
	for i := 1; i < len(into); i++ {
		into[i] = r.within(into[i-1] + r.within(into[i]+base))
	}
}

func (r *packReader) within(n int64) int64 {
	if n > MaxInt || n < -MaxInt {
		r.fail("it holds a number beyond 2^53-1")
		return 0
	}
	return n
}

func (r *packReader) packed(into []int64, width int) {
	data := r.bytes((len(into)*width + 7) / 8)
	if r.fault != nil || width == 0 {
		clear(into)
		return
	}
	mask := uint64(1)<<width - 1
	for i := range into {
		at := i * width
		into[i] = int64(wordAt(data, at>>3) >> (at & 7) & mask)
	}
}

// wordAt is the little-endian word that begins at a byte, with zeros beyond the end.
func wordAt(data []byte, at int) uint64 {
	if at+8 <= len(data) {
		return binary.LittleEndian.Uint64(data[at:])
	}
	var word [8]byte
	copy(word[:], data[at:])
	return binary.LittleEndian.Uint64(word[:])
}

func appendSvarint(b []byte, n int64) []byte {
	return binary.AppendUvarint(b, zigzag(n))
}

func svarintLen(n int64) int { return max(1, (bits.Len64(zigzag(n))+6)/7) }

func zigzag(n int64) uint64 { return uint64(n)<<1 ^ uint64(n>>63) }
