package photos

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"os"
	"runtime"
	"strings"
	"testing"
)

func deflated(data []byte) []byte {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	_, err := w.Write(data)
	if err := errors.Join(err, w.Close()); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// emptyPNG is a small file of a large PNG: one bit a pixel, all the same.
func emptyPNG(width, height int) []byte {
	rows := deflated(make([]byte, height*(1+(width+7)/8)))
	return bytes.Join([][]byte{pngHeader(uint32(width), uint32(height), 1, 0, 0), pngChunk("IDAT", rows), pngChunk("IEND", nil)}, nil)
}

// sized is a JPEG that says another size of itself than it has.
func sized(file []byte, width, height uint16) []byte {
	i := bytes.Index(file, []byte{0xff, jpegFrame})
	changed := bytes.Clone(file)
	binary.BigEndian.PutUint16(changed[i+5:], height)
	binary.BigEndian.PutUint16(changed[i+7:], width)
	return changed
}

// progressive is the beginning of a progressive JPEG of a size, with three components of as many samples.
func progressive(width, height uint16) []byte {
	frame := binary.BigEndian.AppendUint16([]byte{8}, height)
	frame = append(binary.BigEndian.AppendUint16(frame, width), 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0)
	return append([]byte{0xff, jpegStart}, jpegSegment(jpegProgressive, frame)...)
}

// manyScans is a progressive JPEG of a few bytes for each of its many scans. Its one code says that 16,384
// blocks stay as they are (EOB14 with zeros behind it, T.81 section G.1.2.2), so a decoder goes through all
// of them for each scan and comes out where it was.
func manyScans(width, height uint16, scans int) []byte {
	file := progressive(width, height)
	file = append(file, jpegSegment(0xc4, append([]byte{0x10, 1}, append(make([]byte, 15), 0xe0)...))...)
	blocks := (int(width) + 7) / 8 * ((int(height) + 7) / 8)
	for range scans {
		file = append(file, jpegSegment(jpegScan, []byte{1, 1, 0x00, 1, 63, 0x00})...)
		file = append(file, make([]byte, (blocks/16384+1)*15/8+1)...)
	}
	return append(file, 0xff, jpegEnd)
}

const zipFile = "PK\x05\x06" + "\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00" // an empty one

func TestOnlySafePicturesAreTaken(t *testing.T) {
	small := picture(64, 32)
	inJPEG, inPNG := jpegBytes(t, small), pngBytes(t, small)
	inWebP := webpBytes(losslessChunk(64, 32, red))
	lossy, transparent := testFile(t, "lossy.webp"), testFile(t, "transparent.webp")
	deep := pngBytes(t, image.NewRGBA64(image.Rect(0, 0, 64, 32)))
	adobe := []byte("Adobe\x00\x64\x00\x00\x00\x00\x01") // YCbCr, as without it
	script := "<script>alert(1)</script>"
	join := func(parts ...[]byte) []byte { return bytes.Join(parts, nil) }

	tests := []struct {
		name string
		file []byte
		code Code // none: it is taken
	}{
		{"a JPEG", inJPEG, ""},
		{"a grey JPEG", jpegBytes(t, image.NewGray(small.Bounds())), ""},
		{"a JPEG whose colours a program marked", withSegments(inJPEG, jpegSegment(jpegApp14, adobe)), ""},
		{"a PNG", inPNG, ""},
		{"a PNG of 16 bits", deep, ""},
		{"a PNG with a palette", pngBytes(t, image.NewPaletted(small.Bounds(), color.Palette{red, green})), ""},
		{"a lossless WebP", inWebP, ""},
		{"a lossy WebP", lossy, ""},
		{"a lossy WebP with transparency", transparent, ""},
		{"a picture of one pixel", pngBytes(t, picture(1, 1)), ""},
		{"a picture of one row", pngBytes(t, picture(20_000, 1)), ""},
		{"a script in a JPEG's comment", withSegments(inJPEG, jpegSegment(0xfe, []byte(script))), ""},
		{"a script in a PNG's text", withChunks(inPNG, pngChunk("tEXt", []byte("Comment\x00"+script))), ""},
		{"a progressive JPEG of some scans", manyScans(800, 800, 10), ""},
		{"fill bytes before a JPEG's marker", withSegments(inJPEG, []byte{0xff, 0xff}), ""},

		{"nothing that is a picture", []byte("plain text, long enough"), CodeType},
		{"less than any picture", []byte{0xff}, CodeType},
		{"an SVG", []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`), CodeType},
		{"a page", []byte("<!doctype html>" + script), CodeType},
		{"a GIF", []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), CodeType},
		{"a zip", []byte(zipFile), CodeType},
		{"a page before a JPEG", join([]byte("<!--"), inJPEG), CodeType},
		{"a RIFF that is sound", []byte("RIFF\x04\x00\x00\x00WAVE"), CodeType},

		{"a JPEG with a page behind it", join(inJPEG, []byte(script)), CodeTrailing},
		{"a JPEG with a zip behind it", join(inJPEG, []byte(zipFile)), CodeTrailing},
		{"a JPEG with another behind it", join(inJPEG, inJPEG), CodeTrailing},
		{"a PNG with a page behind it", join(inPNG, []byte(script)), CodeTrailing},
		{"a PNG with a zip behind it", join(inPNG, []byte(zipFile)), CodeTrailing},
		{"a WebP with a page behind it", join(inWebP, []byte(script)), CodeTrailing},
		{"a lossy WebP with a zip behind it", join(lossy, []byte(zipFile)), CodeTrailing},

		{"a JPEG that says 65,535 by 65,535", sized(inJPEG, 65_535, 65_535), CodePixels},
		{"a JPEG that says a long side", sized(inJPEG, 65_535, 1), CodePixels},
		{"a progressive JPEG that needs much memory", manyScans(7000, 7000, 1), CodePixels},
		{"a progressive JPEG of many scans", manyScans(800, 800, maxPasses+1), CodePixels},
		{"a JPEG whose colours need much memory", sized(withSegments(inJPEG, jpegSegment(jpegApp14, adobe)), 7000, 7000), CodePixels},
		{"a PNG that says 2,147,483,647 by 1", join(pngHeader(1<<31-1, 1, 8, 2, 0), pngChunk("IEND", nil)), CodePixels},
		{"a PNG that says 60,000 by 60,000", join(pngHeader(60_000, 60_000, 8, 2, 0), pngChunk("IDAT", nil)), CodePixels},
		{"a PNG of 16 bits that needs much memory", join(pngHeader(7000, 7000, 16, 6, 0), pngChunk("IEND", nil)), CodePixels},
		{"an interlaced PNG that needs much memory", join(pngHeader(7000, 7000, 8, 6, 1), pngChunk("IEND", nil)), CodePixels},
		{"a PNG that packs 81 million pixels", emptyPNG(9000, 9000), CodePixels},
		{"a WebP of 268 million pixels in 40 bytes", webpBytes(losslessChunk(16_383, 16_383, red)), CodePixels},
		{"a WebP that needs much memory", webpBytes(losslessChunk(7000, 7000, red)), CodePixels},
		{"a WebP of a canvas without end", webpBytes(extendedChunk(0, 1<<15, 1<<15), losslessChunk(1, 1, red)), CodePixels},

		{"a JPEG without pixels", sized(inJPEG, 0, 32), CodeDamaged},
		{"a JPEG that is cut off", inJPEG[:len(inJPEG)-20], CodeDamaged},
		{"a JPEG of two frames", withSegments(inJPEG, progressive(8, 8)[2:]), CodeDamaged},
		{"a PNG that is cut off", inPNG[:len(inPNG)-5], CodeDamaged},
		{"a PNG with a wrong checksum", bytes.Replace(inPNG, []byte("IDAT"), []byte("IDaT"), 1), CodeDamaged},
		{"a PNG of more rows than it says", join(pngHeader(8, 1, 1, 0, 0), pngChunk("IDAT", deflated(make([]byte, 20<<20))), pngChunk("IEND", nil)), CodeDamaged},
		{"a WebP that is cut off", lossy[:len(lossy)-2], CodeDamaged},
		{"a WebP whose canvas is another than its picture", webpBytes(extendedChunk(0, 10, 10), losslessChunk(4000, 4000, red)), CodeDamaged},
		{"a WebP of a chunk longer than the file", webpBytes(losslessChunk(8, 8, red), []byte("EXIF\xff\xff\xff\x7f")), CodeDamaged},
		{"a WebP that moves", webpBytes(extendedChunk(2, 8, 8), webpChunk("ANIM", make([]byte, 6))), CodeDamaged},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := allocated()
			got, err := makeSmall(tt.file, UsualLimits())
			spent := allocated() - before
			var refusal *Refusal
			switch {
			case tt.code == "" && err != nil:
				t.Errorf("refused: %v", err)
			case tt.code == "":
				if m, err := decodeConfig(got); err != nil || m.Width > smallSide || m.Height > smallSide {
					t.Errorf("the thumbnail is %+v, %v", m, err)
				}
			case !errors.As(err, &refusal) || refusal.Code != tt.code || !strings.Contains(refusal.Text, "safe"):
				t.Errorf("%v, want %s", err, tt.code)
			case spent > 2<<20: // a decoder's tables, and never the pixels
				t.Errorf("to refuse it took %d bytes of memory", spent)
			}
		})
	}
}

func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

func decodeConfig(file []byte) (image.Config, error) {
	config, _, err := image.DecodeConfig(bytes.NewReader(file))
	return config, err
}

// testFile reads a file that Chromium made, from a canvas with canvas.toBlob.
func testFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestAThumbnailKeepsTheShape(t *testing.T) {
	tests := []struct{ width, height, toWidth, toHeight int }{
		{64, 32, 64, 32},
		{320, 320, 320, 320},
		{640, 480, 320, 240},
		{480, 640, 240, 320},
		{3000, 2, 320, 1},
		{2, 3000, 1, 320},
	}
	for _, tt := range tests {
		small, err := makeSmall(pngBytes(t, picture(tt.width, tt.height)), UsualLimits())
		if err != nil {
			t.Fatal(err)
		}
		if got, err := decodeConfig(small); err != nil || got.Width != tt.toWidth || got.Height != tt.toHeight {
			t.Errorf("%d by %d becomes %d by %d (%v)", tt.width, tt.height, got.Width, got.Height, err)
		}
	}
}

func TestAThumbnailTellsNothingButThePicture(t *testing.T) {
	const secret = "GPSLatitude 51.5"
	file := withSegments(jpegBytes(t, picture(64, 32)),
		jpegSegment(jpegApp1, append([]byte("Exif\x00\x00"), append(exif(binary.BigEndian, 1), secret...)...)),
		jpegSegment(0xfe, []byte(secret)))
	small, err := makeSmall(file, UsualLimits())
	if err != nil || bytes.Contains(small, []byte(secret)) || bytes.Contains(small, []byte("Exif")) {
		t.Errorf("%v; it holds %q", err, small)
	}
}

func TestATransparentPictureStandsOnWhite(t *testing.T) {
	file := pngBytes(t, image.NewNRGBA(image.Rect(0, 0, 64, 32)))
	if got := decodeSmall(t, file).At(10, 10); !near(got, color.White) {
		t.Errorf("it stands on %v", got)
	}
}

func TestTheLargestPictureIsTaken(t *testing.T) {
	if _, err := makeSmall(emptyPNG(8000, 8000), UsualLimits()); err != nil {
		t.Error(err)
	}
}
