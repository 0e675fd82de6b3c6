package photos

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// chunk is how much of a piece is read before it is written.
const chunk = 32 << 10

// errMoved means that an upload is not where a piece goes on any more: somebody else sends the same photo.
var errMoved = errors.New("the photo has moved on")

// Write takes a sender's piece of a photo of size bytes that begins at offset, and says how much is here
// after it.
// With the last piece, which may be empty, the photo is verified and decoded, and then kept. A piece must
// begin where the last one ended, or it is refused with CodeOffset. Where a photo was announced with
// another length, a piece at 0 begins it anew.
//
// What came of a piece before reading it failed is kept, and on the disk once Write returns. A photo that
// is refused leaves nothing. Several may send the same photo: each goes on where it was itself, until
// somebody's is whole. Where a sender sends it twice at once, whoever comes first with the next bytes writes
// them, and the other is told the offset.
func (p *Photos) Write(ctx context.Context, from Sender, h Hash, size, offset int64, piece io.Reader) (State, error) {
	if size < 1 || size > p.limits.Bytes {
		return State{}, refusef(CodeTooLarge, "A photo has between 1 byte and %d MiB; this one has %d bytes. The record it belongs to is safe. Take it again in a smaller size.", p.limits.Bytes>>20, size)
	}
	key := uploadKey{h, from}
	u, state, err := p.begin(key, size, offset)
	if u == nil {
		return state, err
	}
	err = p.takeIn(ctx, u, offset, piece)
	state, haveErr := p.Have(from, h)
	if errors.Is(err, errMoved) {
		err = refuseOffset(state, offset)
	}
	return state, errors.Join(err, haveErr)
}

func (p *Photos) takeIn(ctx context.Context, u *upload, offset int64, piece io.Reader) (err error) {
	defer func() { err = errors.Join(err, p.leave(u)) }()
	if err := p.append(u, offset, piece); err != nil {
		return err
	}
	return p.finish(ctx, u)
}

// begin finds or makes the upload that a piece belongs to. Where there is none, the state and the error
// are the answer.
func (p *Photos) begin(key uploadKey, size, offset int64) (*upload, State, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.removed[key.hash] {
		return nil, State{}, refuseRemoved()
	}
	if other := p.uploads[key]; other != nil && other.size != size && offset == 0 {
		if _, err := p.dropIfFree(other); err != nil {
			return nil, State{}, err
		}
	}
	state, err := p.have(key.from, key.hash)
	switch {
	case err != nil:
		return nil, state, err
	case state.Size != 0 && state.Size != size:
		return nil, state, refusef(CodeLength, "This photo was announced with %d bytes and not with %d. It can be sent again from its beginning.", state.Size, size)
	case offset != state.Bytes:
		return nil, state, refuseOffset(state, offset)
	case state.Whole:
		return nil, state, nil
	}
	if err := p.checkRoom(size - offset); err != nil {
		return nil, state, err
	}
	u := p.uploads[key]
	if u == nil {
		if err := errors.Join(p.dropOld(), p.makeRoomFor(key.from)); err != nil {
			return nil, state, err
		}
		u = p.newUpload(key, size)
	}
	u.writers++
	return u, state, nil
}

func refuseOffset(state State, offset int64) error {
	return refusef(CodeOffset, "The shed has %d bytes of this photo, so a piece that begins at byte %d does not fit. What came is safe, and the phone goes on from there.", state.Bytes, offset)
}

// leave ends a call of Write. An upload is dropped of which nothing came, or whose photo came whole from
// another or was removed meanwhile.
func (p *Photos) leave(u *upload) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	u.writers--
	if u.writers > 0 || u.over {
		return nil
	}
	_, whole, err := p.whole(u.hash)
	if err == nil && (u.n == 0 || whole || p.removed[u.hash]) {
		_, err = p.dropIfFree(u)
	}
	return err
}

// append writes the bytes of a piece as they come. It waits for whoever sends them without the upload's
// turn, so that a phone that fell silent holds up nobody.
func (p *Photos) append(u *upload, at int64, piece io.Reader) (err error) {
	out := &pieceFile{p: p, u: u}
	defer func() { err = errors.Join(err, out.close()) }()
	buffer := make([]byte, chunk)
	for at < u.size {
		left := buffer[:min(chunk, u.size-at)]
		least := 1
		if at == 0 {
			least = min(headBytes, len(left)) // enough to see what it is
		}
		n, readErr := io.ReadAtLeast(piece, left, least)
		if n > 0 {
			if err := out.write(left[:n], at); err != nil {
				return err
			}
			at += int64(n)
		}
		if readErr == io.EOF || n > 0 && readErr == io.ErrUnexpectedEOF {
			return nil // where a piece ends, or how much of its beginning there is
		}
		if readErr != nil {
			return fmt.Errorf("reading a piece of photo %s: %w", u.hash, readErr)
		}
	}
	if n, _ := io.ReadFull(piece, buffer[:1]); n > 0 {
		return refusef(CodeLength, "More came of this photo than the %d bytes that were announced. It can be sent again from its beginning.", u.size)
	}
	return nil
}

// pieceFile is the file of an upload while a piece of it comes. It is made with the first byte.
type pieceFile struct {
	p   *Photos
	u   *upload
	out file
}

func (f *pieceFile) write(bytes []byte, at int64) error {
	f.u.turn.Lock()
	defer f.u.turn.Unlock()
	if f.u.over || f.u.n != at {
		return cmp.Or(f.u.refusal, errMoved)
	}
	if _, known := formOf(bytes); at == 0 && len(bytes) >= headBytes && !known {
		return refuseType()
	}
	if err := f.p.makeRoom(f.u, int64(len(bytes))); err != nil {
		return err
	}
	err := f.open()
	if err == nil {
		_, err = f.out.WriteAt(bytes, at)
	}
	if err != nil {
		return fmt.Errorf("storing a piece of photo %s: %w", f.u.hash, storing(err))
	}
	f.p.mu.Lock()
	defer f.p.mu.Unlock()
	f.u.n, f.u.touched = at+int64(len(bytes)), f.p.now()
	return nil
}

func (f *pieceFile) open() (err error) {
	if f.out != nil {
		return nil
	}
	f.out, err = f.p.disk.open(f.p.uploadPath(f.u.uploadKey, f.u.size), os.O_WRONLY|os.O_CREATE)
	return err
}

// close makes what was written outlast a power cut.
func (f *pieceFile) close() error {
	if f.out == nil {
		return nil
	}
	synced := errors.Join(f.out.Sync(), f.p.disk.syncDir(filepath.Join(f.p.dir, unfinishedDir)))
	if err := errors.Join(synced, f.out.Close()); err != nil {
		return fmt.Errorf("storing a piece of photo %s: %w", f.u.hash, storing(err))
	}
	return nil
}
