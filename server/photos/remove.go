package photos

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// ErrRemoved says of a photo that somebody removed it.
var ErrRemoved = errors.New("the photo was removed")

// Remove deletes the bytes of a photo for good, also what is unfinished of it. It is not taken again, and
// need not be here. A removal that was broken off is done at the next start.
func (p *Photos) Remove(ctx context.Context, h Hash) error {
	if err := p.beginDecoding(ctx); err != nil { // or it could be kept meanwhile
		return err
	}
	defer p.endDecoding()
	if err := p.noteRemoved(h); err != nil {
		return fmt.Errorf("removing photo %s: %w; nothing was deleted", h, err)
	}
	if err := p.deletePhoto(h); err != nil {
		return fmt.Errorf("removing photo %s: %w; it is shown no more, and deleted at the next start", h, err)
	}
	return nil
}

// noteRemoved notes for good that a photo is removed. From then on nobody is shown it.
func (p *Photos) noteRemoved(h Hash) error {
	if err := p.writeWhole(p.noteOf(removedDir, h), nil); err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.removed[h] = true
	delete(p.unsure, h)
	return p.dropAll(h)
}

// noteOf is where something is noted of a photo.
func (p *Photos) noteOf(dir string, h Hash) string { return filepath.Join(p.dir, dir, h.String()) }

// writeWhole writes a file of which a power cut then takes nothing.
func (p *Photos) writeWhole(path string, content []byte) error {
	f, err := p.disk.open(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC)
	if err != nil {
		return err
	}
	_, err = f.WriteAt(content, 0)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	return p.disk.syncDir(filepath.Dir(path))
}

// deletePhoto deletes a photo and its thumbnail, which come back after no power cut.
func (p *Photos) deletePhoto(h Hash) error {
	path := p.path(h)
	if _, err := os.Stat(filepath.Dir(path)); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return errors.Join(p.delete(path+smallSuffix), p.delete(path), p.disk.syncDir(filepath.Dir(path)))
}

func (p *Photos) delete(path string) error {
	size := sizeOf(path)
	if err := p.disk.remove(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.kept -= size
	return nil
}

func (p *Photos) isRemoved(h Hash) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.removed[h]
}

// findRemoved reads which photos were removed, and ends what was broken off.
func (p *Photos) findRemoved() error {
	noted, err := p.noted(removedDir)
	if err != nil {
		return err
	}
	for _, h := range noted {
		p.removed[h] = true
		if sizeOf(p.path(h))+sizeOf(p.path(h)+smallSuffix) == 0 {
			continue
		}
		if err := p.deletePhoto(h); err != nil {
			return err
		}
	}
	return nil
}

// noted lists of which photos something is noted.
func (p *Photos) noted(dir string) (hashes []Hash, err error) {
	entries, err := os.ReadDir(filepath.Join(p.dir, dir))
	for _, entry := range entries {
		if h, err := ParseHash(entry.Name()); err == nil { // else somebody else put it there
			hashes = append(hashes, h)
		}
	}
	return hashes, err
}

// LetGo lets go of photos that no change has been known to name for as long as Limits say, and tells how
// many that were. Unlike one that was removed, such a photo is taken when it comes again. It is to be called
// now and then: what is found unnamed for the first time is only noted.
func (p *Photos) LetGo(ctx context.Context, isNamed func(Hash) bool) (gone int, err error) {
	kept, err := p.List()
	if err != nil {
		return 0, err
	}
	unnamed := map[Hash]bool{} // and still here
	for _, h := range kept {
		if isNamed(h) {
			continue
		}
		went, err := p.letGo(ctx, h)
		if err != nil {
			return gone, fmt.Errorf("letting go of photo %s, which no change names: %w", h, err)
		}
		if went {
			gone++
		}
		unnamed[h] = !went
	}
	return gone, p.forget(unnamed)
}

// letGo deletes a photo that has been unnamed long enough, or notes since when it is.
func (p *Photos) letGo(ctx context.Context, h Hash) (gone bool, err error) {
	note := p.noteOf(unnamedDir, h)
	text, err := os.ReadFile(note)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return false, err
	}
	since, err := time.Parse(time.RFC3339, string(text))
	if err != nil || since.After(p.now()) { // not noted yet, not whole, or under a wrong clock
		return false, p.writeWhole(note, []byte(p.now().UTC().Format(time.RFC3339)))
	}
	if p.now().Sub(since) <= p.limits.Unnamed {
		return false, nil
	}
	if err := p.beginDecoding(ctx); err != nil {
		return false, err
	}
	defer p.endDecoding()
	return true, p.deletePhoto(h)
}

// forget forgets since when photos are unnamed that are not any more.
func (p *Photos) forget(unnamed map[Hash]bool) error {
	noted, err := p.noted(unnamedDir)
	for _, h := range noted {
		if !unnamed[h] {
			err = errors.Join(err, p.disk.remove(p.noteOf(unnamedDir, h)))
		}
	}
	return err
}
