package photos

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"testing"
)

// orientations says where the first stored row and the first stored column are seen, in the words of
// CIPA DC-008 (Exif 2.32), section 4.6.5.1.6.
var orientations = []struct {
	value       uint16
	row, column string
}{
	{1, "top", "left"}, {2, "top", "right"}, {3, "bottom", "right"}, {4, "bottom", "left"},
	{5, "left", "top"}, {6, "right", "top"}, {7, "right", "bottom"}, {8, "left", "bottom"},
}

func TestAThumbnailIsTurnedAsThePictureIsSeen(t *testing.T) {
	stored := picture(64, 32)
	forms := []struct {
		name string
		file func(exif []byte) []byte
	}{
		{"JPEG", func(exif []byte) []byte {
			return withSegments(jpegBytes(t, stored), jpegSegment(jpegApp1, append([]byte("Exif\x00\x00"), exif...)))
		}},
		{"PNG", func(exif []byte) []byte { return withChunks(pngBytes(t, stored), pngChunk("eXIf", exif)) }},
		{"WebP", func(exif []byte) []byte {
			parts := testFile(t, "lossy.webp")[headBytes:] // it shows the same picture
			return webpBytes(parts, webpChunk("EXIF", exif))
		}},
	}
	for _, form := range forms {
		for _, o := range orientations {
			for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
				t.Run(fmt.Sprintf("%s %d %s", form.name, o.value, order), func(t *testing.T) {
					checkQuarters(t, decodeSmall(t, form.file(exif(order, o.value))), o.row, o.column)
				})
			}
		}
	}
}

// checkQuarters looks for each stored quarter where its row and its column are to be seen.
func checkQuarters(t *testing.T, small image.Image, row, column string) {
	t.Helper()
	opposite := map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
	stored := map[[2]string]color.Color{
		{row, column}: red, {row, opposite[column]}: green,
		{opposite[row], column}: blue, {opposite[row], opposite[column]}: yellow,
	}
	size := small.Bounds().Size()
	if want := image.Pt(64, 32); row == "top" || row == "bottom" {
		if size != want {
			t.Fatalf("the thumbnail is %v", size)
		}
	} else if size != image.Pt(32, 64) {
		t.Fatalf("the thumbnail is %v", size)
	}
	for sides, want := range stored {
		x, y := size.X/4, size.Y/4
		if slices.Contains(sides[:], "right") {
			x *= 3
		}
		if slices.Contains(sides[:], "bottom") {
			y *= 3
		}
		if got := small.At(x, y); !near(got, want) {
			t.Errorf("at %v is %v, want %v", sides, got, want)
		}
	}
}

func decodeSmall(t *testing.T, file []byte) image.Image {
	t.Helper()
	small, err := makeSmall(file, UsualLimits())
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(a, b color.Color) bool {
	ar, ag, ab, _ := a.RGBA()
	br, bg, bb, _ := b.RGBA()
	for _, d := range []int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
		if max(d, -d) > 0x1800 {
			return false
		}
	}
	return true
}

func TestWhatCannotBeReadOfExifIsUpright(t *testing.T) {
	whole := exif(binary.BigEndian, 6)
	if got := exifData(whole).orientation(); got != 6 {
		t.Fatalf("the whole is %d", got)
	}
	changed := func(at int, to ...byte) []byte {
		b := slices.Clone(whole)
		copy(b[at:], to)
		return b
	}
	tests := map[string][]byte{
		"nothing":                      nil,
		"an unknown byte order":        changed(0, 'X'),
		"a directory before the start": changed(4, 0xff, 0xff, 0xff, 0xff),
		"a directory at the very end":  changed(4, 0, 0, 0, byte(len(whole)-2)),
		"a directory beyond the end":   changed(4, 0, 0, 0, byte(len(whole))),
		"another type":                 changed(12, 0, 4),
		"two values":                   changed(14, 0, 0, 0, 2),
		"value 0":                      changed(18, 0, 0),
		"value 9":                      changed(18, 0, 9),
		"another tag":                  changed(10, 1, 0),
	}
	for name, data := range tests {
		if got := exifData(data).orientation(); got != upright {
			t.Errorf("%s: %d", name, got)
		}
	}
	for n := range len(whole) - 6 { // what follows the entry is not needed
		if got := exifData(whole[:n]).orientation(); got != upright {
			t.Errorf("cut to %d bytes: %d", n, got)
		}
	}
	many := changed(8, 0xff, 0xff, 1, 0) // 65,535 entries are said to be there, the first another
	if got := exifData(many).orientation(); got != upright {
		t.Errorf("too many entries: %d", got)
	}
}
