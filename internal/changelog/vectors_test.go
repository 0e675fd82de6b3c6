package changelog_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

func readVectors(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// ordered is a change with the order that the server gave it.
type ordered struct {
	Change syncproto.Change
	Order  syncproto.Stamp
}

func merged(changes []ordered) *changelog.State {
	s := changelog.NewState()
	for _, o := range changes {
		s.Merge(o.Change, o.Order)
	}
	return s
}

func digest(s *changelog.State) string {
	sum := sha256.Sum256(s.Dump())
	return hex.EncodeToString(sum[:])
}

type mergeCase struct {
	Name    string
	Changes []ordered
	Want    struct {
		Totals     [][4]any
		Tips       [][]string
		Texts      [][4]string
		Members    [][4]any
		Looks      [][4]string
		DumpSHA256 string `json:"dump_sha256"`
	}
}

func (c mergeCase) check(t *testing.T, s *changelog.State) {
	t.Helper()
	for _, w := range c.Want.Totals {
		got := s.Entity(w[0].(string), w[1].(string)).Count(w[2].(string)).Total
		if float64(got) != w[3].(float64) {
			t.Errorf("total of %v is %d", w, got)
		}
	}
	for _, w := range c.Want.Tips {
		var got []string
		for _, tip := range s.Entity(w[0], w[1]).Count(w[2]).Tips {
			got = append(got, string(tip))
		}
		if !slices.Equal(got, w[3:]) {
			t.Errorf("the tips of %v are %v", w, got)
		}
	}
	for _, w := range c.Want.Texts {
		if got := s.Entity(w[0], w[1]).Text(w[2]); got != w[3] {
			t.Errorf("text of %v is %q", w, got)
		}
	}
	for _, w := range c.Want.Members {
		got := s.Entity(w[0].(string), w[1].(string)).Members(w[2].(string))
		if fmt.Sprint(got) != fmt.Sprint(w[3]) {
			t.Errorf("members of %v are %v", w, got)
		}
	}
	looks := [][4]string{}
	for _, l := range s.Looks() {
		looks = append(looks, [4]string{string(l.Kind), l.Key.Type, l.Key.ID, l.Field})
	}
	if !reflect.DeepEqual(looks, c.Want.Looks) {
		t.Errorf("looks are %v, want %v", looks, c.Want.Looks)
	}
	if got := digest(s); got != c.Want.DumpSHA256 {
		t.Errorf("dump digest %s, want %s; dump:\n%s", got, c.Want.DumpSHA256, s.Dump())
	}
}

func TestMergeComesToTheVectorsInAnyOrder(t *testing.T) {
	var v struct{ Cases []mergeCase }
	readVectors(t, "merge.json", &v)
	for _, c := range v.Cases {
		t.Run(c.Name, func(t *testing.T) {
			c.check(t, merged(c.Changes))
			backward := slices.Clone(c.Changes)
			slices.Reverse(backward)
			c.check(t, merged(append(backward, c.Changes...)))
		})
	}
}

func TestALongRandomLogComesToTheDigestOfTheVector(t *testing.T) {
	var v struct {
		Seed       int64
		Changes    []ordered
		DumpSHA256 string `json:"dump_sha256"`
	}
	readVectors(t, "random.json", &v)
	if got := digest(merged(v.Changes)); got != v.DumpSHA256 {
		t.Errorf("seed %d: dump digest %s, want %s", v.Seed, got, v.DumpSHA256)
	}
}

func TestClockAndOrderFollowTheVectors(t *testing.T) {
	var v struct {
		Ticks []struct {
			Name  string
			Steps []struct {
				Tick, Receive *int64
				L, C          int64
			}
			Want []syncproto.Stamp
		}
		Orders []struct {
			Name    string
			Stamp   syncproto.Stamp
			Wall    int64
			Highest syncproto.Stamp
			Want    syncproto.Stamp
		}
	}
	readVectors(t, "clock.json", &v)
	for _, c := range v.Ticks {
		t.Run(c.Name, func(t *testing.T) {
			var clock changelog.Clock
			for i, step := range c.Steps {
				var got syncproto.Stamp
				if step.Tick != nil {
					got = clock.Tick(*step.Tick)
				} else {
					got = clock.Receive(*step.Receive, syncproto.Stamp{L: step.L, C: step.C})
				}
				if got != c.Want[i] {
					t.Errorf("step %d gave %v, want %v", i, got, c.Want[i])
				}
			}
		})
	}
	for _, c := range v.Orders {
		t.Run(c.Name, func(t *testing.T) {
			if got := changelog.OrderFor(c.Stamp, c.Wall, c.Highest); got != c.Want {
				t.Errorf("order %v, want %v", got, c.Want)
			}
		})
	}
}
