package photos

import (
	"bytes"
	"encoding/binary"
	"image/png"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// pngForm is PNG as the W3C has it (Portable Network Graphics, third edition).
var pngForm = &form{
	mediaType: "image/png", extension: ".png",
	begins:  func(head []byte) bool { return bytes.HasPrefix(head, []byte(pngSignature)) },
	outline: outlinePNG, config: png.DecodeConfig, decode: png.Decode,
}

// outlinePNG goes from chunk to chunk: a length, a kind of four letters, the chunk's own bytes, a checksum.
func outlinePNG(data []byte) (o outline, ok bool) {
	const head, tail = 8, 4
	for at := len(pngSignature); len(data)-at >= head+tail; {
		length := int64(binary.BigEndian.Uint32(data[at:]))
		if length > int64(len(data)-at-head-tail) {
			return o, false
		}
		kind, body := string(data[at+4:at+head]), data[at+head:at+head+int(length)]
		at += head + len(body) + tail
		switch kind {
		case "IHDR":
			o.perPixel = pngMemory(body)
		case "IDAT":
			o.passes = 1
		case "eXIf":
			o.exif = body
		case "IEND":
			o.end = at
			return o, true
		}
	}
	return o, false
}

// pngMemory is what a pixel takes at most: four samples of one byte or two, and where the picture comes in
// seven passes, those beside the whole.
func pngMemory(header []byte) float64 {
	const depth, interlace, length = 8, 12, 13
	if len(header) != length {
		return 0 // image/png refuses it
	}
	perPixel := 4.0
	if header[depth] == 16 {
		perPixel = 8
	}
	if header[interlace] != 0 {
		perPixel *= 2
	}
	return perPixel
}
