package main

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"corymb/server/photos"
)

// photosOfAPhone is a file of two photos that the web app's own code wrote (webapp/src/photos, saved.test.ts).
func photosOfAPhone(t *testing.T) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "testdata", "saved", "photos.zip"))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// zipped is a file in a ZIP, of a checksum that holds.
type zipped struct {
	name   string
	method uint16
	data   []byte
}

// asSaved is a photo as a phone saves it.
func asSaved(data []byte) zipped {
	return zipped{fmt.Sprintf("R4K7M %x.jpg", sha256.Sum256(data)), zip.Store, data}
}

// zipOf writes a ZIP file and returns its path.
func zipOf(t *testing.T, files ...zipped) string {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		head := &zip.FileHeader{Name: f.name, Method: f.method}
		if f.method == zip.Store {
			head.CRC32, head.CompressedSize64, head.UncompressedSize64 = crc32.ChecksumIEEE(f.data), uint64(len(f.data)), uint64(len(f.data))
		}
		create := w.CreateHeader
		if f.method == zip.Store {
			create = w.CreateRaw
		}
		entry, err := create(head)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := entry.Write(f.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return written(t, b.Bytes())
}

func written(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "saved")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// strip is a picture of so many pixels.
func strip(t *testing.T, pixels int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, pixels, 1))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// photosIn opens the photos of a data folder that nothing serves.
func photosIn(t *testing.T, data string) *photos.Photos {
	t.Helper()
	kept, err := photos.Open(data, photos.UsualLimits(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	return kept
}

func holds(t *testing.T, kept *photos.Photos, data []byte) bool {
	t.Helper()
	photo, err := kept.Open(sha256.Sum256(data))
	if err != nil {
		return false
	}
	defer photo.Close()
	there, err := io.ReadAll(photo)
	return err == nil && bytes.Equal(there, data)
}

func TestTakeInTakesPhotosInThatAPhoneSaved(t *testing.T) {
	data := t.TempDir()
	farm := farmOf(t, data)
	entries := deviceThatCounted(farm, 5).savedInto(t, farm)
	for _, want := range []string{
		"2 photos are new to the farm and are stored, 0 were there already, 0 were refused.",
		"0 photos are new to the farm and are stored, 2 were there already, 0 were refused.",
	} {
		out, errs, ok := said(t, "take-in", "-data", data, entries, photosOfAPhone(t))
		if !ok || !strings.Contains(out, want) || strings.Count(out, "changes are new") != 1 {
			t.Errorf("it printed %s%s, want %q", out, errs, want)
		}
	}
	list, err := photosIn(t, data).List()
	if err != nil || len(list) != 2 {
		t.Errorf("the farm has the photos %v (%v)", list, err)
	}
}

func TestOfAFileOfPhotosTheGoodAreTakenInAndTheOthersAreNamed(t *testing.T) {
	good, other := strip(t, 3), strip(t, 4)
	notOne := []byte("stakes and twine, for the rows")
	changed := asSaved(strip(t, 5))
	changed.data = strip(t, 6)
	gone := strip(t, 7)
	tests := []struct {
		name string
		bad  zipped
		says string
	}{
		{"a photo that is not the one of its name", changed, "This is not the photo that its name says"},
		{"no picture", asSaved(notOne), "JPEG"},
		{"nothing at all", asSaved(nil), "between 1 byte and 24 MiB"},
		{"more bytes than a photo may have", asSaved(make([]byte, 24<<20+1)), "24 MiB at most; this one has 25165825 bytes"},
		{"a photo that an owner removed", asSaved(gone), "An owner removed this photo"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			data := t.TempDir()
			farmOf(t, data)
			if err := photosIn(t, data).Remove(context.Background(), sha256.Sum256(gone)); err != nil {
				t.Fatal(err)
			}
			out, errs, ok := said(t, "take-in", "-data", data, zipOf(t, asSaved(good), tt.bad, asSaved(other)))
			want := "2 photos are new to the farm and are stored, 0 were there already, 1 were refused.\n  " + tt.bad.name + " was refused: "
			if !ok || !strings.Contains(out, want) || !strings.Contains(out, tt.says) {
				t.Errorf("it printed %s%s, want %q and %q", out, errs, want, tt.says)
			}
			kept := photosIn(t, data)
			if list, err := kept.List(); err != nil || len(list) != 2 || !holds(t, kept, good) || !holds(t, kept, other) {
				t.Errorf("the farm has the photos %v (%v)", list, err)
			}
		})
	}
}

// A bit that turned is found by the checksum or by the hash, wherever in the photo it is.
func TestADamagedFileOfPhotosIsNeverTakenForWhatItWas(t *testing.T) {
	file, err := os.ReadFile(photosOfAPhone(t))
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	at, err := z.File[0].DataOffset()
	if err != nil {
		t.Fatal(err)
	}
	file[at+20] ^= 1
	data := t.TempDir()
	farmOf(t, data)
	out, errs, ok := said(t, "take-in", "-data", data, written(t, file))
	if !ok || !strings.Contains(out, "1 photos are new to the farm and are stored, 0 were there already, 1 were refused.") {
		t.Errorf("it printed %s%s", out, errs)
	}
}

func TestAFileOfPhotosThatIsNotAsAPhoneSavesItIsRefusedWhole(t *testing.T) {
	file, err := os.ReadFile(photosOfAPhone(t))
	if err != nil {
		t.Fatal(err)
	}
	data := t.TempDir()
	farm := farmOf(t, data)
	entries := deviceThatCounted(farm, 3).savedInto(t, farm)
	photo := asSaved(strip(t, 3))
	compressed := photo
	compressed.method = zip.Deflate
	upward := photo
	upward.name = "../" + photo.name
	tests := []struct{ name, path, says string }{
		{"half a file", written(t, file[:len(file)/2]), "this ZIP file is not whole"},
		{"its first letters", written(t, []byte(zipLetters)), "this ZIP file is not whole"},
		{"one that holds something else too", zipOf(t, photo, zipped{"notes.txt", zip.Store, []byte("x")}), `it holds "notes.txt", which is not called like a photo`},
		{"a name that leads out of it", zipOf(t, upward), "which is not called like a photo"},
		{"a compressed one", zipOf(t, compressed), "is compressed in it, which a phone does not do"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, errs, ok := said(t, "take-in", "-data", data, entries, photosOfAPhone(t), tt.path)
			if ok || out != "" || strings.Count(errs, tt.says) != 1 || !strings.Contains(errs, "Nothing was taken in.") {
				t.Errorf("it printed %s, and said %s", out, errs)
			}
		})
	}
	if out, errs, ok := said(t, "take-in", "-data", data, entries, photosOfAPhone(t)); !ok || strings.Count(out, ", 0 were there already") != 2 {
		t.Errorf("something had been taken in: %s%s", out, errs)
	}
}

// What has no room waits for more of it: the file is read in again then.
func TestAFileOfPhotosForWhichThereIsNoRoomIsNotTakenInWhole(t *testing.T) {
	data := t.TempDir()
	first, second := strip(t, 3), strip(t, 4000)
	file := savedPhotos{zipOf(t, asSaved(first), asSaved(second))}
	limits := photos.UsualLimits()
	var out strings.Builder
	shed := intake{photos: func() (*photos.Photos, error) { return photos.Open(data, limits, time.Now) }, out: &out}

	limits.Room = int64(len(first) + len(second)) // and none for the thumbnail
	err := file.takeInTo(context.Background(), shed)
	if err == nil || !strings.Contains(err.Error(), "was not taken in whole. What was taken in is safe. Once the cause is mended, read the file in again") ||
		!strings.Contains(err.Error(), "a larger -photo-room") {
		t.Errorf("without room it says %v", err)
	}
	if kept := photosIn(t, data); !holds(t, kept, first) || holds(t, kept, second) {
		t.Error("without room for the second, not the first alone is there")
	}

	limits.Room = photos.UsualLimits().Room
	err = file.takeInTo(context.Background(), shed)
	if err != nil || !strings.Contains(out.String(), ": 1 photos are new to the farm and are stored, 1 were there already, 0 were refused.") {
		t.Errorf("with more room it says %v and prints %s", err, out.String())
	}
	if !holds(t, photosIn(t, data), second) {
		t.Error("with more room, the second is not there")
	}
}

// A reading that was killed left a part of a photo.
func TestAPhotoOfWhichAPartHadComeGoesOnFromThere(t *testing.T) {
	data := t.TempDir()
	farmOf(t, data)
	photo := strip(t, 4000)
	kept := photosIn(t, data)
	half := photo[:len(photo)/2]
	state, err := kept.Write(context.Background(), takeInSender, sha256.Sum256(photo), int64(len(photo)), 0, bytes.NewReader(half))
	if err != nil || state.Bytes != int64(len(half)) {
		t.Fatalf("half came: %+v (%v)", state, err)
	}
	out, errs, ok := said(t, "take-in", "-data", data, zipOf(t, asSaved(photo)))
	if !ok || !strings.Contains(out, "1 photos are new") || !holds(t, photosIn(t, data), photo) {
		t.Errorf("it printed %s%s", out, errs)
	}
}
