package tags

import (
	"encoding/binary"
	"math"
	"testing"
)

// part is the data of a tag of a profile, read by the format's own table.
func part(t *testing.T, profile []byte, name string) []byte {
	t.Helper()
	for i := range int(binary.BigEndian.Uint32(profile[128:])) {
		entry := profile[132+12*i:]
		if string(entry[:4]) == name {
			at, size := binary.BigEndian.Uint32(entry[4:]), binary.BigEndian.Uint32(entry[8:])
			if at%4 != 0 || int(at+size) > len(profile) {
				t.Fatalf("%s lies at %d, %d bytes", name, at, size)
			}
			return profile[at : at+size]
		}
	}
	t.Fatalf("there is no %s", name)
	return nil
}

func TestTheProfileIsThatOfSRGB(t *testing.T) {
	profile := sRGBProfile()
	if int(binary.BigEndian.Uint32(profile)) != len(profile) || len(profile)%4 != 0 || string(profile[36:40]) != "acsp" || string(profile[12:24]) != "mntrRGB XYZ " {
		t.Fatalf("its head is %q, of %d bytes", profile[:44], len(profile))
	}
	// The colorants of the ICC's own sRGB2014.icc, to four digits (from memory), and D50 as the format has it.
	for name, want := range map[string][3]float64{
		"rXYZ": {0.4361, 0.2225, 0.0139}, "gXYZ": {0.3851, 0.7169, 0.0971}, "bXYZ": {0.1431, 0.0606, 0.7141}, "wtpt": {0.9642, 1, 0.8249},
	} {
		for i := range 3 {
			got := float64(int32(binary.BigEndian.Uint32(part(t, profile, name)[8+4*i:]))) / 65536
			if math.Abs(got-want[i]) > 2e-4 {
				t.Errorf("%s has %.5f, want %.4f", name, got, want[i])
			}
		}
	}
	for _, name := range []string{"rTRC", "gTRC", "bTRC"} {
		curve := part(t, profile, name)
		// The light of 128 of 255 is 0.21586 (worked out by hand from IEC 61966-2-1).
		at := 128.0 / 255 * (curveSteps - 1)
		point := func(i int) float64 { return float64(binary.BigEndian.Uint16(curve[12+2*i:])) / 65535 }
		low, rest := int(at), at-math.Floor(at)
		if got := point(low)*(1-rest) + point(low+1)*rest; math.Abs(got-0.21586) > 2e-5 || point(0) != 0 || point(curveSteps-1) != 1 {
			t.Errorf("%s has %.5f in the middle, from %v to %v", name, got, point(0), point(curveSteps-1))
		}
	}
}
