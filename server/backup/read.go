package backup

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"corymb/server/store"
)

// mostManifest bounds a manifest, which has some 200 bytes a photo.
const mostManifest = 256 << 20

// archive is a backup that is open and whole: every byte is what it was when it was written.
type archive struct {
	Manifest Manifest
	file     *os.File
	entries  map[string]*zip.File
}

// open opens a backup and reads all of it. The error is a *Problem that says what is wrong with it.
func open(ctx context.Context, path string) (*archive, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, &Problem{Code: CodeBad, Text: "The backup cannot be opened.", cause: err}
	}
	a := &archive{file: file}
	if err := a.read(ctx); err != nil {
		if ctx.Err() == nil {
			err = &Problem{Code: CodeBad, Text: fmt.Sprintf("%s is not a good backup: %v.", path, err), cause: err}
		}
		return nil, errors.Join(err, file.Close())
	}
	return a, nil
}

func (a *archive) Close() error { return a.file.Close() }

func (a *archive) read(ctx context.Context) error {
	info, err := a.file.Stat()
	if err != nil {
		return err
	}
	through := func(r io.Reader) io.Reader { return until(ctx, r) }
	if err := checkSeal(a.file, info.Size(), through); err != nil {
		return err
	}
	if a.Manifest, a.entries, err = contents(a.file, info.Size()); err != nil {
		return err
	}
	for _, e := range a.Manifest.Files {
		if err := a.copy(ctx, io.Discard, e); err != nil {
			return err
		}
	}
	return nil
}

// contents reads what an archive holds, which must be what its manifest says.
func contents(file io.ReaderAt, size int64) (m Manifest, entries map[string]*zip.File, err error) {
	z, err := zip.NewReader(file, size)
	if err != nil {
		return m, nil, fmt.Errorf("it cannot be read as a ZIP file: %w", err)
	}
	entries = map[string]*zip.File{}
	for _, f := range z.File {
		if entries[f.Name] != nil {
			return m, nil, fmt.Errorf("it holds %q twice", f.Name)
		}
		entries[f.Name] = f
	}
	if m, err = manifestOf(entries[manifestName]); err != nil {
		return m, nil, err
	}
	for _, e := range m.Files {
		f := entries[e.Name]
		if f == nil {
			return m, nil, fmt.Errorf("%s is not in it", e.Name)
		}
		if f.UncompressedSize64 != uint64(e.Size) {
			return m, nil, fmt.Errorf("%s has %d bytes, not %d", e.Name, f.UncompressedSize64, e.Size)
		}
	}
	if extra := len(entries) - 1 - len(m.Files); extra != 0 {
		return m, nil, fmt.Errorf("it holds %d files more than its %s says", extra, manifestName)
	}
	return m, entries, nil
}

func manifestOf(f *zip.File) (m Manifest, err error) {
	if f == nil || f.UncompressedSize64 > mostManifest {
		return m, fmt.Errorf("it has no %s that can be read", manifestName)
	}
	r, err := f.Open()
	if err != nil {
		return m, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	text, err := io.ReadAll(io.LimitReader(r, mostManifest))
	if err != nil {
		return m, fmt.Errorf("its %s cannot be read: %w", manifestName, err)
	}
	return readManifest(text)
}

// copy writes out one file, no more of it than the manifest says, and compares it with its SHA-256.
func (a *archive) copy(ctx context.Context, to io.Writer, e Entry) error {
	r, err := a.entries[e.Name].Open()
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", e.Name, err)
	}
	sum := sha256.New()
	// One byte more shows what is too long, and the end has its checksum compared.
	size, err := io.Copy(io.MultiWriter(to, sum), io.LimitReader(until(ctx, r), e.Size+1))
	if err = errors.Join(err, r.Close()); err != nil {
		return fmt.Errorf("%s cannot be read: %w", e.Name, err)
	}
	if size != e.Size || hex.EncodeToString(sum.Sum(nil)) != e.SHA256 {
		return fmt.Errorf("%s is not what it was", e.Name)
	}
	return nil
}

// extract writes a file into a folder, readable for its owner alone, and waits until the disk has it.
func (a *archive) extract(ctx context.Context, dir string, e Entry) (err error) {
	path := filepath.Join(dir, filepath.FromSlash(e.Name))
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if err := a.copy(ctx, file, e); err != nil {
		return err
	}
	return file.Sync()
}

func (a *archive) database() Entry {
	for _, e := range a.Manifest.Files {
		if e.Name == store.FileName {
			return e
		}
	}
	return Entry{} // a manifest without it is refused
}

// checkDatabase takes the database out into a folder that is thrown away, opens it there and verifies its
// log; and the merge state where that is asked for, though that can be made anew. The folder lies in
// another, or among the system's temporary ones where none is named.
func (a *archive) checkDatabase(ctx context.Context, scratch string, state bool, now func() time.Time) (found store.Verified, err error) {
	dir, err := os.MkdirTemp(scratch, "corymb-verify-")
	if err != nil {
		return found, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	if err := a.extract(ctx, dir, a.database()); err != nil {
		return found, err
	}
	held, found, err := store.VerifyCopy(ctx, dir, state, now)
	if ctx.Err() != nil {
		return found, ctx.Err()
	}
	if err != nil {
		return found, faulty(err.Error(), err)
	}
	if held.Farm != a.Manifest.Farm || held.Arrival != a.Manifest.Arrival {
		return found, &Problem{Code: CodeBad, Text: fmt.Sprintf("The database in the backup holds %d changes of farm %s, and not %d of farm %s.",
			held.Arrival, held.Farm, a.Manifest.Arrival, a.Manifest.Farm)}
	}
	if len(found.Faults) > 0 {
		return found, faulty(found.Faults[0], nil)
	}
	return found, nil
}
