package photos

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// finish verifies an upload that has all its bytes, and keeps it as a photo or drops it. One that lacks
// some is left as it is.
func (p *Photos) finish(ctx context.Context, u *upload) error {
	if !p.allCame(u) {
		return nil
	}
	if err := p.beginDecoding(ctx); err != nil {
		return err
	}
	defer p.endDecoding()
	u.turn.Lock()
	defer u.turn.Unlock()
	if u.over {
		return u.refusal // the same sender was first
	}
	err := p.keepUnlessHere(u)
	p.mu.Lock()
	defer p.mu.Unlock()
	var refusal *Refusal
	switch {
	case err == nil:
		return errors.Join(p.drop(u, nil), p.dropAll(u.hash))
	case errors.As(err, &refusal):
		return errors.Join(err, p.drop(u, err))
	}
	return fmt.Errorf("keeping photo %s, whose pieces are all here: %w", u.hash, storing(err))
}

// keepUnlessHere keeps an upload, unless the photo came from another meanwhile or was removed.
func (p *Photos) keepUnlessHere(u *upload) error {
	p.mu.Lock()
	_, whole, err := p.whole(u.hash)
	removed := p.removed[u.hash]
	p.mu.Unlock()
	switch {
	case removed:
		return refuseRemoved()
	case err != nil || whole:
		return err
	}
	return p.keep(u)
}

func (p *Photos) allCame(u *upload) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return u.n == u.size
}

// beginDecoding waits until nobody else decodes.
func (p *Photos) beginDecoding(ctx context.Context) error {
	select {
	case p.decoding <- struct{}{}:
		return nil
	case <-ctx.Done():
		return fmt.Errorf("waiting to decode a photo: %w", ctx.Err())
	}
}

func (p *Photos) endDecoding() { <-p.decoding }

// keep verifies an upload and puts it in its place. A power cut leaves it in one place or the other, and
// never in part. Where it fails it can be called again.
func (p *Photos) keep(u *upload) error {
	path := p.path(u.hash)
	if !p.isUnsure(u.hash) {
		small, err := p.verify(u)
		if err != nil {
			return err
		}
		if err := p.makeFolder(filepath.Dir(path)); err != nil {
			return err
		}
		if err := p.writeSmall(u.hash, small); err != nil {
			return err
		}
		if err := p.place(u, path); err != nil {
			return err
		}
	}
	if err := p.disk.syncDir(filepath.Dir(path)); err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.unsure, u.hash)
	return nil
}

func (p *Photos) isUnsure(h Hash) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.unsure[h]
}

// place puts an upload where photos stand. Until the folder is synced, nobody is told that it is here.
func (p *Photos) place(u *upload, path string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := p.disk.rename(p.uploadPath(u.uploadKey, u.size), path); err != nil {
		return err
	}
	p.unsure[u.hash] = true
	p.kept += u.size
	return nil
}

// verify syncs an upload, since a piece may have failed to be, reads it back and makes its thumbnail.
func (p *Photos) verify(u *upload) (small []byte, err error) {
	path := p.uploadPath(u.uploadKey, u.size)
	if err := p.sync(path); err != nil {
		return nil, err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if sha256.Sum256(data) != u.hash {
		return nil, refusef(CodeHash, "What came is not the photo that was announced, so none of it was kept. The record it belongs to is safe. The phone can send it again.")
	}
	return smallOf(data, p.limits)
}

func (p *Photos) sync(path string) error {
	f, err := p.disk.open(path, os.O_WRONLY)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// writeSmall writes a thumbnail beside its photo. Whoever calls is the one that decodes.
func (p *Photos) writeSmall(h Hash, small []byte) error {
	made := filepath.Join(p.dir, unfinishedDir, "new"+smallSuffix)
	f, err := p.disk.open(made, os.O_WRONLY|os.O_CREATE|os.O_TRUNC)
	if err != nil {
		return err
	}
	_, err = f.WriteAt(small, 0)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	path := p.path(h) + smallSuffix
	before := sizeOf(path)
	if err := p.disk.rename(made, path); err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.kept += int64(len(small)) - before
	return nil
}

// makeSmallAgain makes the thumbnail of a photo that lacks it.
func (p *Photos) makeSmallAgain(ctx context.Context, h Hash) error {
	if _, err := os.Stat(p.path(h)); err != nil {
		return err // there is nothing to wait for
	}
	if err := p.beginDecoding(ctx); err != nil {
		return err
	}
	defer p.endDecoding()
	if p.isRemoved(h) {
		return ErrRemoved // while it was waited for
	}
	data, err := os.ReadFile(p.path(h))
	if err != nil {
		return err
	}
	small, err := smallOf(data, p.limits)
	if err != nil {
		return fmt.Errorf("decoding photo %s: %w", h, err)
	}
	return storing(p.writeSmall(h, small))
}
