package main

import (
	"context"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

func TestOperationsOfAnySizeArePushed(t *testing.T) {
	farm, err := store.Open(t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { must(t, farm.Close()) }()
	recorder := changelog.Recorder{Incarnation: uuid.NewString()}
	push := pusher{farm: farm, incarnation: recorder.Incarnation}
	total := 0
	for _, n := range []int{3, 1_999, 4_500, 1} {
		facts := make([]changelog.Fact, n)
		for i := range facts {
			facts[i] = changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: uuid.NewString(), Field: "name", Value: syncproto.Text("North")}
		}
		must(t, push.add(context.Background(), recorder.Operation(int64(total+1), facts...)))
		total += n
	}
	must(t, push.flush(context.Background()))
	if push.pushed != total || farm.Newest() != int64(total) {
		t.Errorf("%d pushed, %d in the log, want %d", push.pushed, farm.Newest(), total)
	}
}
