package main

import (
	"bytes"
	"context"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/server/store"
)

func TestAnInterruptedDemoIsFilledUp(t *testing.T) {
	ctx := context.Background()
	s, err := store.Open(t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	devices := demo.Changes(crop.FarmID(s.Farm()), 2024) // not the last season that is over today
	part := devices[0]
	part.Operations = part.Operations[:len(part.Operations)/2]
	if err := fillDevice(ctx, s, part); err != nil {
		t.Fatal(err)
	}
	if _, err := fillWithDemo(ctx, s, "here"); err != nil {
		t.Fatal(err)
	}
	want := int64(0)
	for _, d := range devices {
		for _, op := range d.Operations {
			want += int64(len(op))
		}
	}
	if s.Newest() != want {
		t.Errorf("the farm holds %d changes, want %d", s.Newest(), want)
	}
	before, _, err := s.State(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := fillWithDemo(ctx, s, "here"); err != nil {
		t.Fatal(err)
	}
	after, _, err := s.State(ctx)
	if err != nil || !bytes.Equal(before.Dump(), after.Dump()) {
		t.Errorf("filling a whole farm changed it (%v)", err)
	}
}
