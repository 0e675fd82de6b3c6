// Package photos keeps the bytes of photos in a folder, each under the SHA-256 of what it is. A change
// names a photo by that hash and is complete without it.
//
// The folder holds
//
//	ab/abcdef…          a photo, byte for byte as it came
//	ab/abcdef….small    its thumbnail, which is made again where it is missing
//	unfinished/         photos that have not come whole yet, of each sender by itself
//	removed/abcdef…     empty: that photo was removed, and is not taken again
//	unnamed/abcdef…     since when no change is known that names that photo
//
// Only what is in its place whole, synced, of the right hash and decoded once is a photo. The bytes are
// never altered, so what a phone does not want to tell must be gone before it hashes: the position in
// EXIF above all, and whatever cameras put behind the picture (a film, a second picture). A photo that
// holds text or a script in its metadata is still one and is kept: it is harmless where it is served as
// the picture it is and as nothing else, see httpapi.
package photos

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

const (
	unfinishedDir = "unfinished"
	removedDir    = "removed"
	unnamedDir    = "unnamed"
	smallSuffix   = ".small"
)

// Photos is a folder of photos. It is safe for concurrent use by one process.
type Photos struct {
	dir    string
	limits Limits
	now    func() time.Time
	disk   drive

	decoding chan struct{} // holds a token while a photo is decoded: one at a time bounds the memory

	mu      sync.Mutex
	uploads map[uploadKey]*upload // what has not come whole yet
	used    int64                 // room that uploads take
	kept    int64                 // room that photos and their thumbnails take
	unsure  map[Hash]bool         // photos that stand in their place while their name may not be on the disk
	removed map[Hash]bool
}

// State says how much of a photo the shed has: the whole, or what one sender has sent of it.
type State struct {
	Bytes int64 // so far
	Size  int64 // as announced; 0 where nothing is known of the photo
	Whole bool  // verified and kept
}

// Photo is a photo or a thumbnail, open for reading.
type Photo struct {
	io.ReadSeekCloser
	MediaType string // by content
	Extension string // with the dot
}

// Open opens the photos of a data folder, whose own folder is made where it is missing. What had come of
// unfinished photos is found again.
func Open(dir string, limits Limits, now func() time.Time) (*Photos, error) {
	return open(dir, limits, now, files{})
}

func open(dir string, limits Limits, now func() time.Time, disk drive) (*Photos, error) {
	p := &Photos{
		dir: filepath.Join(dir, "photos"), limits: limits, now: now, disk: disk,
		decoding: make(chan struct{}, 1), uploads: map[uploadKey]*upload{},
		unsure: map[Hash]bool{}, removed: map[Hash]bool{},
	}
	err := p.makeFolders()
	if err == nil {
		err = p.syncNames()
	}
	if err == nil {
		err = p.weigh()
	}
	if err == nil {
		err = p.findRemoved()
	}
	if err == nil {
		err = p.findUploads()
	}
	if err != nil {
		return nil, fmt.Errorf("opening the photos in %s: %w; look at who may write there", p.dir, err)
	}
	return p, nil
}

func (p *Photos) makeFolders() error {
	return errors.Join(
		p.makeFolder(p.dir),
		p.makeFolder(filepath.Join(p.dir, unfinishedDir)),
		p.makeFolder(filepath.Join(p.dir, removedDir)),
		p.makeFolder(filepath.Join(p.dir, unnamedDir)),
	)
}

// makeFolder makes a folder that a power cut does not take away.
func (p *Photos) makeFolder(path string) error {
	if err := p.disk.mkdir(path); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return p.disk.syncDir(filepath.Dir(path)) // also where it was there: who made it may have been killed
}

// syncNames makes sure of every photo that stands in its place: a program that was killed may have put one
// there without its name being synced, and phones are told that it is here.
func (p *Photos) syncNames() error {
	entries, err := os.ReadDir(p.dir)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if entry.IsDir() {
			err = errors.Join(err, p.disk.syncDir(filepath.Join(p.dir, entry.Name())))
		}
	}
	return err
}

// Limits are those that the photos were opened with.
func (p *Photos) Limits() Limits { return p.limits }

// Have says how much of a photo is here: all of it, or what a sender has sent. Of one that was removed it is
// nothing.
func (p *Photos) Have(from Sender, h Hash) (State, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.have(from, h)
}

// have is for whoever holds the lock.
func (p *Photos) have(from Sender, h Hash) (State, error) {
	size, whole, err := p.whole(h)
	if err != nil {
		return State{}, err
	}
	if whole {
		return State{Bytes: size, Size: size, Whole: true}, nil
	}
	if u := p.uploads[uploadKey{h, from}]; u != nil {
		return u.state(), nil
	}
	return State{}, nil
}

// whole tells whether a photo is here, and how many bytes it has. It is for whoever holds the lock.
func (p *Photos) whole(h Hash) (size int64, whole bool, err error) {
	if p.unsure[h] || p.removed[h] {
		return 0, false, nil
	}
	info, err := os.Stat(p.path(h))
	if errors.Is(err, fs.ErrNotExist) {
		return 0, false, nil
	}
	if err != nil {
		return 0, false, fmt.Errorf("looking for a photo: %w", err)
	}
	return info.Size(), true, nil
}

// Open opens a photo. One that is not here whole is fs.ErrNotExist, and one that was removed ErrRemoved.
func (p *Photos) Open(h Hash) (*Photo, error) {
	if p.isRemoved(h) {
		return nil, ErrRemoved
	}
	f, err := os.Open(p.path(h))
	if err != nil {
		return nil, fmt.Errorf("opening a photo: %w", err)
	}
	head := make([]byte, headBytes)
	n, err := f.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return nil, errors.Join(fmt.Errorf("reading photo %s: %w", h, err), f.Close())
	}
	form, ok := formOf(head[:n])
	if !ok {
		return nil, errors.Join(fmt.Errorf("photo %s is no picture any more: the disk may be failing; put the file back from a backup", h), f.Close())
	}
	return &Photo{ReadSeekCloser: f, MediaType: form.mediaType, Extension: form.extension}, nil
}

// Small opens the thumbnail of a photo, a JPEG, and makes it where it is missing. That of a photo that is
// not here whole is fs.ErrNotExist, and of one that was removed ErrRemoved.
func (p *Photos) Small(ctx context.Context, h Hash) (*Photo, error) {
	if p.isRemoved(h) {
		return nil, ErrRemoved
	}
	f, err := os.Open(p.path(h) + smallSuffix)
	if errors.Is(err, fs.ErrNotExist) {
		if err = p.makeSmallAgain(ctx, h); err == nil {
			f, err = os.Open(p.path(h) + smallSuffix)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("opening a thumbnail: %w", err)
	}
	return &Photo{ReadSeekCloser: f, MediaType: jpegForm.mediaType, Extension: jpegForm.extension}, nil
}

// List lists the photos that are here whole.
func (p *Photos) List() ([]Hash, error) {
	var list []Hash
	err := p.visit(func(h Hash, entry fs.DirEntry) error {
		if !strings.HasSuffix(entry.Name(), smallSuffix) {
			list = append(list, h)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("listing the photos in %s: %w", p.dir, err)
	}
	return list, nil
}

// visit comes to every photo and every thumbnail in its place. What is unfinished, what is noted of photos and
// what somebody else put there it passes over.
func (p *Photos) visit(see func(h Hash, entry fs.DirEntry) error) error {
	return filepath.WalkDir(p.dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		h, err := ParseHash(strings.TrimSuffix(entry.Name(), smallSuffix))
		if err != nil || strings.TrimSuffix(path, smallSuffix) != p.path(h) {
			return nil
		}
		return see(h, entry)
	})
}

// path is where a photo stands once it is whole.
func (p *Photos) path(h Hash) string {
	name := h.String()
	return filepath.Join(p.dir, name[:2], name)
}
