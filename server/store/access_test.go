package store

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"corymb/internal/access"
	"corymb/internal/changelog"
)

const anaPerson, benPerson = "6f1c9d0e-52a5-4a55-9b43-7f4f5a1d2c3b", "0f5f3a51-8f5f-4f2f-9f34-1a2b3c4d5e6f"

func joins(t *testing.T, s *Store, person string, role access.Role, device, token, held string) bool {
	t.Helper()
	admitted, err := s.Admit(context.Background(), access.Member{Person: person, Role: role},
		access.Device{ID: device, Label: "phone", Joined: s.now()}, access.DigestOf(token), access.DigestOf(held))
	if err != nil {
		t.Fatal(err)
	}
	return admitted
}

func deviceOf(t *testing.T, s *Store, token string) (access.Device, access.Grant, bool) {
	t.Helper()
	d, g, ok, err := s.DeviceOf(context.Background(), access.DigestOf(token))
	if err != nil {
		t.Fatal(err)
	}
	return d, g, ok
}

func TestADeviceIsKnownByItsTokenAlone(t *testing.T) {
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	joins(t, s, benPerson, access.Crew, "d2", "two", "")
	d, g, ok := deviceOf(t, s, "two")
	if !ok || d.ID != "d2" || d.Person != benPerson || g.Role != access.Crew || g.Person != benPerson || !slices.Equal(g.Owners, []string{anaPerson}) {
		t.Errorf("found %v: %+v, %+v", ok, d, g)
	}
	if _, _, ok := deviceOf(t, s, "three"); ok {
		t.Error("a forged token is known")
	}
}

func TestAnIDOfADeviceDoesNotReplaceIt(t *testing.T) {
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d0", "zero", "")
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	if joins(t, s, benPerson, access.Crew, "d1", "stolen", "") {
		t.Error("another device came under the id of one that may come")
	}
	if d, g, ok := deviceOf(t, s, "one"); !ok || d.Person != anaPerson || g.Role != access.Owner {
		t.Errorf("the device is %v %+v", ok, d)
	}
	if !joins(t, s, benPerson, access.Crew, "d1", "again", "one") {
		t.Error("the device itself does not join anew")
	}
	if _, _, ok := deviceOf(t, s, "one"); ok {
		t.Error("the old token still does")
	}
}

func TestJoiningAgainKeepsTheRole(t *testing.T) {
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	joins(t, s, anaPerson, access.Crew, "d2", "two", "")
	if _, g, _ := deviceOf(t, s, "two"); g.Role != access.Owner {
		t.Errorf("the owner became %s by joining with a second phone", g.Role)
	}
}

func TestWithdrawingADevice(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	joins(t, s, benPerson, access.Crew, "d2", "two", "")
	if err := s.Withdraw(ctx, "d1", s.now()); !errors.Is(err, access.ErrLastOwner) {
		t.Errorf("the last owner's last device is withdrawn: %v", err)
	}
	if d, _, _ := deviceOf(t, s, "one"); !d.Withdrawn.IsZero() {
		t.Error("and it is gone all the same")
	}
	if err := s.Withdraw(ctx, "d2", s.now()); err != nil {
		t.Fatal(err)
	}
	if d, _, ok := deviceOf(t, s, "two"); !ok || d.Withdrawn.IsZero() {
		t.Errorf("a withdrawn device is %v %+v", ok, d)
	}
	if err := s.Withdraw(ctx, "d2", s.now()); !errors.Is(err, access.ErrNone) {
		t.Errorf("withdrawn twice: %v", err)
	}
	if joins(t, s, benPerson, access.Crew, "d2", "stolen", "") {
		t.Error("another device takes the place of one that was withdrawn")
	}
	if !joins(t, s, benPerson, access.Crew, "d2", "again", "two") {
		t.Error("a withdrawn device does not join again")
	}
}

func TestTheLastOwnerStaysOne(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	joins(t, s, benPerson, access.Crew, "d2", "two", "")
	if err := s.SetRole(ctx, anaPerson, access.Viewer); !errors.Is(err, access.ErrLastOwner) {
		t.Errorf("no owner is left: %v", err)
	}
	if err := s.SetRole(ctx, benPerson, access.Owner); err != nil {
		t.Fatal(err)
	}
	if err := s.SetRole(ctx, anaPerson, access.Viewer); err != nil {
		t.Error(err)
	}
	if err := s.SetRole(ctx, "nobody", access.Viewer); !errors.Is(err, access.ErrNone) {
		t.Errorf("nobody has a role: %v", err)
	}
}

func TestWhoGoesLeavesNoInvitationBehind(t *testing.T) {
	ctx := context.Background()
	for what, goes := range map[string]func(*Store) error{
		"withdrawn": func(s *Store) error { return s.Withdraw(ctx, "d2", s.now()) },
		"demoted":   func(s *Store) error { return s.SetRole(ctx, benPerson, access.Crew) },
	} {
		s := open(t, t.TempDir())
		joins(t, s, anaPerson, access.Owner, "d1", "one", "")
		joins(t, s, benPerson, access.Owner, "d2", "two", "")
		i := access.Invitation{ID: "i1", Person: benPerson, Role: access.Owner, Expires: s.now().Add(time.Minute)}
		if err := s.Invite(ctx, i, access.DigestOf("for later")); err != nil {
			t.Fatal(err)
		}
		if err := goes(s); err != nil {
			t.Fatal(err)
		}
		if _, ok, err := s.Redeem(ctx, access.DigestOf("for later")); ok || err != nil {
			t.Errorf("an owner who was %s comes back by an invitation (%v)", what, err)
		}
	}
}

func TestTheLastOwnerDoesNotGiveTheLastDeviceAway(t *testing.T) {
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	_, err := s.Admit(context.Background(), access.Member{Person: benPerson, Role: access.Crew},
		access.Device{ID: "d1", Joined: s.now()}, access.DigestOf("two"), access.DigestOf("one"))
	if !errors.Is(err, access.ErrLastOwner) {
		t.Errorf("it is given away: %v", err)
	}
	if _, g, ok := deviceOf(t, s, "one"); !ok || g.Role != access.Owner {
		t.Errorf("and the owner is out: %v %+v", ok, g)
	}
}

func TestAnInvitationIsTakenOnce(t *testing.T) {
	ctx := context.Background()
	now := noon
	s, err := Open(t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	invite := func(id, code string) {
		t.Helper()
		i := access.Invitation{ID: id, Person: benPerson, Name: "Ben", Role: access.Crew, Expires: now.Add(10 * time.Minute)}
		if err := s.Invite(ctx, i, access.DigestOf(code)); err != nil {
			t.Fatal(err)
		}
	}
	takes := func(code string) bool {
		t.Helper()
		i, ok, err := s.Redeem(ctx, access.DigestOf(code))
		if err != nil || ok && (i.Person != benPerson || i.Role != access.Crew || i.Name != "Ben") {
			t.Errorf("took %+v, %v", i, err)
		}
		return ok
	}
	invite("i1", "first")
	if takes("guess") || !takes("first") || takes("first") {
		t.Error("an invitation is taken by a guess, not at all, or twice")
	}
	invite("i2", "late")
	now = now.Add(10 * time.Minute)
	if takes("late") {
		t.Error("an invitation is taken after its time")
	}
	invite("i3", "taken back")
	if open, err := s.Invitations(ctx); err != nil || len(open) != 1 || open[0].ID != "i3" {
		t.Errorf("open are %+v, %v", open, err)
	}
	if err := s.Uninvite(ctx, "i3"); err != nil || takes("taken back") {
		t.Errorf("an invitation is taken after it was taken back (%v)", err)
	}
}

func TestADeviceTellsWhenItWasHereAndWhatItHolds(t *testing.T) {
	dir := t.TempDir()
	now := noon
	clock := func() time.Time { return now }
	s, err := Open(dir, clock)
	if err != nil {
		t.Fatal(err)
	}
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	look := func(what string, at time.Time, unsent int) {
		t.Helper()
		devices, err := s.Devices(context.Background())
		if err != nil || len(devices) != 1 || !devices[0].Seen.Equal(at) || devices[0].Unsent != unsent {
			t.Errorf("%s: %+v, %v", what, devices, err)
		}
	}
	look("never seen", time.Time{}, 0)
	s.Seen(changelog.Sighting{Incarnation: benPerson, Device: "d1", Unsent: 12})
	look("seen", noon, 12)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	now = noon.Add(time.Hour)
	if s, err = Open(dir, clock); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	look("after a restart", noon, 12)
	s.Seen(changelog.Sighting{Incarnation: anaPerson, Device: "d1", Unsent: 3})
	look("under a new incarnation", now, 3)
}

// Months are as the calendar has them; the farm's seasons are summers.
func TestADeviceThatWasNotHeardOfForASeasonAndAHalfIsForgotten(t *testing.T) {
	now := noon
	s, err := Open(t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	joins(t, s, benPerson, access.Crew, "d2", "two", "")
	look := func(what, token string, forgotten bool) {
		t.Helper()
		if d, _, ok := deviceOf(t, s, token); !ok || d.IsForgotten(now) != forgotten || d.MayCome(now) == forgotten {
			t.Errorf("%s, it is %v %+v", what, ok, d)
		}
	}
	now = noon.AddDate(0, 12, 0)
	look("after a winter in a drawer", "two", false)
	now = noon.AddDate(0, 17, 0)
	s.Seen(changelog.Sighting{Incarnation: anaPerson, Device: "d1"})
	now = noon.AddDate(0, 18, 1)
	look("never heard of since it joined", "two", true)
	look("heard of a month ago", "one", false)
	now = noon.AddDate(0, 18, -1)
	look("with the clock set right", "two", false)
	now = noon.AddDate(0, 18, 1)
	if !joins(t, s, benPerson, access.Crew, "d2", "again", "two") {
		t.Error("it does not join again as the device that it was")
	}
	look("joined again", "again", false)
}

func TestAnOwnerWhoseDevicesAreForgottenIsNoneThatIsLeft(t *testing.T) {
	now := noon
	s, err := Open(t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	joins(t, s, benPerson, access.Owner, "d2", "two", "")
	now = noon.AddDate(0, 19, 0)
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	if err := s.Withdraw(context.Background(), "d1", now); !errors.Is(err, access.ErrLastOwner) {
		t.Errorf("the one owner's device that may come is withdrawn: %v", err)
	}
	s.Seen(changelog.Sighting{Incarnation: benPerson, Device: "d2"})
	if err := s.Withdraw(context.Background(), "d1", now); err != nil {
		t.Errorf("with another's: %v", err)
	}
}

func TestWithdrawingAPersonWithdrawsEveryDeviceOfTheirs(t *testing.T) {
	ctx := context.Background()
	s := open(t, t.TempDir())
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	joins(t, s, benPerson, access.Owner, "d2", "two", "")
	joins(t, s, benPerson, access.Owner, "d3", "three", "")
	joins(t, s, benPerson, access.Owner, "d4", "four", "")
	if err := s.Withdraw(ctx, "d4", s.now()); err != nil {
		t.Fatal(err)
	}
	gone, err := s.WithdrawPerson(ctx, benPerson, s.now())
	if slices.Sort(gone); err != nil || !slices.Equal(gone, []string{"d2", "d3"}) {
		t.Errorf("withdrawn are %v, %v", gone, err)
	}
	for token, may := range map[string]bool{"one": true, "two": false, "three": false} {
		if d, _, _ := deviceOf(t, s, token); d.Withdrawn.IsZero() != may {
			t.Errorf("%s may come: %v", token, !may)
		}
	}
	if gone, err := s.WithdrawPerson(ctx, anaPerson, s.now()); !errors.Is(err, access.ErrLastOwner) || gone != nil {
		t.Errorf("the last owner is withdrawn: %v, %v", gone, err)
	}
	if d, _, _ := deviceOf(t, s, "one"); !d.Withdrawn.IsZero() {
		t.Error("and is gone all the same")
	}
	if _, err := s.WithdrawPerson(ctx, benPerson, s.now()); !errors.Is(err, access.ErrNone) {
		t.Errorf("withdrawn twice: %v", err)
	}
}

func TestThatAnOlderCopyWasPutBackIsToldUntilAnOwnerHasLooked(t *testing.T) {
	ctx := context.Background()
	dir, copied := t.TempDir(), filepath.Join(t.TempDir(), "copy.db")
	s := open(t, dir)
	told := func(when string, want time.Time) {
		t.Helper()
		if got, err := s.RestoredUnseen(ctx); err != nil || !got.Equal(want) {
			t.Errorf("%s: %v, %v, want %v", when, got, err, want)
		}
	}
	again := func() {
		t.Helper()
		closeStore(t, s)
		s = open(t, dir)
	}
	settle(t, s, newPhone().says(name("b1", "North"))...)
	closeStore(t, s)
	copyFile(t, copied, filepath.Join(dir, FileName))
	s = open(t, dir)
	settle(t, s, newPhone().says(name("b2", "East"))...)
	told("before", time.Time{})
	closeStore(t, s)
	copyFile(t, filepath.Join(dir, FileName), copied)
	s = open(t, dir)
	told("put back", noon)
	again()
	told("after a restart", noon)
	if err := s.RestoredSeen(ctx); err != nil {
		t.Fatal(err)
	}
	told("looked at", time.Time{})
	again()
	told("after another", time.Time{})
}
