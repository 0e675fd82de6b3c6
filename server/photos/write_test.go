package photos

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"testing/iotest"
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

// send sends the bytes from offset to end of a photo, which is all of data.
func send(p *Photos, data []byte, offset, end int) (State, error) {
	return p.Write(context.Background(), hashOf(data), int64(len(data)), int64(offset), bytes.NewReader(data[offset:end]))
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

func TestAPhotoComesInPieces(t *testing.T) {
	data := noise(t, 1, 64)
	for _, length := range []int{1, 5, headBytes, 100, len(data) - 1, len(data)} {
		p := opened(t, t.TempDir())
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
	if _, err := p.Write(context.Background(), hashOf(data), size, -1, bytes.NewReader(data)); err == nil {
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
			state, err := p.Write(context.Background(), tt.hash, size, 0, bytes.NewReader(tt.data[:tt.first]))
			if err == nil {
				state, err = p.Write(context.Background(), tt.hash, size, int64(tt.first), bytes.NewReader(tt.data[tt.first:]))
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
		_, err := opened(t, t.TempDir()).Write(context.Background(), h, 3, 0, strings.NewReader(text))
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
		_, err := opened(t, t.TempDir()).Write(ctx, h, length, 0, bytes.NewReader(data))
		checkRefused(t, err, CodeTooLarge)
	}
	t.Run("more comes than announced", func(t *testing.T) {
		p := opened(t, t.TempDir())
		state, err := p.Write(ctx, h, size-50, 0, bytes.NewReader(data))
		if checkRefused(t, err, CodeLength); state != (State{Bytes: size - 50, Size: size - 50}) {
			t.Errorf("%+v", state)
		}
		_, err = p.Write(ctx, h, size, size-50, bytes.NewReader(data[size-50:]))
		checkRefused(t, err, CodeLength)
		sendAll(t, p, data) // from its beginning
		if names := left(t, p); !slices.Equal(names, []string{h.String()}) {
			t.Errorf("the folder holds %v", names)
		}
	})
	t.Run("a false length keeps nobody out", func(t *testing.T) {
		p := opened(t, t.TempDir())
		if _, err := p.Write(ctx, h, UsualLimits().Bytes, 0, bytes.NewReader(data[:200])); err != nil {
			t.Fatal(err)
		}
		sendAll(t, p, data)
	})
}

func TestWhatCameBeforeTheLineBrokeIsKept(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 6, 64)
	broken := errors.New("the line broke")
	piece := io.MultiReader(iotest.OneByteReader(bytes.NewReader(data[:300])), iotest.ErrReader(broken))
	state, err := p.Write(context.Background(), hashOf(data), int64(len(data)), 0, piece)
	if !errors.Is(err, broken) || state.Bytes != 300 {
		t.Errorf("%+v, %v", state, err)
	}
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	state, err = p.Write(gone, hashOf(data), int64(len(data)), 300, bytes.NewReader(data[300:]))
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

// A phone that fell silent in the middle of a piece holds up no other that sends the same photo.
func TestASilentPhoneHoldsUpNobody(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 8, 64)
	line, end := io.Pipe()
	silent := make(chan error)
	go func() {
		_, err := p.Write(context.Background(), hashOf(data), int64(len(data)), 0, line)
		silent <- err
	}()
	if _, err := end.Write(data[:100]); err != nil {
		t.Fatal(err)
	}
	for state := (State{}); state.Bytes < 100; { // until it is written
		var err error
		if state, err = p.Have(hashOf(data)); err != nil {
			t.Fatal(err)
		}
	}
	if state, err := send(p, data, 100, len(data)); err != nil || !state.Whole {
		t.Errorf("%+v, %v", state, err)
	}
	if _, err := end.Write(data[100:200]); err != nil { // it speaks again
		t.Fatal(err)
	}
	checkRefused(t, <-silent, CodeOffset)
	checkKept(t, p, data)
}

func TestUnfinishedPhotosHaveTheirRoom(t *testing.T) {
	limits, c := UsualLimits(), newClock()
	limits.Unfinished = 4 * leastRoom
	p, err := Open(t.TempDir(), limits, c.now)
	if err != nil {
		t.Fatal(err)
	}
	photo := func(i int) []byte { return noise(t, uint64(i), 64) }
	for i := range 4 {
		if _, err := send(p, photo(i), 0, 20); err != nil {
			t.Fatal(err)
		}
		c.move(time.Minute)
	}
	_, err = send(p, photo(4), 0, 20)
	checkRefused(t, err, CodeCrowded)
	if state, err := send(p, photo(1), 20, 40); err != nil || state.Bytes != 40 {
		t.Errorf("one that is on its way: %+v, %v", state, err)
	}
	c.move(limits.Idle - time.Minute) // the first and the third have waited long, the second has not
	for _, i := range []int{4, 5} {
		if _, err := send(p, photo(i), 0, 20); err != nil {
			t.Errorf("after a while: %v", err)
		}
	}
	_, err = send(p, photo(6), 0, 20)
	checkRefused(t, err, CodeCrowded)
	for i, want := range []int64{0, 40, 0, 20, 20, 20, 0} {
		if state, err := p.Have(hashOf(photo(i))); err != nil || state.Bytes != want {
			t.Errorf("photo %d: %+v, %v, want %d", i, state, err, want)
		}
	}
	if names := left(t, p); len(names) != 4 || p.used != limits.Unfinished {
		t.Errorf("left are %v and %d bytes of room", names, p.used)
	}
	sendAll(t, opened(t, filepath.Dir(p.dir)), photo(6))
}

func TestPiecesThatNobodyGoesOnWithAreDropped(t *testing.T) {
	c, dir := newClock(), t.TempDir()
	p, err := Open(dir, UsualLimits(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	old, newer, newest := noise(t, 1, 64), noise(t, 2, 64), noise(t, 3, 64)
	for _, data := range [][]byte{old, newer} {
		if _, err := send(p, data, 0, 100); err != nil {
			t.Fatal(err)
		}
		c.move(20 * 24 * time.Hour)
	}
	if _, err := send(p, newest, 0, 100); err != nil {
		t.Fatal(err)
	}
	for i, data := range [][]byte{old, newer, newest} {
		state, err := p.Have(hashOf(data))
		if want := int64(100 * min(i, 1)); err != nil || state.Bytes != want {
			t.Errorf("%d: %+v, %v", i, state, err)
		}
	}
	c.move(UsualLimits().Keep)
	if p, err = Open(dir, UsualLimits(), c.now); err != nil || len(left(t, p)) != 0 {
		t.Errorf("at the next start are left %v (%v)", left(t, p), err)
	}
}

func TestWhatIsOnTheDiskIsFoundAgainAtTheStart(t *testing.T) {
	dir := t.TempDir()
	p, data, other, empty := opened(t, dir), noise(t, 1, 64), noise(t, 2, 64), noise(t, 3, 64)
	sendAll(t, p, data)
	if _, err := send(p, other, 0, 500); err != nil {
		t.Fatal(err)
	}
	put := func(name string, content []byte) {
		if err := os.WriteFile(filepath.Join(p.dir, unfinishedDir, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put(hashOf(data).String()+".7000", data)                // beside the photo that it became
	put(hashOf(empty).String()+".7000", nil)                // made, and nothing written
	put(hashOf([]byte("x")).String()+".4", []byte("xxxx+")) // longer than announced
	put("note.txt", []byte("somebody's"))
	p = opened(t, dir)
	if state, err := p.Have(hashOf(other)); err != nil || state != (State{Bytes: 500, Size: int64(len(other))}) {
		t.Errorf("%+v, %v", state, err)
	}
	if p.used != leastRoom {
		t.Errorf("%d bytes of room are counted", p.used)
	}
	if state, err := send(p, other, 500, len(other)); err != nil || !state.Whole {
		t.Errorf("gone on with: %+v, %v", state, err)
	}
	names := left(t, p)
	want := []string{hashOf(data).String(), hashOf(other).String(), "note.txt"}
	slices.Sort(names)
	if slices.Sort(want); !slices.Equal(names, want) {
		t.Errorf("left are %v, want %v", names, want)
	}
	list, err := p.List()
	if err != nil || len(list) != 2 {
		t.Fatalf("%v, %v", list, err)
	}
	for _, kept := range list {
		if info, err := os.Stat(p.path(kept.Hash)); err != nil || info.Size() != kept.Size {
			t.Errorf("%v: %v", kept, err)
		}
	}
}

func TestAThumbnailThatIsMissingIsMadeAgain(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	sendAll(t, p, data)
	if err := os.Remove(p.path(hashOf(data)) + smallSuffix); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		checkKept(t, p, data)
	}
}

func TestAPhotoThatRotIsSaidAndNotServed(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	sendAll(t, p, data)
	if err := os.WriteFile(p.path(hashOf(data)), []byte("<html>not it"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Open(hashOf(data)); err == nil || !strings.Contains(err.Error(), "backup") {
		t.Errorf("%v", err)
	}
}

func TestOnePictureIsDecodedAtATime(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	if err := p.beginDecoding(context.Background()); err != nil {
		t.Fatal(err)
	}
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := p.Write(gone, hashOf(data), int64(len(data)), 0, bytes.NewReader(data)); !errors.Is(err, context.Canceled) {
		t.Errorf("another was decoded meanwhile: %v", err)
	}
	p.endDecoding()
	if state, err := send(p, data, len(data), len(data)); err != nil || !state.Whole {
		t.Errorf("afterwards: %+v, %v", state, err)
	}
}

// fullDisk has no room for writing, and once it has, all is well.
type fullDisk struct {
	files
	cause error
	full  func(path string) bool
}

func (d *fullDisk) open(path string, flag int) (file, error) {
	f, err := d.files.open(path, flag)
	if err == nil && d.full(path) {
		return fullFile{f, d.cause}, nil
	}
	return f, err
}

type fullFile struct {
	file
	cause error
}

// WriteAt writes half of it, as a disk does that becomes full.
func (f fullFile) WriteAt(b []byte, at int64) (int, error) {
	n, err := f.file.WriteAt(b[:len(b)/2], at)
	return n, errors.Join(err, f.cause)
}

func TestAFullDiskIsSaidAndLosesNothing(t *testing.T) {
	data := noise(t, 9, 300)
	tests := []struct {
		name string
		full func(path string) bool
	}{
		{"for the pieces", func(path string) bool { return !strings.HasSuffix(path, smallSuffix) }},
		{"for the thumbnail", func(path string) bool { return strings.HasSuffix(path, smallSuffix) }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			disk := &fullDisk{cause: syscall.ENOSPC, full: func(string) bool { return false }}
			p, err := open(t.TempDir(), UsualLimits(), time.Now, disk)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := send(p, data, 0, 1000); err != nil {
				t.Fatal(err)
			}
			disk.full = tt.full
			state, err := send(p, data, 1000, len(data))
			checkRefused(t, err, CodeFull)
			if state.Whole || state.Bytes < 1000 {
				t.Errorf("%+v", state)
			}
			disk.full = func(string) bool { return false }
			if state, err = send(p, data, int(state.Bytes), len(data)); err != nil || !state.Whole {
				t.Errorf("with room again: %+v, %v", state, err)
			}
			checkKept(t, p, data)
		})
	}
	t.Run("another fault is none", func(t *testing.T) {
		p, err := open(t.TempDir(), UsualLimits(), time.Now, &fullDisk{cause: syscall.EIO, full: func(string) bool { return true }})
		if err != nil {
			t.Fatal(err)
		}
		_, err = send(p, data, 0, 1000)
		var refusal *Refusal
		if !errors.Is(err, syscall.EIO) || errors.As(err, &refusal) {
			t.Errorf("%v", err)
		}
	})
}
