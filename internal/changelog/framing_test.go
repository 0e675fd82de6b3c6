package changelog_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

func TestOperationsAreCutIntoFramesThatAServerTakes(t *testing.T) {
	const text = syncproto.MaxTextBytes
	tests := []struct {
		name       string
		operations []int // changes of each
		bytes      int   // of text in each change
		elements   int   // of the list in each change
		want       string
	}{
		{"nothing", nil, 0, 0, "[]"},
		{"a few in one", []int{1, 3, 2}, 0, 0, "[6]"},
		{"as many as fit", []int{1_000, 1_000}, 0, 0, "[2000]"},
		{"one more", []int{1_000, 1_000, 1}, 0, 0, "[2000 1]"},
		{"an operation stays whole", []int{1_500, 600, 1_400}, 0, 0, "[1500 2000]"},
		{"a large one in parts, alone", []int{5, 4_500, 7, 3}, 0, 0, "[5 2000 2000 500 10]"},
		{"a large one first", []int{2_001, 1}, 0, 0, "[2000 1 1]"},
		{"one after another", []int{2_001, 2_002}, 0, 0, "[2000 1 2000 2]"},
		{"by bytes", []int{400, 100, 100}, text, 0, "[500 100]"},
		{"a large one by bytes", []int{1_000, 1}, text, 0, "[505 495 1]"},
		{"by elements of lists", []int{40, 30}, 0, 1_000, "[40 30]"},
		{"a large one by elements of lists", []int{100, 1}, 0, 1_000, "[65 35 1]"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var changes []syncproto.Change
			for i, n := range tt.operations {
				changes = append(changes, operation(unsentPhone, int64(len(changes))+1, int64(i)+1, make([]int64, n)...)...)
			}
			for i := range changes {
				if tt.elements > 0 {
					changes[i].Op, changes[i].Value = syncproto.OpSet, syncproto.List(slices.Repeat([]string{"a"}, tt.elements)...)
				}
				if tt.bytes > 0 {
					changes[i].Op, changes[i].Value = syncproto.OpSet, syncproto.Text(strings.Repeat("x", tt.bytes))
				}
			}
			frames := changelog.InFrames(changes)
			lengths := []int{}
			for _, frame := range frames {
				lengths = append(lengths, len(frame))
				if _, err := changelog.NewFrame(unsentPhone, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: frame}); err != nil {
					t.Errorf("a frame of %d: %v", len(frame), err)
				}
			}
			if fmt.Sprint(lengths) != tt.want || len(slices.Concat(frames...)) != len(changes) {
				t.Errorf("cut into %v, want %s", lengths, tt.want)
			}
		})
	}
}
