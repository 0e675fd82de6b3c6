package tags

import (
	"bytes"
	"encoding/binary"
	"math"

	"corymb/internal/colour"
)

// profileName is what the profile calls its colours.
const profileName = "sRGB IEC61966-2-1"

// curveSteps is how many points of the curve the profile has, which are joined by straight lines.
const curveSteps = 1024

// profileWhite is D50 as the format rounds it.
var profileWhite = colour.XYZ{X: 0.9642, Y: 1, Z: 0.8249}

// sRGBProfile is an ICC profile of sRGB, worked out from our own primaries and curve: three primaries adapted to D50
// and one curve (ICC.1:2001-04, a three-component matrix-based display profile, section 6.3.1.2).
func sRGBProfile() []byte {
	curve := curveTag()
	tags := []struct {
		name string
		data []byte
	}{
		{"desc", descriptionTag(profileName)},
		{"cprt", append(typed("text"), "Public domain\x00"...)},
		{"wtpt", xyzTag(profileWhite)},
		{"rXYZ", xyzTag(colour.ToD50(colour.SRGB.XYZ(colour.RGB{R: 1})))},
		{"gXYZ", xyzTag(colour.ToD50(colour.SRGB.XYZ(colour.RGB{G: 1})))},
		{"bXYZ", xyzTag(colour.ToD50(colour.SRGB.XYZ(colour.RGB{B: 1})))},
		{"rTRC", curve}, {"gTRC", curve}, {"bTRC", curve},
	}
	const head, perTag = 128, 12
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	var body []byte
	for _, tag := range tags {
		at := head + 4 + perTag*len(tags) + len(body)
		table = append(table, tag.name...)
		table = binary.BigEndian.AppendUint32(table, uint32(at))
		table = binary.BigEndian.AppendUint32(table, uint32(len(tag.data)))
		body = append(body, tag.data...)
		body = append(body, make([]byte, -len(body)&3)...) // each tag begins on a multiple of four
	}
	return bytes.Join([][]byte{profileHead(head + len(table) + len(body)), table, body}, nil)
}

// profileHead is the head of a profile of so many bytes: of a display, in RGB, with XYZ between profiles.
func profileHead(size int) []byte {
	head := make([]byte, 128)
	binary.BigEndian.PutUint32(head, uint32(size))
	copy(head[8:], "\x02\x40\x00\x00mntrRGB XYZ ")
	for i, part := range []int{written.Year(), int(written.Month()), written.Day()} {
		binary.BigEndian.PutUint16(head[24+2*i:], uint16(part))
	}
	copy(head[36:], "acsp")
	copy(head[68:], xyzNumber(profileWhite))
	return head
}

// typed is the head of a tag's data: its type, and four bytes that are kept free.
func typed(name string) []byte { return append([]byte(name), 0, 0, 0, 0) }

// descriptionTag is a name in ASCII, without the same in Unicode and in the script of old systems.
func descriptionTag(name string) []byte {
	data := binary.BigEndian.AppendUint32(typed("desc"), uint32(len(name)+1))
	data = append(append(data, name...), 0)
	return append(data, make([]byte, 4+4+2+1+67)...)
}

func xyzTag(c colour.XYZ) []byte { return append(typed("XYZ "), xyzNumber(c)...) }

// xyzNumber is three numbers in 65536ths.
func xyzNumber(c colour.XYZ) []byte {
	var data []byte
	for _, v := range []float64{c.X, c.Y, c.Z} {
		data = binary.BigEndian.AppendUint32(data, uint32(int32(math.Round(v*65536))))
	}
	return data
}

func curveTag() []byte {
	data := binary.BigEndian.AppendUint32(typed("curv"), curveSteps)
	for i := range curveSteps {
		light := colour.Decoded(float64(i) / (curveSteps - 1))
		data = binary.BigEndian.AppendUint16(data, uint16(math.Round(light*65535)))
	}
	return data
}
