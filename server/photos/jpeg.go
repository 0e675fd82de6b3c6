package photos

import (
	"bytes"
	"encoding/binary"
	"image/jpeg"
)

// jpegForm is JPEG as ITU-T T.81 has it.
var jpegForm = &form{
	mediaType: "image/jpeg", extension: ".jpg",
	begins:  func(head []byte) bool { return bytes.HasPrefix(head, []byte{0xff, jpegStart, 0xff}) },
	outline: outlineJPEG, config: jpeg.DecodeConfig, decode: jpeg.Decode,
}

// Markers of T.81, table B.1; Exif stands in APP1 (CIPA DC-008, section 4.5.5), the colours of some
// programs in APP14.
const (
	jpegFrame       = 0xc0 // also 0xc1
	jpegProgressive = 0xc2
	jpegRestart     = 0xd0 // to 0xd7
	jpegStart       = 0xd8
	jpegEnd         = 0xd9
	jpegScan        = 0xda
	jpegApp1        = 0xe1
	jpegApp14       = 0xee
)

var exifPrefix = []byte("Exif\x00\x00")

// outlineJPEG goes from marker to marker as image/jpeg does, so that both see the same end.
func outlineJPEG(data []byte) (o outline, ok bool) {
	for at := 2; ; {
		marker, next, found := nextMarker(data, at)
		switch {
		case !found:
			return o, false
		case marker == jpegEnd:
			o.end = next
			return o, true
		case marker&^7 == jpegRestart:
			at = next
			continue
		}
		body, ok := segment(data, next)
		if !ok {
			return o, false
		}
		o.readSegment(marker, body)
		at = next + 2 + len(body)
	}
}

// nextMarker finds the next marker, over the compressed bytes of a scan and over fill bytes, and where
// what it marks begins.
func nextMarker(data []byte, at int) (marker byte, next int, found bool) {
	for {
		i := bytes.IndexByte(data[at:], 0xff)
		if i < 0 {
			return 0, 0, false
		}
		for at += i; at < len(data) && data[at] == 0xff; at++ {
		}
		if at == len(data) {
			return 0, 0, false
		}
		if data[at] != 0 { // a zero makes the byte before it one of a scan's
			return data[at], at + 1, true
		}
	}
}

// segment is what stands behind a marker, whose length includes its own two bytes.
func segment(data []byte, at int) (body []byte, ok bool) {
	if len(data)-at < 2 {
		return nil, false
	}
	length := int(binary.BigEndian.Uint16(data[at:]))
	if length < 2 || length > len(data)-at {
		return nil, false
	}
	return data[at+2 : at+length], true
}

func (o *outline) readSegment(marker byte, body []byte) {
	switch marker {
	case jpegFrame, jpegFrame + 1, jpegProgressive:
		o.readFrame(body, marker == jpegProgressive)
	case jpegApp14:
		o.redone = true
	case jpegScan:
		o.passes++
	case jpegApp1:
		if tiff, is := bytes.CutPrefix(body, exifPrefix); is && o.exif == nil {
			o.exif = tiff
		}
	}
}

// readFrame tells the memory from the components, each of which has so many samples of a byte. Where the
// picture gets better from scan to scan, there are coefficients of four bytes as well until the last.
// Other colours than those that JPEG has of itself are written anew.
func (o *outline) readFrame(frame []byte, progressive bool) {
	const head, each = 6, 3 // bytes before the components, and of each
	if len(frame) < head+each {
		return // image/jpeg refuses it
	}
	most, sum := 1, 0
	for c := frame[head:]; len(c) >= each; c = c[each:] {
		samples := int(c[1]>>4) * int(c[1]&15)
		most, sum = max(most, samples), sum+samples
	}
	o.perPixel = float64(sum) / float64(most)
	if progressive {
		o.perPixel *= 5
	}
	components := frame[head-1]
	o.redone = o.redone || components == 4 || components == 3 && frame[head] == 'R'
}
