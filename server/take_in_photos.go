package main

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"

	"corymb/server/photos"
)

// savedPhotos is a ZIP file of photos, as the web app writes it (webapp/src/photos, zip.ts and saved.ts).
type savedPhotos struct {
	path string
}

// mostSavedPhotos is how many files a phone puts into one: more need ZIP64.
const mostSavedPhotos = 0xffff

// savedPhotoName is what a phone calls a photo: the codes of its plants, cut at some length, and its hash.
var savedPhotoName = regexp.MustCompile(`^(?:[\p{L}\p{N}\x{FFFD} _-]{1,80} )?([0-9a-f]{64})\.jpg$`)

// readSavedPhotos sees whether a ZIP file is as phones save it. Its photos are read when they are taken in.
func readSavedPhotos(path string) (savedFile, error) {
	z, err := zip.OpenReader(path)
	switch {
	case failsToRead(err):
		return nil, fmt.Errorf("reading a file of photos: %w", err)
	case err != nil:
		return nil, fmt.Errorf("%s: this ZIP file is not whole (%w). Nothing was taken in. Bring the whole file here, or save it on the phone again", path, err)
	}
	err = checkSavedPhotos(z.File)
	if err := errors.Join(err, z.Close()); err != nil {
		return nil, fmt.Errorf("%s: this is no file of photos that a phone saved: %w. Nothing was taken in. Choose such a file, as it was saved", path, err)
	}
	return savedPhotos{path}, nil
}

func checkSavedPhotos(files []*zip.File) error {
	if len(files) > mostSavedPhotos {
		return fmt.Errorf("it holds %d files, and a phone saves %d at most", len(files), mostSavedPhotos)
	}
	for _, f := range files {
		switch {
		case !savedPhotoName.MatchString(f.Name):
			return fmt.Errorf("it holds %q, which is not called like a photo", f.Name)
		case f.Method != zip.Store || f.CompressedSize64 != f.UncompressedSize64:
			return fmt.Errorf("%s is compressed in it, which a phone does not do", f.Name)
		}
	}
	return nil
}

// broughtPhotos is what became of the photos of a file.
type broughtPhotos struct {
	kept, already int
	refused       []refusedPhoto
}

type refusedPhoto struct{ name, text string }

func (f savedPhotos) takeInTo(ctx context.Context, shed intake) (err error) {
	kept, err := shed.photos()
	if err != nil {
		return err
	}
	z, err := zip.OpenReader(f.path)
	if err != nil {
		return notTakenIn(f.path, err)
	}
	defer func() { err = errors.Join(err, z.Close()) }()
	var brought broughtPhotos
	for _, photo := range z.File {
		if err := brought.add(ctx, kept, photo); err != nil {
			return notTakenIn(f.path, err)
		}
	}
	tellBrought(shed.out, f.path, brought)
	return nil
}

// add takes in one photo. Where the photo itself is refused that is noted, and the next can come.
func (b *broughtPhotos) add(ctx context.Context, kept *photos.Photos, photo *zip.File) error {
	already, err := bringPhoto(ctx, kept, photo)
	var refusal *photos.Refusal
	switch {
	case errors.As(err, &refusal) && (refusal.Final() || refusal.Code == photos.CodeTooLarge):
		b.refused = append(b.refused, refusedPhoto{photo.Name, refusal.Text})
	case err != nil:
		return err
	case already:
		b.already++
	default:
		b.kept++
	}
	return nil
}

// takeInSender is who sends what is taken in; no device has such an id.
var takeInSender = photos.SenderOf("take-in")

// bringPhoto takes a photo in, unless it is there. What had come of it before a reading was broken off it
// goes on from.
func bringPhoto(ctx context.Context, kept *photos.Photos, photo *zip.File) (already bool, err error) {
	h, err := photos.ParseHash(savedPhotoName.FindStringSubmatch(photo.Name)[1])
	if err != nil {
		return false, err
	}
	state, err := kept.Have(takeInSender, h)
	if err != nil || state.Whole {
		return state.Whole, err
	}
	data, err := readSavedPhoto(photo, h, kept.Limits().Bytes)
	if err != nil {
		return false, err
	}
	size, offset := int64(len(data)), state.Bytes
	if state.Size != size {
		offset = 0
	}
	_, err = kept.Write(ctx, takeInSender, h, size, offset, bytes.NewReader(data[offset:]))
	return false, err
}

// readSavedPhoto reads a photo that must be the one of its name.
func readSavedPhoto(photo *zip.File, h photos.Hash, most int64) ([]byte, error) {
	if photo.UncompressedSize64 > uint64(most) {
		return nil, &photos.Refusal{Code: photos.CodeTooLarge, Text: fmt.Sprintf("A photo has %d MiB at most; this one has %d bytes.", most>>20, photo.UncompressedSize64)}
	}
	data, err := readZipped(photo)
	if failsToRead(err) {
		return nil, fmt.Errorf("reading %s: %w", photo.Name, err)
	}
	if err != nil || sha256.Sum256(data) != h {
		return nil, &photos.Refusal{Code: photos.CodeHash, Text: "This is not the photo that its name says: it was damaged in the file or before it. Bring the file here again, or save it on the phone again."}
	}
	return data, nil
}

// failsToRead tells whether it is the disk that failed, or the stick that the file is on, and not what is in it.
func failsToRead(err error) bool {
	var failed *os.PathError
	return errors.As(err, &failed)
}

func readZipped(file *zip.File) (data []byte, err error) {
	r, err := file.Open()
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	return io.ReadAll(r) // no more than its compressed size, which is its size: nothing is compressed
}

func tellBrought(out io.Writer, path string, brought broughtPhotos) {
	fmt.Fprintf(out, "%s: %d photos are new to the farm and are stored, %d were there already, %d were refused.\n",
		path, brought.kept, brought.already, len(brought.refused))
	for _, r := range brought.refused {
		fmt.Fprintf(out, "  %s was refused: %s\n", r.name, r.text)
	}
}
