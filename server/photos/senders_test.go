package photos

import (
	"bytes"
	"context"
	"io"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"
)

var stranger = SenderOf("another phone")

func TestWhatOneSendsSpoilsNoOthersPhoto(t *testing.T) {
	data := noise(t, 1, 64)
	spoilt := bytes.Clone(data)
	spoilt[50] ^= 1
	h, size := hashOf(data), int64(len(data))
	tests := []struct {
		name string
		does func(p *Photos) error // before the last piece
		code Code
	}{
		{"with wrong bytes where the next would come", func(p *Photos) error {
			_, err := p.Write(context.Background(), stranger, h, size, 100, bytes.NewReader(spoilt[100:]))
			return err
		}, CodeOffset},
		{"with wrong bytes from the beginning", func(p *Photos) error {
			_, err := p.Write(context.Background(), stranger, h, size, 0, bytes.NewReader(spoilt))
			return err
		}, CodeHash},
		{"with another length", func(p *Photos) error {
			_, err := p.Write(context.Background(), stranger, h, size+1, 0, bytes.NewReader(append(data[:size:size], 'x')))
			return err
		}, CodeHash},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := opened(t, t.TempDir())
			if _, err := send(p, data, 0, 100); err != nil {
				t.Fatal(err)
			}
			checkRefused(t, tt.does(p), tt.code)
			if state, err := p.Have(stranger, h); err != nil || state != (State{}) {
				t.Errorf("of the stranger's are here %+v (%v)", state, err)
			}
			if state, err := send(p, data, 100, len(data)); err != nil || !state.Whole {
				t.Fatalf("%+v, %v", state, err)
			}
			checkKept(t, p, data)
		})
	}
}

func TestSeveralPhonesSendThePhotoThatOneKeeps(t *testing.T) {
	const seed, phones = 17, 5
	t.Logf("seed %d", seed)
	p, data := opened(t, t.TempDir()), noise(t, seed, 300)
	var sending sync.WaitGroup
	for i := range phones {
		rnd, from := rand.New(rand.NewPCG(seed, uint64(i))), SenderOf(string(rune('a'+i)))
		sending.Go(func() {
			state, err := p.Have(from, hashOf(data))
			for err == nil && !state.Whole {
				at := int(state.Bytes)
				state, err = sendFrom(from, p, data, at, min(at+1+rnd.IntN(20_000), len(data)))
				if err != nil && state.Whole { // another was first
					err = nil
				}
			}
			if err != nil {
				t.Errorf("phone %d: %v", i, err)
			}
		})
	}
	sending.Wait()
	checkKept(t, p, data)
	if names := left(t, p); !slices.Equal(names, []string{hashOf(data).String()}) || p.used != 0 || len(p.uploads) != 0 {
		t.Errorf("left are %v and %d bytes of %d uploads", names, p.used, len(p.uploads))
	}
}

// A photo that came whole from another is told as that, also to who has begun to send it.
func TestWhatAnotherSentNeedNotBeSentToItsEnd(t *testing.T) {
	dir := t.TempDir()
	p, data := opened(t, dir), noise(t, 3, 64)
	if _, err := sendFrom(stranger, p, data, 0, 200); err != nil {
		t.Fatal(err)
	}
	sendAll(t, p, data)
	state, err := p.Have(stranger, hashOf(data))
	if err != nil || !state.Whole || p.used != 0 || len(left(t, p)) != 1 {
		t.Errorf("%+v, %v; left are %v", state, err, left(t, p))
	}
}

func TestOnePhoneHasOnlySoManyUnfinished(t *testing.T) {
	limits, c := UsualLimits(), newClock()
	limits.Each = 3
	p, err := open(t.TempDir(), limits, c.now, unsynced{})
	if err != nil {
		t.Fatal(err)
	}
	photo := func(i int) []byte { return noise(t, uint64(i), 64) }
	begun := func(from Sender) (which []int) {
		for i := range 6 {
			if state, err := p.Have(from, hashOf(photo(i))); err != nil {
				t.Fatal(err)
			} else if state.Bytes > 0 {
				which = append(which, i)
			}
		}
		return which
	}
	if _, err := sendFrom(stranger, p, photo(0), 0, 100); err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		c.move(time.Second)
		if _, err := send(p, photo(i), 0, 100); err != nil {
			t.Fatal(err)
		}
	}
	if mine, theirs := begun(phone), begun(stranger); !slices.Equal(mine, []int{2, 3, 4}) || !slices.Equal(theirs, []int{0}) {
		t.Errorf("the phone's are %v, another's %v", mine, theirs)
	}

	lines := make([]*io.PipeWriter, 3) // on each comes a piece, which is waited for
	var sending sync.WaitGroup
	for i := range lines {
		var line *io.PipeReader
		line, lines[i] = io.Pipe()
		sending.Go(func() {
			if _, err := p.Write(context.Background(), phone, hashOf(photo(i+2)), int64(len(photo(i+2))), 100, line); err != nil {
				t.Error(err)
			}
		})
		if _, err := lines[i].Write(photo(i + 2)[100:101]); err != nil {
			t.Fatal(err)
		}
	}
	_, err = send(p, photo(5), 0, 100)
	checkRefused(t, err, CodeCrowded)
	for _, line := range lines {
		_ = line.Close() // it never fails
	}
	sending.Wait()
}
