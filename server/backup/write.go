package backup

import (
	"archive/zip"
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"corymb/server/store"
)

// writing is a backup on its way to the disk: a ZIP that any program opens, with ZIP64 where it is large.
type writing struct {
	ctx      context.Context
	dir      string // the data folder
	zip      *zip.Writer
	manifest Manifest
	names    map[string]bool // in lower case, since some systems do not tell them apart
}

// writeAll writes a whole backup: the copy of the database first, so that every photo that it speaks of
// and that was there then is in the backup too.
func writeAll(ctx context.Context, to io.Writer, begun Manifest, dir, database string) (Manifest, error) {
	buffered := bufio.NewWriterSize(to, 1<<20)
	seal := newSealing(buffered)
	w := &writing{ctx: ctx, dir: dir, zip: zip.NewWriter(seal), manifest: begun, names: map[string]bool{}}
	if err := w.zip.SetComment(sealComment()); err != nil {
		return begun, err
	}
	if err := w.addFile(store.FileName, database, zip.Deflate); err != nil {
		return begun, err
	}
	if err := errors.Join(w.addTop(), w.addCerts(), w.addPhotos()); err != nil {
		return begun, err
	}
	if err := w.addManifest(); err != nil {
		return begun, err
	}
	if err := w.zip.Close(); err != nil {
		return begun, err
	}
	return w.manifest, errors.Join(seal.seal(), buffered.Flush())
}

// mostSettings bounds a file that lies in the data folder beside the database.
const mostSettings = 16 << 20

// addTop adds the small files of the data folder. Folders that are none of its own are named and left out:
// another farm may lie in one.
func (w *writing) addTop() error {
	entries, err := os.ReadDir(w.dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := e.Name()
		if name == store.FileName || name == photosFolder || name == certsFolder || name == addressName || isOfThisMachine(name) {
			continue
		}
		info, err := e.Info()
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		if !info.Mode().IsRegular() || info.Size() > mostSettings {
			w.leaveOut(name)
			continue
		}
		if err := w.addIfThere(name, zip.Deflate); err != nil {
			return err
		}
	}
	return nil
}

// addCerts adds the farm's own authority and certificates, with their keys.
func (w *writing) addCerts() error {
	root := filepath.Join(w.dir, certsFolder)
	return filepath.WalkDir(root, func(found string, e fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil || e.IsDir() {
			return err
		}
		name, err := filepath.Rel(w.dir, found)
		if err != nil || strings.HasPrefix(e.Name(), "new-") { // on its way to another's place
			return err
		}
		if !e.Type().IsRegular() {
			w.leaveOut(filepath.ToSlash(name))
			return nil
		}
		return w.addIfThere(filepath.ToSlash(name), zip.Deflate)
	})
}

// addPhotos adds what lies two folders deep under its own SHA-256, and which photos were removed: one of
// those may still lie there, where it could not be deleted yet. Whatever else is there is on its way to
// become a photo, or was made of one.
func (w *writing) addPhotos() error {
	removed, err := w.removedPhotos()
	if err != nil {
		return err
	}
	folders, err := readFolder(filepath.Join(w.dir, photosFolder))
	if err != nil {
		return err
	}
	for _, folder := range folders {
		if !folder.IsDir() {
			continue
		}
		photos, err := readFolder(filepath.Join(w.dir, photosFolder, folder.Name()))
		if err != nil {
			return err
		}
		for _, p := range photos {
			gone := removed[p.Name()] && folder.Name() != removedFolder
			if gone || !isPhoto(folder.Name(), p.Name()) || !p.Type().IsRegular() {
				continue
			}
			if err := w.addIfThere(path.Join(photosFolder, folder.Name(), p.Name()), zip.Store); err != nil {
				return err
			}
		}
	}
	return nil
}

func (w *writing) removedPhotos() (map[string]bool, error) {
	removed := map[string]bool{}
	entries, err := readFolder(filepath.Join(w.dir, photosFolder, removedFolder))
	for _, e := range entries {
		removed[e.Name()] = true
	}
	return removed, err
}

// isDamaged tells of a photo that it is not what its name says.
func (e Entry) isDamaged() bool {
	folder, inPhotos := strings.CutPrefix(path.Dir(e.Name), photosFolder+"/")
	return inPhotos && folder != removedFolder && path.Base(e.Name) != e.SHA256
}

// readFolder lists a folder, which may be missing.
func readFolder(dir string) ([]fs.DirEntry, error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return entries, err
}

func (w *writing) leaveOut(name string) { w.manifest.LeftOut = append(w.manifest.LeftOut, name) }

// addIfThere adds a file of the data folder, unless it went away meanwhile.
func (w *writing) addIfThere(name string, method uint16) error {
	if !mayHold(name) || w.names[strings.ToLower(name)] {
		w.leaveOut(name)
		return nil
	}
	err := w.addFile(name, filepath.Join(w.dir, filepath.FromSlash(name)), method)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

func (w *writing) addFile(name, from string, method uint16) (err error) {
	file, err := os.Open(from)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	to, err := w.create(name, method)
	if err != nil {
		return err
	}
	sum := sha256.New()
	size, err := io.Copy(io.MultiWriter(to, sum), until(w.ctx, file))
	if err != nil {
		return err
	}
	w.names[strings.ToLower(name)] = true
	added := Entry{Name: name, Size: size, SHA256: hex.EncodeToString(sum.Sum(nil))}
	w.manifest.Files = append(w.manifest.Files, added)
	if added.isDamaged() {
		w.manifest.Damaged = append(w.manifest.Damaged, name)
	}
	return nil
}

func (w *writing) create(name string, method uint16) (io.Writer, error) {
	header := &zip.FileHeader{Name: name, Method: method, Modified: w.manifest.Made}
	header.SetMode(0o600)
	return w.zip.CreateHeader(header)
}

func (w *writing) addManifest() error {
	text, err := json.MarshalIndent(w.manifest, "", " ")
	if err != nil {
		return err
	}
	to, err := w.create(manifestName, zip.Deflate)
	if err != nil {
		return err
	}
	_, err = to.Write(text)
	return err
}

// until reads until a context ends.
func until(ctx context.Context, r io.Reader) io.Reader {
	return readerFunc(func(p []byte) (int, error) {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		return r.Read(p)
	})
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }
