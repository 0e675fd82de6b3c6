package photos

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// The four quarters of the test picture, as seen: so a picture shows how it is turned.
var (
	red    = color.RGBA{R: 0xe0, A: 0xff}
	green  = color.RGBA{G: 0xc0, A: 0xff}
	blue   = color.RGBA{B: 0xe0, A: 0xff}
	yellow = color.RGBA{R: 0xe0, G: 0xe0, A: 0xff}
)

// quartered is a picture with one colour in each quarter: top left, top right, bottom left, bottom right.
func quartered(width, height int, quarters [4]color.RGBA) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			m.SetRGBA(x, y, quarters[2*(2*y/height)+2*x/width])
		}
	}
	return m
}

func picture(width, height int) *image.RGBA {
	return quartered(width, height, [4]color.RGBA{red, green, blue, yellow})
}

func jpegBytes(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngBytes(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withSegments is a JPEG with more segments behind its first marker.
func withSegments(picture []byte, segments ...[]byte) []byte {
	return bytes.Join([][]byte{picture[:2], bytes.Join(segments, nil), picture[2:]}, nil)
}

func jpegSegment(marker byte, body []byte) []byte {
	return append([]byte{0xff, marker, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
}

func pngChunk(kind string, body []byte) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	chunk = append(append(chunk, kind...), body...)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

// pngHeader is a PNG's signature and its first chunk (PNG third edition, section 11.2.1).
func pngHeader(width, height uint32, depth, colour, interlace byte) []byte {
	header := binary.BigEndian.AppendUint32(nil, width)
	header = binary.BigEndian.AppendUint32(header, height)
	header = append(header, depth, colour, 0, 0, interlace)
	return append([]byte(pngSignature), pngChunk("IHDR", header)...)
}

const pngHeaderBytes = 8 + 25

// withChunks is a PNG with more chunks behind its first.
func withChunks(picture []byte, chunks ...[]byte) []byte {
	return bytes.Join([][]byte{picture[:pngHeaderBytes], bytes.Join(chunks, nil), picture[pngHeaderBytes:]}, nil)
}

func webpBytes(chunks ...[]byte) []byte {
	body := append([]byte("WEBP"), bytes.Join(chunks, nil)...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

func webpChunk(kind string, body []byte) []byte {
	chunk := append(binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body))), body...)
	return append(chunk, make([]byte, len(body)%2)...)
}

// losslessChunk is a lossless WebP of one colour. Each of its five prefix codes has a single symbol, so
// its pixels need no bits at all, whatever their number (RFC 9649, section 3.7.2.1.1).
func losslessChunk(width, height int, c color.RGBA) []byte {
	var b bitWriter
	b.write(0x2f, 8)
	b.write(width-1, 14)
	b.write(height-1, 14)
	b.write(0, 1+3) // no transparency, version 0
	b.write(0, 1)   // no transform
	b.write(0, 1)   // no colour cache
	b.write(0, 1)   // one group of codes
	for _, symbol := range []uint8{c.G, c.R, c.B, c.A, 0} {
		b.write(1, 1) // a simple code
		b.write(0, 1) // of one symbol
		b.write(1, 1) // of eight bits
		b.write(int(symbol), 8)
	}
	return webpChunk("VP8L", b.bytes)
}

// extendedChunk is the header of a WebP with more than one part (RFC 9649, section 2.7).
func extendedChunk(flags byte, width, height int) []byte {
	body := append([]byte{flags, 0, 0, 0}, byte(width-1), byte((width-1)>>8), byte((width-1)>>16))
	return webpChunk("VP8X", append(body, byte(height-1), byte((height-1)>>8), byte((height-1)>>16)))
}

// bitWriter writes the least bit first.
type bitWriter struct {
	bytes []byte
	n     int
}

func (b *bitWriter) write(value, bits int) {
	for i := range bits {
		if b.n%8 == 0 {
			b.bytes = append(b.bytes, 0)
		}
		b.bytes[b.n/8] |= byte(value>>i&1) << (b.n % 8)
		b.n++
	}
}

// exif is an Exif structure that says an orientation and nothing else.
func exif(order binary.AppendByteOrder, value uint16) []byte {
	b := []byte("II*\x00")
	if order == binary.AppendByteOrder(binary.BigEndian) {
		b = []byte("MM\x00*")
	}
	b = order.AppendUint32(b, 8) // where the directory begins
	b = order.AppendUint16(b, 1) // it has one entry
	b = order.AppendUint16(b, exifOrientation)
	b = order.AppendUint16(b, exifShort)
	b = order.AppendUint32(b, 1)
	b = order.AppendUint16(b, value)
	return append(b, 0, 0, 0, 0, 0, 0)
}

func hashOf(data []byte) Hash { return sha256.Sum256(data) }
