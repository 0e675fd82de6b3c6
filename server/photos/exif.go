package photos

import (
	"bytes"
	"encoding/binary"
)

// exifData is Exif's own TIFF structure (CIPA DC-008, section 4.5).
type exifData []byte

// orientation says which sides of what is seen the first stored row and column are, by the values of CIPA
// DC-008, section 4.6.5.1.6:
//
//	value   1     2      3       4       5     6      7       8
//	row     top   top    bottom  bottom  left  right  right   left
//	column  left  right  right   left    top   top    bottom  bottom
type orientation int

const upright orientation = 1

// lies tells whether rows are seen as columns.
func (o orientation) lies() bool { return o >= 5 }

// rowsTurned and columnsTurned tell whether the first row is at the bottom or right, and the first column
// at the right or bottom.
func (o orientation) rowsTurned() bool    { return o == 3 || o == 4 || o == 6 || o == 7 }
func (o orientation) columnsTurned() bool { return o == 2 || o == 3 || o == 7 || o == 8 }

const (
	exifOrientation = 0x0112
	exifShort       = 3
	exifEntry       = 12 // bytes: tag, type, count, value
)

// orientation finds the orientation in the first directory. What cannot be read is upright: it is a hint
// of how to look at a picture, not part of it.
func (e exifData) orientation() orientation {
	order, ok := e.byteOrder()
	if !ok {
		return upright
	}
	at := int64(order.Uint32(e[4:]))
	if at > int64(len(e)-2) {
		return upright
	}
	entries := e[at+2:]
	for n := order.Uint16(e[at:]); n > 0 && len(entries) >= exifEntry; n-- {
		if order.Uint16(entries) == exifOrientation {
			return orientationOf(order, entries)
		}
		entries = entries[exifEntry:]
	}
	return upright
}

func (e exifData) byteOrder() (order binary.ByteOrder, ok bool) {
	switch {
	case len(e) < 8:
		return nil, false
	case bytes.HasPrefix(e, []byte("II*\x00")):
		return binary.LittleEndian, true
	case bytes.HasPrefix(e, []byte("MM\x00*")):
		return binary.BigEndian, true
	}
	return nil, false
}

func orientationOf(order binary.ByteOrder, entry []byte) orientation {
	kind, count, value := order.Uint16(entry[2:]), order.Uint32(entry[4:]), order.Uint16(entry[8:])
	if kind != exifShort || count != 1 || value < 1 || value > 8 {
		return upright
	}
	return orientation(value)
}
