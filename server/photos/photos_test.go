package photos

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// clock stands still until it is moved.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func newClock() *clock { return &clock{at: time.Now()} } // the folder's files have times of now

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) move(by time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(by)
}

func opened(t testing.TB, dir string) *Photos {
	t.Helper()
	p, err := Open(dir, UsualLimits(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// phone sends, where it does not matter who does.
var phone = SenderOf("phone")

// send sends the bytes from offset to end of a photo, which is all of data.
func send(p *Photos, data []byte, offset, end int) (State, error) {
	return sendFrom(phone, p, data, offset, end)
}

func sendFrom(from Sender, p *Photos, data []byte, offset, end int) (State, error) {
	return p.Write(context.Background(), from, hashOf(data), int64(len(data)), int64(offset), bytes.NewReader(data[offset:end]))
}

func sendAll(t testing.TB, p *Photos, data []byte) {
	t.Helper()
	state, err := send(p, data, 0, len(data))
	if err != nil || !state.Whole {
		t.Fatalf("%+v, %v", state, err)
	}
}

// noise is a photo that does not compress, so that it is large.
func noise(t testing.TB, seed uint64, side int) []byte {
	t.Helper()
	m := picture(side, side)
	rnd := rand.New(rand.NewPCG(seed, 0))
	for i := range m.Pix {
		if i%4 != 3 {
			m.Pix[i] = byte(rnd.Uint32())
		}
	}
	return jpegBytes(t, m)
}

// left is what stands in the folder, without thumbnails.
func left(t testing.TB, p *Photos) (names []string) {
	t.Helper()
	err := filepath.WalkDir(p.dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !strings.HasSuffix(path, smallSuffix) {
			names = append(names, d.Name())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func checkKept(t testing.TB, p *Photos, data []byte) {
	t.Helper()
	h := hashOf(data)
	photo, err := p.Open(h)
	if err != nil {
		t.Fatal(err)
	}
	got, err := io.ReadAll(photo)
	if err := errors.Join(err, photo.Close()); err != nil || !bytes.Equal(got, data) {
		t.Errorf("it holds %d other bytes, not %d (%v)", len(got), len(data), err)
	}
	small, err := p.Small(context.Background(), h)
	if err != nil {
		t.Fatal(err)
	}
	got, err = io.ReadAll(small)
	if err := errors.Join(err, small.Close()); err != nil {
		t.Fatal(err)
	}
	if _, err := decodeConfig(got); err != nil {
		t.Errorf("the thumbnail cannot be decoded: %v", err)
	}
}

func checkRefused(t testing.TB, err error, code Code) {
	t.Helper()
	var refusal *Refusal
	if !errors.As(err, &refusal) || refusal.Code != code {
		t.Errorf("%v, want the refusal %s", err, code)
	}
}
