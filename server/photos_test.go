package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"flag"
	"image"
	"image/png"
	"io"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/internal/farm"
	"corymb/server/photos"
	"corymb/server/store"
	"corymb/syncproto"
)

func TestTheRoomForPhotosIsAFlag(t *testing.T) {
	tests := []struct {
		args []string
		room int64 // bytes, 0 where it is refused
	}{
		{nil, 20_000_000_000},
		{[]string{"-photo-room", "1"}, 1_000_000_000},
		{[]string{"-photo-room", "300"}, 300_000_000_000},
		{[]string{"-photo-room", "0"}, 0},
		{[]string{"-photo-room", "-1"}, 0},
		{[]string{"-photo-room", "1.5"}, 0},
		{[]string{"-photo-room", "20GB"}, 0},
		{[]string{"-photo-room", "99999999999999999999"}, 0},
	}
	for _, tt := range tests {
		set := flag.NewFlagSet("serve", flag.ContinueOnError)
		set.SetOutput(io.Discard)
		limits := photoLimits(set)
		err := set.Parse(tt.args)
		if (err != nil) != (tt.room == 0) || err == nil && limits.Room != tt.room {
			t.Errorf("%q: %d bytes, %v", tt.args, limits.Room, err)
		}
	}
}

// A photo that a change names is never let go of, however old it is; one that none names is, after a time.
func TestPhotosThatTheLogNamesAreKept(t *testing.T) {
	ctx, now := context.Background(), time.Now()
	clock := func() time.Time { return now }
	dir := t.TempDir()
	log, err := store.OpenStill(dir, clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = log.Close() }) // it only reads by then
	kept, err := photos.Open(dir, photos.UsualLimits(), clock)
	if err != nil {
		t.Fatal(err)
	}
	var hashes []photos.Hash
	for side := range 2 {
		var b bytes.Buffer
		if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, side+1, 1))); err != nil {
			t.Fatal(err)
		}
		h := photos.Hash(sha256.Sum256(b.Bytes()))
		if _, err := kept.Write(ctx, photos.SenderOf("phone"), h, int64(b.Len()), 0, &b); err != nil {
			t.Fatal(err)
		}
		hashes = append(hashes, h)
	}
	phone := changelog.Recorder{Incarnation: "aaaaaaaa-0000-4000-8000-000000000001"}
	for _, op := range []syncproto.Op{syncproto.OpAdd, syncproto.OpRemove} { // taken away, it can be put back
		changes := phone.Operation(now.UnixMilli(), changelog.Fact{
			Scope: syncproto.ScopeField, Op: op, Type: farm.TypePlant, ID: "k1", Field: farm.FieldPhotos, Value: syncproto.Text(hashes[0].String()),
		})
		f, err := changelog.NewFrame(phone.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
		if err != nil {
			t.Fatal(err)
		}
		if results, err := log.Append(ctx, []*changelog.Frame{f}); err != nil || results[0].Breach != nil {
			t.Fatal(err, results)
		}
	}
	for _, want := range []int{0, 1, 0} {
		if gone, err := letGoOnce(ctx, log, kept); err != nil || gone != want {
			t.Errorf("%d went, want %d (%v)", gone, want, err)
		}
		now = now.Add(photos.UsualLimits().Unnamed + time.Hour)
	}
	list, err := kept.List()
	if err != nil || len(list) != 1 || list[0] != hashes[0] {
		t.Errorf("kept are %v (%v)", list, err)
	}
}
