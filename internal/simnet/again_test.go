package simnet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Ana corrects a count, which the shed holds through a copy of her phone. Her past is not proven, so it
// is sent again under a new identity, and she corrects once more before the answer comes: what was sent
// again is held already, and its new identity never exists.
func TestACorrectionOfOneThatWasSentAgainCounts(t *testing.T) {
	url := serve(t, t.TempDir())
	ben, ana := startPhone(t, "ben"), startPhone(t, "ana")
	count(t, ben, "v1", 10)
	drive(t, url, ben)
	drive(t, url, ana)
	correct(t, ana, 2)
	copied := clone(t, ana)
	count(t, copied, "v2", 1)
	count(t, ana, "v3", 1)
	drive(t, url, copied)
	first := ana.Records().Incarnation
	driveUntil(t, url, ana, func() bool { return ana.Records().Incarnation != first })
	correct(t, ana, 3)
	drive(t, url, ana)
	if got := ana.State().Entity("visit", "v1").Count("first|500|600"); got.Total != 15 || got.Missed {
		t.Errorf("10, corrected by 2 and by 3 more, shows as %+v", got)
	}
}

// correct corrects visit v1, having seen what the phone shows.
func correct(t *testing.T, p *Phone, by int64) {
	t.Helper()
	seen := p.State().Entity("visit", "v1").Count("first|500|600")
	said := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCorrect, Type: "visit", ID: "v1", Field: "first|500|600", Value: syncproto.Int(by)}
	said.Extra = map[string]syncproto.Value{syncproto.ExtraSaw: syncproto.Int(seen.Total)}
	if len(seen.Tips) > 0 {
		said.Extra[syncproto.ExtraAfter] = syncproto.List(string(seen.Tips[0]))
	}
	if _, err := p.Record(wallMoment(), nil, said); err != nil {
		t.Fatal(err)
	}
}

// An hour ahead, a phone withdraws a plant and sets its colour in one operation. Its order is limited,
// for both alike: nothing was recorded after the withdrawal.
func TestAnOperationOfAWrongClockStaysOneMoment(t *testing.T) {
	url, ana := serve(t, t.TempDir()), startPhone(t, "ana")
	ahead := wallMoment()
	ahead.Wall += 3_600_000
	said := []changelog.Fact{
		field("plant", "p1", changelog.FieldWithdrawn, syncproto.Int(1)), field("plant", "p1", "colour", syncproto.Text("cream")),
	}
	if _, err := ana.Record(ahead, nil, said...); err != nil {
		t.Fatal(err)
	}
	drive(t, url, ana)
	if looks := ana.State().Looks(); len(looks) != 0 {
		t.Errorf("it wants a look: %+v", looks)
	}
}

// A change of a wrong clock keeps the order that a shed once gave it, though the restored one's clock has
// gone on.
func TestARestoredShedIsToldTheOrdersOfTheOneBefore(t *testing.T) {
	before, after := twoSheds(t)
	ana, ahead := startPhone(t, "ana"), wallMoment()
	ahead.Wall += 3_600_000
	if _, err := ana.Record(ahead, nil, field("bed", "b", "name", syncproto.Text("North"))); err != nil {
		t.Fatal(err)
	}
	drive(t, serve(t, before), ana)
	was := ana.Records().current().Operations[0]
	drive(t, serve(t, after), ana)
	if is := ana.Records().current().Operations[0]; was.Fates[0].Order == was.Changes[0].Stamp || is.Fates[0] != was.Fates[0] {
		t.Errorf("recorded at %v, it had %+v before and has %+v now", was.Changes[0].Stamp, was.Fates[0], is.Fates[0])
	}
}

// What could never be sent would keep everything after it from being sent.
func TestAnOperationThatCannotBeSentIsNotRecorded(t *testing.T) {
	ana := startPhone(t, "ana")
	facts := make([]changelog.Fact, 2_500)
	for i := range facts {
		facts[i] = field("plant", "p1", "notes", syncproto.Text(strings.Repeat("x", syncproto.MaxTextBytes)))
	}
	if _, err := ana.Record(wallMoment(), nil, facts...); err == nil {
		t.Error("20 MB were recorded as one operation")
	}
	if _, err := ana.Record(wallMoment(), nil, facts[:1_500]...); err != nil {
		t.Errorf("12 MB were not: %v", err)
	}
	drive(t, serve(t, t.TempDir()), ana)
}

// A change that names sixteen things beside could not be sent again under a new incarnation, which names
// the former one.
func TestAChangeThatCouldNotBeSentAgainIsNotRecorded(t *testing.T) {
	said := field("plant", "p1", "code", syncproto.Text("p"))
	for _, parts := range []int{syncproto.MaxExtra - 1, syncproto.MaxExtra} {
		said.Extra = map[string]syncproto.Value{}
		for i := range parts {
			said.Extra[string(rune('a'+i))] = syncproto.Int(1)
		}
		_, err := startPhone(t, "ana").Record(wallMoment(), nil, said)
		if could := parts < syncproto.MaxExtra; could != (err == nil) {
			t.Errorf("with %d parts beside it: %v", parts, err)
		}
	}
}

// Few changes of long lists are an operation of parts too.
func TestAnOperationOfLongListsIsSentInParts(t *testing.T) {
	url, ana, ben := serve(t, t.TempDir()), startPhone(t, "ana"), startPhone(t, "ben")
	facts := make([]changelog.Fact, 140)
	for i := range facts {
		facts[i] = field("bed", "b", fmt.Sprint("order ", i), syncproto.List(slices.Repeat([]string{"p"}, syncproto.MaxListLen)...))
	}
	if _, err := ana.Record(wallMoment(), nil, facts...); err != nil {
		t.Fatal(err)
	}
	drive(t, url, ana)
	drive(t, url, ben)
	if shown, want := ben.State().Dump(), ana.State().Dump(); len(want) == 0 || !slices.Equal(shown, want) {
		t.Errorf("%d bytes of state reached the other phone, of %d", len(shown), len(want))
	}
}
