package photos

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"testing"
	"testing/iotest"
	"time"
)

// FuzzPhoto sends what may be a photo through the door, in two pieces. Whatever it is, it is kept byte for
// byte with a thumbnail that can be decoded, or refused with a reason and gone. Faults of the decoders,
// which the door takes for damaged pictures, are let through here so that they are found.
func FuzzPhoto(f *testing.F) {
	limits := UsualLimits()
	limits.Bytes, limits.Pixels, limits.Memory = 1<<20, 250_000, 2<<20
	p, err := open(f.TempDir(), limits, time.Now, unsynced{})
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range fuzzSeeds(f) {
		f.Add(seed, uint16(len(seed)/2))
	}
	f.Fuzz(func(t *testing.T, data []byte, first uint16) {
		small, err := makeSmall(data, limits)
		checkJudged(t, small, err)
		if err == nil {
			checkReadToItsEnd(t, data)
		}
		if len(data) == 0 || len(data) > int(limits.Bytes) {
			return
		}
		h, size, cut := hashOf(data), int64(len(data)), min(int(first), len(data))
		state, came := p.Write(context.Background(), phone, h, size, 0, bytes.NewReader(data[:cut]))
		if came == nil && !state.Whole {
			state, came = p.Write(context.Background(), phone, h, size, state.Bytes, bytes.NewReader(data[cut:]))
		}
		if state.Whole != (err == nil) || (came == nil) != (err == nil) {
			t.Fatalf("judged %v, but the door says %+v, %v", err, state, came)
		}
		if err == nil {
			checkKept(t, p, data)
			if err := p.deletePhoto(h); err != nil {
				t.Fatal(err)
			}
		}
		if p.used != 0 || p.kept != 0 || len(p.uploads) != 0 {
			t.Fatalf("%d bytes of %d uploads are left, and %d of photos", p.used, len(p.uploads), p.kept)
		}
	})
}

// checkJudged looks whether a picture has a sound thumbnail or a refusal.
func checkJudged(t *testing.T, small []byte, err error) {
	t.Helper()
	var refusal *Refusal
	if err != nil {
		if !errors.As(err, &refusal) || !refusal.Final() || small != nil {
			t.Fatalf("%d bytes of thumbnail, %v", len(small), err)
		}
		return
	}
	config, err := decodeConfig(small)
	if err != nil || config.Width < 1 || config.Height < 1 || max(config.Width, config.Height) > smallSide {
		t.Fatalf("the thumbnail is %+v, %v", config, err)
	}
}

// checkReadToItsEnd looks whether a decoder ends where the outline did, or something could follow the
// picture unseen. That of WebP does not look at what may follow the pixels.
func checkReadToItsEnd(t *testing.T, data []byte) {
	t.Helper()
	form, _ := formOf(data)
	if form == webpForm {
		return
	}
	rest := bytes.NewReader(data)
	if _, err := form.decode(iotest.OneByteReader(rest)); err != nil || rest.Len() > 0 {
		t.Fatalf("%d bytes follow the picture (%v)", rest.Len(), err)
	}
}

// fuzzSeeds are pictures of every form that the shed takes, and what it refuses.
func fuzzSeeds(f *testing.F) [][]byte {
	rgb := picture(24, 16)
	bounds := rgb.Bounds()
	turned := append([]byte("Exif\x00\x00"), exif(binary.BigEndian, 6)...)
	return [][]byte{
		jpegBytes(f, rgb), jpegBytes(f, image.NewGray(bounds)), withSegments(jpegBytes(f, rgb), jpegSegment(jpegApp1, turned)),
		manyScans(24, 16, 3), append(jpegBytes(f, rgb), zipFile...),
		pngBytes(f, rgb), pngBytes(f, image.NewGray16(bounds)), pngBytes(f, image.NewNRGBA64(bounds)),
		pngBytes(f, image.NewPaletted(bounds, color.Palette{red, green, blue})),
		withChunks(pngBytes(f, rgb), pngChunk("eXIf", exif(binary.LittleEndian, 3))), emptyPNG(200, 100),
		bytes.Join([][]byte{pngHeader(8, 8, 8, 0, 1), pngChunk("IDAT", deflated(make([]byte, 64+15))), pngChunk("IEND", nil)}, nil),
		testFile(f, "lossy.webp"), testFile(f, "transparent.webp"), webpBytes(losslessChunk(24, 16, red)),
		webpBytes(extendedChunk(8, 24, 16), losslessChunk(24, 16, red), webpChunk("EXIF", exif(binary.BigEndian, 8))),
		[]byte("<svg/>"), []byte("GIF89a"), []byte(zipFile),
	}
}
