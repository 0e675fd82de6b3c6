package joining_test

import (
	"context"
	"errors"
	"net/netip"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/server/joining"
	"corymb/server/store"
)

const ana, ben = "6f1c9d0e-52a5-4a55-9b43-7f4f5a1d2c3b", "0f5f3a51-8f5f-4f2f-9f34-1a2b3c4d5e6f"

// farm is a desk on a store of its own, and a clock.
type farm struct {
	*joining.Desk
	store *store.Store
	now   time.Time
}

func open(t testing.TB) *farm {
	t.Helper()
	f := &farm{now: time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)}
	clock := func() time.Time { return f.now }
	opened, err := store.Open(t.TempDir(), clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = opened.Close() })
	f.store, f.Desk = opened, joining.New(opened, clock)
	return f
}

func (f *farm) invite(t testing.TB, person string, role access.Role) string {
	t.Helper()
	code, _, err := f.Invite(context.Background(), person, "Ben", role)
	if err != nil {
		t.Fatal(err)
	}
	return code
}

func (f *farm) join(code string) (joining.Joined, error) {
	return f.Join(context.Background(), joining.Asks{Code: code, Device: uuid.NewString(), Label: "phone", From: netip.MustParseAddr("192.168.7.31")})
}

// ownerCode is the code for the farm's one owner, or its first.
func (f *farm) ownerCode(t testing.TB) string {
	t.Helper()
	made, err := f.InviteOwners(context.Background())
	if err != nil || len(made) != 1 {
		t.Fatalf("made %+v, %v", made, err)
	}
	return made[0].Code
}

func codeOf(err error) string {
	var refusal *joining.Refusal
	if errors.As(err, &refusal) {
		return refusal.Code
	}
	return ""
}

func TestADeviceJoinsByACodeAndIsKnownByItsToken(t *testing.T) {
	f := open(t)
	joined, err := f.join(f.invite(t, ben, access.Crew))
	if err != nil {
		t.Fatal(err)
	}
	device, grant, err := f.Who(context.Background(), joined.Token)
	if err != nil || device.ID != joined.Device.ID || device.Person != ben || grant.Role != access.Crew {
		t.Errorf("it is %+v %+v, %v", device, grant, err)
	}
}

func TestACodeMayBeTypedAsPeopleType(t *testing.T) {
	f := open(t)
	for name, typed := range map[string]func(code string) string{
		"small":                strings.ToLower,
		"in two halves":        joining.ShownCode,
		"with blanks around":   func(c string) string { return "  " + c + "\n" },
		"one letter at a time": func(c string) string { return strings.Join(strings.Split(c, ""), " ") },
	} {
		if _, err := f.join(typed(f.invite(t, ben, access.Crew))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		f.now = f.now.Add(time.Minute)
	}
}

func TestACodeThatLetsNobodyIn(t *testing.T) {
	tests := []struct {
		name string
		code func(t *testing.T, f *farm) string
	}{
		{"guessed", func(*testing.T, *farm) string { return "ACDEFGHJ" }},
		{"empty", func(*testing.T, *farm) string { return "" }},
		{"used", func(t *testing.T, f *farm) string {
			code := f.invite(t, ben, access.Crew)
			if _, err := f.join(code); err != nil {
				t.Fatal(err)
			}
			return code
		}},
		{"ten minutes old", func(t *testing.T, f *farm) string {
			code := f.invite(t, ben, access.Crew)
			f.now = f.now.Add(access.InvitedFor)
			return code
		}},
		{"made before the clock was set back", func(t *testing.T, f *farm) string {
			code := f.invite(t, ben, access.Crew)
			f.now = f.now.Add(-2 * time.Minute)
			return code
		}},
		{"a first owner's, used", func(t *testing.T, f *farm) string {
			code := f.ownerCode(t)
			if _, err := f.join(code); err != nil {
				t.Fatal(err)
			}
			return code
		}},
		{"a first owner's, replaced by a later one", func(t *testing.T, f *farm) string {
			code := f.ownerCode(t)
			f.ownerCode(t)
			return code
		}},
		{"very long", func(*testing.T, *farm) string { return strings.Repeat("A", 100_000) }},
		{"SQL", func(*testing.T, *farm) string { return "' OR 1=1 --" }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := open(t)
			if joined, err := f.join(tt.code(t, f)); codeOf(err) != joining.CodeCode || joined.Token != "" {
				t.Errorf("joined %+v, %v", joined, err)
			}
		})
	}
}

func TestATokenThatLetsNobodyIn(t *testing.T) {
	ctx := context.Background()
	f := open(t)
	if _, err := f.join(f.invite(t, ana, access.Owner)); err != nil {
		t.Fatal(err)
	}
	joined, err := f.join(f.invite(t, ben, access.Crew))
	if err != nil {
		t.Fatal(err)
	}
	other := open(t)
	for name, token := range map[string]string{
		"none": "", "forged": strings.Repeat("A", 43), "cut short": joined.Token[:42], "in other letters": strings.ToLower(joined.Token),
	} {
		if _, _, err := f.Who(ctx, token); codeOf(err) != joining.CodeJoin {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := other.Who(ctx, joined.Token); codeOf(err) != joining.CodeJoin {
		t.Errorf("another farm's: %v", err)
	}
	if err := f.store.Withdraw(ctx, joined.Device.ID, f.now); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Who(ctx, joined.Token); codeOf(err) != joining.CodeWithdrawn {
		t.Errorf("withdrawn: %v", err)
	}
}

func TestATokenThatWasForgottenAsksToJoinAgain(t *testing.T) {
	ctx := context.Background()
	f := open(t)
	owner, err := f.join(f.invite(t, ana, access.Owner))
	if err != nil {
		t.Fatal(err)
	}
	f.now = f.now.AddDate(0, 19, 0)
	device, grant, err := f.Who(ctx, owner.Token)
	if codeOf(err) != joining.CodeJoin || !strings.Contains(err.Error(), "stays on it") || device.ID != owner.Device.ID || grant.Role != "" {
		t.Errorf("it is %+v %+v, %v", device, grant, err)
	}
	if needs, err := f.NeedsOwner(ctx); err != nil || !needs {
		t.Errorf("the farm's only owner was forgotten, and it needs one: %v, %v", needs, err)
	}
	code := f.ownerCode(t)
	again, err := f.Join(ctx, joining.Asks{Code: code, Device: owner.Device.ID, Token: owner.Token})
	if err != nil || again.Device.ID != owner.Device.ID || again.Member.Person != ana {
		t.Errorf("it joins again as %+v, %v", again, err)
	}
}

func TestOfManyWhoTryACodeAtOnceOneJoins(t *testing.T) {
	f := open(t)
	code := f.invite(t, ben, access.Crew)
	var in atomic.Int32
	var trying sync.WaitGroup
	for range 8 {
		trying.Go(func() {
			if _, err := f.join(code); err == nil {
				in.Add(1)
			}
		})
	}
	trying.Wait()
	if in.Load() != 1 {
		t.Errorf("%d devices joined by one code", in.Load())
	}
}

func TestGuessingIsSlow(t *testing.T) {
	f := open(t)
	guess := func(from string) string {
		_, err := f.Join(context.Background(), joining.Asks{Code: "ACDEFGHJ", Device: uuid.NewString(), From: netip.MustParseAddr(from)})
		return codeOf(err)
	}
	tried := func(from string, times int) (looked int) {
		for range times {
			if guess(from) == joining.CodeCode {
				looked++
			}
		}
		return looked
	}
	if n := tried("192.168.7.31", 100); n != 10 {
		t.Errorf("of 100 guesses from one address %d were looked at", n)
	}
	if n := tried("192.168.7.32", 1); n != 1 {
		t.Error("another phone may not try")
	}
	if n := tried("2001:db8::1", 50) + tried("2001:db8::2", 50); n != 10 {
		t.Errorf("of 100 guesses from one network of IPv6 %d were looked at", n)
	}
	total := 0
	for i := range 100 {
		total += tried(netip.AddrFrom4([4]byte{10, 0, 0, byte(i)}).String(), 10)
	}
	if total > 60 {
		t.Errorf("from a hundred addresses %d guesses were looked at", total)
	}
	f.now = f.now.Add(10 * time.Second)
	if n := tried("192.168.7.31", 5); n != 1 {
		t.Errorf("after 10 s %d more were looked at", n)
	}
	f.now = f.now.Add(10 * time.Minute)
	if _, err := f.join(f.invite(t, ben, access.Crew)); err != nil {
		t.Errorf("after a while nobody joins: %v", err)
	}
}

func TestTheFirstOwner(t *testing.T) {
	ctx := context.Background()
	f := open(t)
	needs := func(want bool) {
		t.Helper()
		if got, err := f.NeedsOwner(ctx); err != nil || got != want {
			t.Errorf("needs an owner: %v, %v", got, err)
		}
	}
	needs(true)
	code := f.ownerCode(t)
	first, err := f.join(code)
	if err != nil || first.Member.Role != access.Owner || first.Member.Person == "" {
		t.Fatalf("joined %+v, %v", first, err)
	}
	needs(false)
	code = f.ownerCode(t)
	if again, err := f.join(code); err != nil || again.Member.Person != first.Member.Person {
		t.Errorf("who lost the phone becomes %+v, %v", again.Member, err)
	}
}

func TestEachOfSeveralOwnersIsInvitedAsWhoTheyAre(t *testing.T) {
	ctx := context.Background()
	f := open(t)
	for _, person := range []string{ana, ben} {
		if _, err := f.join(f.invite(t, person, access.Owner)); err != nil {
			t.Fatal(err)
		}
	}
	made, err := f.InviteOwners(ctx)
	if err != nil || len(made) != 2 {
		t.Fatalf("made %+v, %v", made, err)
	}
	for i, of := range made {
		joined, err := f.join(of.Code)
		if i == 0 && (err != nil || joined.Member.Person != of.Owner.Person || joined.Member.Role != access.Owner) {
			t.Errorf("the code for %+v lets in %+v, %v", of.Owner, joined.Member, err)
		}
		if i == 1 && codeOf(err) != joining.CodeCode {
			t.Errorf("the other's code, once one was taken: %+v, %v", joined.Member, err)
		}
	}
	if members, err := f.store.Members(ctx); err != nil || len(members) != 2 {
		t.Errorf("the farm has %+v, %v", members, err)
	}
}

func TestGuessersKeepNoOwnerOut(t *testing.T) {
	f := open(t)
	code := f.ownerCode(t)
	for range 100 {
		if _, err := f.join("ACDEFGHJ"); codeOf(err) == "" {
			t.Fatalf("a guess was answered with %v", err)
		}
	}
	if _, err := f.join(code); err != nil {
		t.Errorf("the owner comes by the same address, after the guesses: %v", err)
	}
}

func TestTheMadeUpFarmIsOpenAtItsDeskAlone(t *testing.T) {
	f := open(t)
	ask := func(atDesk bool) error {
		_, err := f.Join(context.Background(), joining.Asks{Device: uuid.NewString(), AtDesk: atDesk})
		return err
	}
	if err := ask(true); codeOf(err) != joining.CodeCode {
		t.Errorf("a real farm is open: %v", err)
	}
	f.OpenTo(ana)
	if err := ask(false); codeOf(err) != joining.CodeCode {
		t.Errorf("it is open to the network: %v", err)
	}
	if err := ask(true); err != nil {
		t.Error(err)
	}
}

// FuzzJoining tries codes that nobody was given.
func FuzzJoining(f *testing.F) {
	farm := open(f)
	given := farm.invite(f, ben, access.Crew)
	for _, seed := range []string{"", given[:7], strings.ToLower(given), "\x00", "ａｃｄｅ"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		if joining.NormalCode(typed) == given {
			return // that is the one who was given it
		}
		farm.now = farm.now.Add(time.Millisecond)
		if _, err := farm.join(typed); codeOf(err) != joining.CodeCode && codeOf(err) != joining.CodeWait {
			t.Errorf("%q: %v", typed, err)
		}
	})
}
