package photos

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"
)

// leastRoom is what the smallest upload counts for, so that there cannot be millions of them.
const leastRoom = 64 << 10

// upload is a photo that has not come whole yet. Its bytes stand in a file whose name says the hash and
// the length, so that nothing else need be remembered. Whoever changes it has its turn and the lock of
// Photos; to read it, either is enough.
type upload struct {
	hash Hash
	size int64 // as announced

	turn    sync.Mutex // taken before the lock of Photos, or under it if it is free
	n       int64      // bytes so far
	touched time.Time
	placed  bool  // it stands where photos stand, though not synced
	over    bool  // it became a photo or was dropped
	refusal error // why it was dropped, where the photo was refused

	// The lock alone guards these.
	room    int64 // that it counts for
	writers int   // calls of Write under way
}

func (p *Photos) newUpload(h Hash, size int64) *upload {
	u := &upload{hash: h, size: size, touched: p.now()}
	p.uploads[h] = u
	return u
}

func (u *upload) state() State { return State{Bytes: u.n, Size: u.size} }

// uploadPath is where the bytes of an unfinished photo stand.
func (p *Photos) uploadPath(h Hash, size int64) string {
	return filepath.Join(p.dir, unfinishedDir, fmt.Sprintf("%s.%d", h, size))
}

// findUploads takes up what had come before the program ended. What somebody else put into the folder is
// left alone.
func (p *Photos) findUploads() error {
	entries, err := os.ReadDir(filepath.Join(p.dir, unfinishedDir))
	if err != nil {
		return err
	}
	for _, entry := range entries {
		h, size, ok := parseUploadName(entry.Name())
		if !ok {
			continue
		}
		info, err := entry.Info()
		if err != nil {
			return err
		}
		if err := p.findUpload(h, size, info); err != nil {
			return err
		}
	}
	return nil
}

func parseUploadName(name string) (h Hash, size int64, ok bool) {
	hash, digits, _ := strings.Cut(name, ".")
	h, err := ParseHash(hash)
	if err != nil {
		return h, 0, false
	}
	size, err = strconv.ParseInt(digits, 10, 64)
	return h, size, err == nil && size > 0
}

// findUpload takes up one file, and syncs it, since the phone is told how far it reaches. A power cut may
// have left it beside the photo that it became, empty, or longer than it should be.
func (p *Photos) findUpload(h Hash, size int64, info fs.FileInfo) error {
	state, err := p.have(h)
	if err != nil {
		return err
	}
	n := info.Size()
	old := p.now().Sub(info.ModTime()) > p.limits.Keep
	if state.Size > 0 || n == 0 || n > size || size > p.limits.Bytes || old {
		return p.disk.remove(p.uploadPath(h, size))
	}
	if err := p.sync(p.uploadPath(h, size)); err != nil {
		return err
	}
	u := p.newUpload(h, size)
	u.n, u.room, u.touched = n, max(n, leastRoom), info.ModTime()
	p.used += u.room
	return nil
}

// makeRoom lets an upload grow. Where all room is taken, the uploads that wait longest make way, but none
// that moved lately: so whoever fills the room with pieces keeps others out for a short while at most.
func (p *Photos) makeRoom(u *upload, more int64) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	room := max(u.n+more, leastRoom)
	for p.used+room-u.room > p.limits.Unfinished {
		dropped, err := p.dropLongestIdle()
		if err != nil {
			return err
		}
		if !dropped {
			return refusef(CodeCrowded, "Too many photos are on their way to the shed at once. What was recorded is safe, and the photo stays on the phone. It is sent again later.")
		}
	}
	p.used += room - u.room
	u.room = room
	return nil
}

// dropLongestIdle drops the upload that has waited longest, if one has waited long enough.
func (p *Photos) dropLongestIdle() (dropped bool, err error) {
	var idle *upload
	for _, u := range p.uploads {
		if u.writers == 0 && (idle == nil || u.touched.Before(idle.touched)) {
			idle = u
		}
	}
	if idle == nil || p.now().Sub(idle.touched) <= p.limits.Idle {
		return false, nil
	}
	return p.dropIfFree(idle)
}

// dropOld drops what nobody went on with for long.
func (p *Photos) dropOld() error {
	for _, u := range p.uploads {
		if u.writers > 0 || p.now().Sub(u.touched) <= p.limits.Keep {
			continue
		}
		if _, err := p.dropIfFree(u); err != nil {
			return err
		}
	}
	return nil
}

// dropIfFree is for whoever has the lock.
func (p *Photos) dropIfFree(u *upload) (dropped bool, err error) {
	if !u.turn.TryLock() {
		return false, nil
	}
	defer u.turn.Unlock()
	err = p.drop(u, nil)
	return err == nil, err
}

// drop lets go of an upload and its bytes. Whoever calls has its turn and the lock.
func (p *Photos) drop(u *upload, refusal error) error {
	err := p.disk.remove(p.uploadPath(u.hash, u.size))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("dropping the pieces of photo %s: %w", u.hash, err)
	}
	p.end(u, refusal)
	return nil
}

// end forgets an upload. Whoever calls has its turn and the lock.
func (p *Photos) end(u *upload, refusal error) {
	u.over, u.refusal = true, refusal
	p.used -= u.room
	delete(p.uploads, u.hash)
}
