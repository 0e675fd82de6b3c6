package photos

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/iotest"
	"time"
)

func TestAPhotoComesInPieces(t *testing.T) {
	data := noise(t, 1, 64)
	for _, length := range []int{1, 5, headBytes, 100, len(data) - 1, len(data)} {
		p, err := open(t.TempDir(), UsualLimits(), time.Now, unsynced{})
		if err != nil {
			t.Fatal(err)
		}
		for at := 0; at < len(data); at += length {
			end := min(at+length, len(data))
			state, err := send(p, data, at, end)
			if want := (State{Bytes: int64(end), Size: int64(len(data)), Whole: end == len(data)}); err != nil || state != want {
				t.Fatalf("after %d bytes in pieces of %d: %+v, %v", end, length, state, err)
			}
		}
		checkKept(t, p, data)
		if p.used != 0 || len(p.uploads) != 0 {
			t.Errorf("%d bytes of %d uploads are still counted", p.used, len(p.uploads))
		}
	}
}

func TestAPhotoIsKeptOnce(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 2, 64)
	sendAll(t, p, data)
	whole := State{Bytes: int64(len(data)), Size: int64(len(data)), Whole: true}
	state, err := send(p, data, 0, 100)
	if checkRefused(t, err, CodeOffset); state != whole {
		t.Errorf("sent again: %+v", state)
	}
	if state, err := send(p, data, len(data), len(data)); err != nil || state != whole {
		t.Errorf("asked at its end: %+v, %v", state, err)
	}
	if names := left(t, p); !slices.Equal(names, []string{hashOf(data).String()}) {
		t.Errorf("the folder holds %v", names)
	}
}

func TestAPieceMustGoOnWhereTheLastEnded(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 3, 64)
	size := int64(len(data))
	steps := []struct {
		name        string
		offset, end int
		code        Code
		bytes, size int64 // afterwards
	}{
		{"nothing is here", 100, 200, CodeOffset, 0, 0},
		{"the first", 0, 200, "", 200, size},
		{"it again", 0, 200, CodeOffset, 200, size},
		{"one that overlaps", 150, 300, CodeOffset, 200, size},
		{"one with a gap", 250, 300, CodeOffset, 200, size},
		{"one beyond the end", len(data), len(data), CodeOffset, 200, size},
		{"an empty one", 200, 200, "", 200, size},
		{"the next", 200, 300, "", 300, size},
	}
	for _, step := range steps {
		state, err := send(p, data, step.offset, step.end)
		if step.code != "" {
			checkRefused(t, err, step.code)
		} else if err != nil {
			t.Errorf("%s: %v", step.name, err)
		}
		if want := (State{Bytes: step.bytes, Size: step.size}); state != want {
			t.Errorf("%s: %+v, want %+v", step.name, state, want)
		}
	}
	if _, err := p.Write(context.Background(), phone, hashOf(data), size, -1, bytes.NewReader(data)); err == nil {
		t.Error("a piece begins before the photo")
	}
}

func TestARefusedPhotoLeavesNothing(t *testing.T) {
	good := noise(t, 4, 64)
	bad := bytes.Clone(good)
	bad[len(bad)/2] ^= 1
	damaged := good[:len(good)-100]
	tests := []struct {
		name  string
		hash  Hash
		data  []byte
		code  Code
		first int // length of the first piece
	}{
		{"other bytes than announced", hashOf(good), bad, CodeHash, 100},
		{"something behind the picture", hashOf(append(good, zipFile...)), append(good, zipFile...), CodeTrailing, 100},
		{"a picture that is cut off", hashOf(damaged), damaged, CodeDamaged, 100},
		{"an SVG, seen at once", Hash{1}, []byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), CodeType, 20},
		{"a program in pieces of few bytes", hashOf([]byte("MZ not a picture")), []byte("MZ not a picture"), CodeType, 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, size := opened(t, t.TempDir()), int64(len(tt.data))
			state, err := p.Write(context.Background(), phone, tt.hash, size, 0, bytes.NewReader(tt.data[:tt.first]))
			if err == nil {
				state, err = p.Write(context.Background(), phone, tt.hash, size, int64(tt.first), bytes.NewReader(tt.data[tt.first:]))
			}
			if checkRefused(t, err, tt.code); state != (State{}) || len(left(t, p)) != 0 || p.used != 0 {
				t.Errorf("left are %+v, %v and %d bytes of room", state, left(t, p), p.used)
			}
			if _, err := p.Open(tt.hash); !errors.Is(err, fs.ErrNotExist) {
				t.Errorf("it can be opened: %v", err)
			}
			if _, err := p.Small(context.Background(), tt.hash); !errors.Is(err, fs.ErrNotExist) {
				t.Errorf("it has a thumbnail: %v", err)
			}
			sendAll(t, p, good) // nothing stands in the way of what is right
		})
	}
}

// The hash of "abc" is that of FIPS 180-4 (its example in NIST's SHA256.pdf, "one block message sample").
func TestTheHashIsSHA256(t *testing.T) {
	h, err := ParseHash("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")
	if err != nil {
		t.Fatal(err)
	}
	for text, code := range map[string]Code{"abc": CodeType, "abd": CodeHash} { // right, but no picture; wrong
		_, err := opened(t, t.TempDir()).Write(context.Background(), phone, h, 3, 0, strings.NewReader(text))
		checkRefused(t, err, code)
	}
}

func TestOnlyAHashIsAName(t *testing.T) {
	good := strings.Repeat("0123456789abcdef", 4)
	if h, err := ParseHash(good); err != nil || h.String() != good {
		t.Errorf("%s, %v", h, err)
	}
	for _, bad := range []string{
		"", "..", "../../../../etc/passwd", good[:63], good + "0", strings.ToUpper(good), "g" + good[1:],
		"../" + good[3:], "/" + good[1:], good[:62] + "\x00a", good[:60] + "%2e.", good + ".small", " " + good[1:],
	} {
		if h, err := ParseHash(bad); err == nil {
			t.Errorf("%q is taken for %s", bad, h)
		}
	}
}

func TestALengthMustBeTrue(t *testing.T) {
	ctx := context.Background()
	data := noise(t, 5, 64)
	h, size := hashOf(data), int64(len(data))
	for _, length := range []int64{-1, 0, UsualLimits().Bytes + 1, 1 << 62} {
		_, err := opened(t, t.TempDir()).Write(ctx, phone, h, length, 0, bytes.NewReader(data))
		checkRefused(t, err, CodeTooLarge)
	}
	t.Run("more comes than announced", func(t *testing.T) {
		p := opened(t, t.TempDir())
		state, err := p.Write(ctx, phone, h, size-50, 0, bytes.NewReader(data))
		if checkRefused(t, err, CodeLength); state != (State{Bytes: size - 50, Size: size - 50}) {
			t.Errorf("%+v", state)
		}
		_, err = p.Write(ctx, phone, h, size, size-50, bytes.NewReader(data[size-50:]))
		checkRefused(t, err, CodeLength)
		sendAll(t, p, data) // from its beginning
		if names := left(t, p); !slices.Equal(names, []string{h.String()}) {
			t.Errorf("the folder holds %v", names)
		}
	})
	t.Run("a false length keeps nobody out", func(t *testing.T) {
		p := opened(t, t.TempDir())
		if _, err := p.Write(ctx, phone, h, UsualLimits().Bytes, 0, bytes.NewReader(data[:200])); err != nil {
			t.Fatal(err)
		}
		sendAll(t, p, data)
	})
}

func TestWhatCameBeforeTheLineBrokeIsKept(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 6, 64)
	broken := errors.New("the line broke")
	piece := io.MultiReader(iotest.OneByteReader(bytes.NewReader(data[:300])), iotest.ErrReader(broken))
	state, err := p.Write(context.Background(), phone, hashOf(data), int64(len(data)), 0, piece)
	if !errors.Is(err, broken) || state.Bytes != 300 {
		t.Errorf("%+v, %v", state, err)
	}
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	state, err = p.Write(gone, phone, hashOf(data), int64(len(data)), 300, bytes.NewReader(data[300:]))
	if state.Bytes != int64(len(data)) || state.Whole && err != nil {
		t.Errorf("whoever sent it has gone: %+v, %v", state, err)
	}
	if state, err = send(opened(t, filepath.Dir(p.dir)), data, len(data), len(data)); err != nil || !state.Whole {
		t.Errorf("asked again: %+v, %v", state, err)
	}
}

func TestSeveralPhonesSendTheSamePhotoAtOnce(t *testing.T) {
	const seed, phones = 7, 6
	t.Logf("seed %d", seed)
	p, data := opened(t, t.TempDir()), noise(t, seed, 400)
	var sending sync.WaitGroup
	for i := range phones {
		rnd := rand.New(rand.NewPCG(seed, uint64(i)))
		sending.Go(func() {
			offset := 0
			for range 10_000 {
				end := min(offset+1+rnd.IntN(20_000), len(data))
				state, err := send(p, data, offset, end)
				var refusal *Refusal
				if err != nil && (!errors.As(err, &refusal) || refusal.Code != CodeOffset) {
					t.Errorf("phone %d: %v", i, err)
					return
				}
				if state.Whole {
					return
				}
				offset = int(state.Bytes)
			}
			t.Errorf("phone %d never got through", i)
		})
	}
	sending.Wait()
	checkKept(t, p, data)
	if names := left(t, p); len(names) != 1 || p.used != 0 {
		t.Errorf("left are %v and %d bytes of room", names, p.used)
	}
}

// A phone that fell silent in the middle of a piece holds up no other that sends the same photo, and when
// it speaks again it is told what became of it.
func TestASilentPhoneHoldsUpNobody(t *testing.T) {
	data := noise(t, 8, 64)
	spoilt := bytes.Clone(data)
	spoilt[len(spoilt)/2] ^= 1
	for code, others := range map[Code][]byte{CodeOffset: data, CodeHash: spoilt} {
		p, h, size := opened(t, t.TempDir()), hashOf(data), int64(len(data))
		line, end := io.Pipe()
		silent := make(chan error)
		go func() {
			_, err := p.Write(context.Background(), phone, h, size, 0, line)
			silent <- err
		}()
		if _, err := end.Write(data[:100]); err != nil {
			t.Fatal(err)
		}
		for state := (State{}); state.Bytes < 100; { // until it is written
			var err error
			if state, err = p.Have(phone, h); err != nil {
				t.Fatal(err)
			}
		}
		state, err := p.Write(context.Background(), phone, h, size, 100, bytes.NewReader(others[100:]))
		if whole := code == CodeOffset; state.Whole != whole || (err == nil) != whole {
			t.Errorf("the other: %+v, %v", state, err)
		}
		if _, err := end.Write(data[100:200]); err != nil { // it speaks again
			t.Fatal(err)
		}
		checkRefused(t, <-silent, code)
		if p.used != 0 || len(p.uploads) != 0 {
			t.Errorf("%d bytes of %d uploads are left", p.used, len(p.uploads))
		}
	}
}
