package photos

import (
	"crypto/sha256"
	"encoding/hex"
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

// Sender tells apart who sends, by what is safe in a file's name.
type Sender [16]byte

// SenderOf is a device by its id.
func SenderOf(device string) Sender {
	sum := sha256.Sum256([]byte(device))
	return Sender(sum[:len(Sender{})])
}

// uploadKey names an upload. Each sender has its own, or whoever may send could spoil what another sends by
// sending something else under the same hash.
type uploadKey struct {
	hash Hash
	from Sender
}

// upload is a photo that has not come whole yet. Its bytes stand in a file whose name says the hash, the
// length and the sender, so that nothing else need be remembered. Whoever changes it has its turn and the lock of
// Photos; to read it, either is enough.
type upload struct {
	uploadKey
	size int64 // as announced

	turn    sync.Mutex // taken before the lock of Photos, or under it if it is free
	n       int64      // bytes so far
	touched time.Time
	over    bool  // it became a photo or was dropped
	refusal error // why it was dropped, where the photo was refused

	// The lock alone guards these.
	room    int64 // that it counts for
	writers int   // calls of Write under way
}

func (p *Photos) newUpload(key uploadKey, size int64) *upload {
	u := &upload{uploadKey: key, size: size, touched: p.now()}
	p.uploads[key] = u
	return u
}

func (u *upload) state() State { return State{Bytes: u.n, Size: u.size} }

// uploadPath is where the bytes of an unfinished photo stand.
func (p *Photos) uploadPath(key uploadKey, size int64) string {
	return filepath.Join(p.dir, unfinishedDir, uploadName(key, size))
}

func uploadName(key uploadKey, size int64) string {
	return fmt.Sprintf("%s.%d.%x", key.hash, size, key.from)
}

// findUploads takes up what had come before the program ended. What somebody else put into the folder is
// left alone.
func (p *Photos) findUploads() error {
	entries, err := os.ReadDir(filepath.Join(p.dir, unfinishedDir))
	if err != nil {
		return err
	}
	for _, entry := range entries {
		key, size, ok := parseUploadName(entry.Name())
		if !ok {
			continue
		}
		info, err := entry.Info()
		if err != nil {
			return err
		}
		if err := p.findUpload(key, size, info); err != nil {
			return err
		}
	}
	return nil
}

// parseUploadName reads a name as uploadName writes it, and no other that means the same.
func parseUploadName(name string) (key uploadKey, size int64, ok bool) {
	parts := strings.Split(name, ".")
	if len(parts) != 3 || len(parts[2]) != hex.EncodedLen(len(key.from)) {
		return key, 0, false
	}
	var faults [3]error
	key.hash, faults[0] = ParseHash(parts[0])
	size, faults[1] = strconv.ParseInt(parts[1], 10, 64)
	_, faults[2] = hex.Decode(key.from[:], []byte(parts[2]))
	return key, size, errors.Join(faults[:]...) == nil && size > 0 && name == uploadName(key, size)
}

// findUpload takes up one file, and syncs it, since the phone is told how far it reaches. A power cut may
// have left it beside the photo that it became, empty, or longer than it should be.
func (p *Photos) findUpload(key uploadKey, size int64, info fs.FileInfo) error {
	state, err := p.have(key.from, key.hash)
	if err != nil {
		return err
	}
	n := info.Size()
	old := p.now().Sub(info.ModTime()) > p.limits.Keep
	if state.Size > 0 || p.removed[key.hash] || n == 0 || n > size || size > p.limits.Bytes || old {
		return p.disk.remove(p.uploadPath(key, size))
	}
	if err := p.sync(p.uploadPath(key, size)); err != nil {
		return err
	}
	u := p.newUpload(key, size)
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
		dropped, err := p.dropLongestIdle(p.limits.Idle, func(*upload) bool { return true })
		if err != nil {
			return err
		}
		if !dropped {
			return refuseCrowded()
		}
	}
	p.used += room - u.room
	u.room = room
	return nil
}

func refuseCrowded() error {
	return refusef(CodeCrowded, "Too many photos are on their way to the shed at once. What was recorded is safe, and the photo stays on the phone. It is sent again later.")
}

// makeRoomFor lets a sender begin one more upload: where it has begun as many as it may, the one that it left
// alone longest makes way. It is for whoever has the lock.
func (p *Photos) makeRoomFor(from Sender) error {
	begun := 0
	for key := range p.uploads {
		if key.from == from {
			begun++
		}
	}
	if begun < p.limits.Each {
		return nil
	}
	dropped, err := p.dropLongestIdle(0, func(u *upload) bool { return u.from == from })
	if err == nil && !dropped {
		err = refuseCrowded()
	}
	return err
}

// dropLongestIdle drops that upload of some which has waited longest, if one has waited long enough.
func (p *Photos) dropLongestIdle(enough time.Duration, some func(*upload) bool) (dropped bool, err error) {
	var idle *upload
	for _, u := range p.uploads {
		if u.writers == 0 && some(u) && (idle == nil || u.touched.Before(idle.touched)) {
			idle = u
		}
	}
	if idle == nil || enough > 0 && p.now().Sub(idle.touched) <= enough {
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

// dropAll drops the uploads of a photo that nobody is sending a piece of. The others end with their piece.
func (p *Photos) dropAll(h Hash) error {
	for key, u := range p.uploads {
		if key.hash != h || u.writers > 0 {
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
	err := p.disk.remove(p.uploadPath(u.uploadKey, u.size))
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
	delete(p.uploads, u.uploadKey)
}
