package photos

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// sending is what phones were told of their photos.
type sending struct {
	photos [][]byte
	told   map[Hash]State
}

func newSending(t *testing.T) *sending {
	return &sending{photos: [][]byte{noise(t, 1, 40), noise(t, 2, 50)}, told: map[Hash]State{}}
}

// run sends the photos in pieces, from where the shed has them, until all are whole or something fails.
func (s *sending) run(root string, disk drive) error {
	p, err := open(root, UsualLimits(), time.Now, disk)
	if err != nil {
		return err
	}
	for _, data := range s.photos {
		state, err := p.Have(phone, hashOf(data))
		for err == nil && !state.Whole {
			s.told[hashOf(data)] = state
			at := int(state.Bytes)
			state, err = send(p, data, at, min(at+len(data)/2, len(data)))
		}
		if err != nil {
			return err
		}
		s.told[hashOf(data)] = state
	}
	return nil
}

// broken says what is not as it was told, or as it must be, in a folder that was found. Where a disk began
// to write of itself, the name of an unfinished photo may be gone before its new one is there: then its
// phone, which was not told that it is whole, sends it from the beginning.
func (s *sending) broken(root string, ofItself bool) error {
	p, err := open(root, UsualLimits(), time.Now, unsynced{})
	if err != nil {
		return err
	}
	for i, data := range s.photos {
		state, err := p.Have(phone, hashOf(data))
		if err != nil {
			return err
		}
		if told := s.told[hashOf(data)]; state.Bytes < told.Bytes && !ofItself || told.Whole && !state.Whole {
			return fmt.Errorf("photo %d was told to be %+v and is %+v", i, told, state)
		}
		if err := sendAsAPhoneDoes(p, data); err != nil {
			return fmt.Errorf("photo %d, of which were found %+v: %w", i, state, err)
		}
		if found, err := os.ReadFile(p.path(hashOf(data))); err != nil || hashOf(found) != hashOf(data) {
			return fmt.Errorf("photo %d stands there with %d other bytes, and %v", i, len(found), err)
		}
		if small, err := os.ReadFile(p.path(hashOf(data)) + smallSuffix); err == nil {
			if _, err := decodeConfig(small); err != nil {
				return fmt.Errorf("the thumbnail of photo %d: %w", i, err)
			}
		}
	}
	return nil
}

// sendAsAPhoneDoes sends what lacks, and all once more where the shed found that what it has is not the
// photo.
func sendAsAPhoneDoes(p *Photos, data []byte) error {
	state, err := p.Have(phone, hashOf(data))
	for tries := 0; err == nil && !state.Whole && tries < 2; tries++ {
		state, err = send(p, data, int(state.Bytes), len(data))
		if refusal := new(Refusal); errors.As(err, &refusal) && refusal.Code == CodeHash && tries == 0 {
			err = nil
		}
	}
	return err
}

// faults cuts the power at each step in turn, and says what was then not as it was told, until that is
// enough.
func faults(t *testing.T, seed uint64, enough int, change func(*powered)) (found []error, cuts int) {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 0))
	for ended := false; !ended && len(found) < enough; cuts++ {
		root := t.TempDir()
		s, disk := newSending(t), newPowered(root)
		change(disk)
		disk.steps = cuts
		err := s.run(root, disk)
		if ended = err == nil; !ended && !errors.Is(err, errPower) {
			t.Fatal(err)
		}
		for _, rnd := range []*rand.Rand{nil, rnd, rnd, rnd} {
			if err := s.broken(disk.cut(t, rnd), rnd != nil); err != nil {
				found = append(found, fmt.Errorf("cut at step %d: %w", cuts, err))
			}
		}
	}
	return found, cuts
}

func TestWhatAPhoneWasToldOutlastsAPowerCut(t *testing.T) {
	const seed = 1
	found, cuts := faults(t, seed, 10, func(*powered) {})
	t.Logf("seed %d, %d cuts, four outcomes each", seed, cuts)
	for _, err := range found {
		t.Error(err)
	}
	if cuts < 20 {
		t.Errorf("there were only %d cuts", cuts)
	}
}

// Were nothing synced, the test above would see it.
func TestADiskThatForgetsLosesWhatWasTold(t *testing.T) {
	for name, change := range map[string]func(*powered){
		"files":   func(d *powered) { d.forgetsFiles = true },
		"folders": func(d *powered) { d.forgetsFolders = true },
	} {
		if found, _ := faults(t, 2, 1, change); len(found) == 0 {
			t.Errorf("%s are not synced, and nothing is lost", name)
		}
	}
}

// A kill leaves what was written but not synced. The next program must not take it for synced.
func TestWhatAKilledProgramWroteOutlastsAPowerCutOnceItIsTold(t *testing.T) {
	for kills, ended := 0, false; !ended; kills++ {
		for _, cut := range []int{-1, 6, 9} { // once all is sent; about when the next program first tells what it has
			root := t.TempDir()
			s, disk := newSending(t), newPowered(root)
			disk.steps = kills
			ended = s.run(root, disk) == nil
			disk.steps = cut
			if err := s.run(root, disk); err != nil && !errors.Is(err, errPower) { // the next program
				t.Fatal(err)
			}
			if err := s.broken(disk.cut(t, nil), false); err != nil {
				t.Errorf("killed at step %d, cut at step %d: %v", kills, cut, err)
			}
		}
	}
}

func TestAPieceThatCouldNotBeSyncedIsSyncedBeforeItsPhotoIsKept(t *testing.T) {
	root := t.TempDir()
	s, disk := newSending(t), newPowered(root)
	p, err := open(root, UsualLimits(), time.Now, disk)
	if err != nil {
		t.Fatal(err)
	}
	data := s.photos[0]
	disk.failsToSync = errors.New("the disk stumbles")
	if state, err := send(p, data, 0, len(data)); !errors.Is(err, disk.failsToSync) || state.Whole {
		t.Errorf("%+v, %v", state, err)
	}
	disk.failsToSync = nil
	state, err := send(p, data, len(data), len(data))
	if err != nil || !state.Whole {
		t.Fatalf("%+v, %v", state, err)
	}
	s.told[hashOf(data)] = state
	if err := s.broken(disk.cut(t, nil), false); err != nil {
		t.Error(err)
	}
}
