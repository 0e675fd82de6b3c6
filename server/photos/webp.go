package photos

import (
	"bytes"
	"encoding/binary"

	"golang.org/x/image/webp"
)

// webpForm is WebP as RFC 9649 has it.
var webpForm = &form{
	mediaType: "image/webp", extension: ".webp",
	begins: func(head []byte) bool {
		return len(head) >= headBytes && string(head[:4]) == "RIFF" && string(head[8:12]) == "WEBP"
	},
	outline: outlineWebP, config: webp.DecodeConfig, decode: webp.Decode,
}

// outlineWebP goes from chunk to chunk: a kind of four letters, a length, the chunk's own bytes, and one
// more where that is odd. The file's own length counts from behind the first two fields.
func outlineWebP(data []byte) (o outline, ok bool) {
	const head = 8
	length := int64(binary.LittleEndian.Uint32(data[4:]))
	if length > int64(len(data)-head) {
		return o, false
	}
	o.end = head + int(length)
	rest := data[min(headBytes, o.end):o.end]
	for len(rest) >= head {
		length := int64(binary.LittleEndian.Uint32(rest[4:]))
		padded := length + length%2
		if padded > int64(len(rest)-head) {
			return o, false
		}
		o.readChunk(string(rest[:4]), rest[head:head+int(length)])
		rest = rest[head+int(padded):]
	}
	return o, len(rest) == 0
}

// readChunk adds what a pixel takes at most of memory: lossy pictures have half as many colour samples as
// pixels; lossless ones, and the transparency of lossy ones, take four bytes and as many again where their
// palette is undone.
func (o *outline) readChunk(kind string, body []byte) {
	switch kind {
	case "VP8 ":
		o.passes++
		o.perPixel += 2
	case "VP8L":
		o.passes++
		o.perPixel += 8
	case "ALPH":
		o.perPixel += 9
	case "EXIF":
		o.exif = bytes.TrimPrefix(body, exifPrefix) // some programs put JPEG's prefix here
	}
}
