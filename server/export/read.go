package export

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"corymb/server/disk"
	"corymb/server/store"
)

// mostLine bounds a line: a change has at most 1 MiB.
const mostLine = 2 << 20

// Read makes a data folder, which must be empty or absent, of the export in a file. The folder has its name only when all
// of it was read and found good; else nothing is there. The error is a sentence that says what is wrong and what to try.
func Read(ctx context.Context, from, dir string, now func() time.Time) (told Told, err error) {
	folder, err := disk.Unmade(dir)
	if err != nil {
		return told, err
	}
	archive, err := zip.OpenReader(from)
	var failed *os.PathError
	if errors.As(err, &failed) {
		return told, fmt.Errorf("opening the export: %w", err)
	}
	if err != nil {
		return told, notTaken(from, errors.New("it is not a whole ZIP file: it is cut off, or no export"))
	}
	defer func() { err = errors.Join(err, archive.Close()) }()
	if err := folder.Make(); err != nil {
		return told, err
	}
	r := reading{ctx: ctx, dir: folder.Unfinished(), zip: &archive.Reader, photos: map[string]line{}}
	if err = r.all(now); err == nil {
		err = folder.Finish()
	}
	if err != nil {
		return told, errors.Join(asSentence(err, from, folder.Dir), folder.Drop())
	}
	return r.told, nil
}

// notTaken says that a file came to nothing.
func notTaken(from string, why error) error {
	return fmt.Errorf("%s was not taken in: %w. Nothing was stored. Bring the file here again as Corymb wrote it, or make a new export", from, why)
}

// bad says of a file that it is not as an export is; all else that can go wrong is the disk's.
type bad struct{ error }

func asSentence(err error, from, dir string) error {
	var spoilt bad
	switch {
	case disk.IsFull(err):
		return fmt.Errorf("there is no room for the farm in %s, so nothing was stored: make room and try again (%w)", dir, err)
	case errors.As(err, &spoilt):
		return notTaken(from, spoilt.error)
	default:
		return fmt.Errorf("making a farm in %s: %w; nothing was stored", dir, err)
	}
}

type reading struct {
	ctx    context.Context
	dir    string
	zip    *zip.Reader
	told   Told
	photos map[string]line
	gone   []string
	log    *bufio.Reader
	sum    hash.Hash
	at     int // line
	ended  bool
}

func (r *reading) all(now func() time.Time) error {
	inside, err := r.files()
	if err != nil {
		return err
	}
	text, err := inside[linesName].Open()
	if err != nil {
		return bad{fmt.Errorf("its %s cannot be read (%w)", linesName, err)}
	}
	r.log, r.sum = bufio.NewReaderSize(text, 1<<16), sha256.New()
	if err := r.begin(); err != nil {
		return err
	}
	found, err := store.CarryIn(r.ctx, r.dir, r.told.Farm, r.next, now)
	var unfit *store.Unfit
	switch {
	case errors.As(err, &unfit):
		return bad{fmt.Errorf("line %d of its %s cannot be taken: %s", r.at, linesName, unfit.Text)}
	case err != nil:
		return err
	case len(found.Faults) > 0:
		return bad{fmt.Errorf("what it holds does not fit together: %s", strings.Join(found.Faults[:min(3, len(found.Faults))], "; "))}
	}
	delete(inside, linesName)
	return r.takePhotos(inside)
}

// files are what the ZIP holds, by name.
func (r *reading) files() (map[string]*zip.File, error) {
	inside := map[string]*zip.File{}
	for _, f := range r.zip.File {
		name, isPhoto := strings.CutPrefix(f.Name, photosName+"/")
		switch {
		case f.Name != linesName && !(isPhoto && photoName.MatchString(name)):
			return nil, bad{r.foreign(f.Name)}
		case inside[f.Name] != nil:
			return nil, bad{fmt.Errorf("it holds %s twice", f.Name)}
		}
		inside[f.Name] = f
	}
	if inside[linesName] == nil {
		return nil, bad{fmt.Errorf("it holds no %s, so it is no export of Corymb", linesName)}
	}
	return inside, nil
}

// foreign tells of a ZIP with other things in it which one it may be.
func (r *reading) foreign(name string) error {
	for _, f := range r.zip.File {
		if f.Name == store.FileName {
			return errors.New("it is a backup and no export: make a farm of it with corymb restore")
		}
	}
	return fmt.Errorf("it holds %.80q, which is in no export", name)
}

// line reads the next line, without its end.
func (r *reading) line() ([]byte, error) {
	r.at++
	var text []byte
	for {
		piece, err := r.log.ReadSlice('\n')
		text = append(text, piece...)
		switch {
		case errors.Is(err, bufio.ErrBufferFull) && len(text) <= mostLine:
			continue
		case errors.Is(err, bufio.ErrBufferFull):
			return nil, r.badLine("is too long")
		case errors.Is(err, io.EOF):
			return nil, r.badLine("is missing or cut off")
		case err != nil:
			return nil, r.badLine(fmt.Sprintf("cannot be read (%v)", err))
		}
		return text[:len(text)-1], nil
	}
}

func (r *reading) badLine(what string) error {
	return bad{fmt.Errorf("line %d of its %s %s", r.at, linesName, what)}
}

// begin reads the first line.
func (r *reading) begin() error {
	text, err := r.line()
	if err != nil {
		return err
	}
	var head first
	if err := json.Unmarshal(text, &head); err != nil || head.Version < 1 || head.Farm == "" {
		return r.badLine("does not say that an export of Corymb follows")
	}
	if head.Version > version {
		return bad{errors.New("a newer version of Corymb wrote it: bring this one up to date")}
	}
	r.count(text)
	r.told.Farm = head.Farm
	return nil
}

func (r *reading) count(text []byte) {
	r.sum.Write(text)
	r.sum.Write([]byte{'\n'})
}

// next is the next record of the log; lines of photos, which follow, are kept for later.
func (r *reading) next() (store.Record, error) {
	for !r.ended {
		text, err := r.line()
		if err != nil {
			return store.Record{}, err
		}
		var one line
		decoder := json.NewDecoder(bytes.NewReader(text))
		decoder.DisallowUnknownFields()
		if err := decoder.Decode(&one); err != nil {
			return store.Record{}, r.badLine(fmt.Sprintf("is not as Corymb writes it (%v)", err))
		}
		switch {
		case one.End != nil:
			if err := r.finish(one); err != nil {
				return store.Record{}, err
			}
			continue
		case one.Photo != "":
			err = r.notePhoto(one)
		case one.Removed != "" && photoName.MatchString(one.Removed):
			r.gone = append(r.gone, one.Removed)
		case r.told.Photos > 0 || len(r.gone) > 0:
			err = r.badLine("is not where it belongs")
		default:
			r.count(text)
			if one.Change != nil {
				r.told.Changes++
			}
			return one.Record, nil
		}
		if err != nil {
			return store.Record{}, err
		}
		r.count(text)
	}
	return store.Record{}, io.EOF
}

func (r *reading) notePhoto(one line) error {
	if _, again := r.photos[one.Photo]; again || !photoName.MatchString(one.Photo) {
		return r.badLine("does not name a photo, or one that was named before")
	}
	r.photos[one.Photo] = one
	r.told.Photos++
	return nil
}

// finish compares the last line with what came before it.
func (r *reading) finish(last line) error {
	if hex.EncodeToString(r.sum.Sum(nil)) != last.SHA256 {
		return bad{fmt.Errorf("the SHA-256 in the last line of its %s is not that of the lines before: something was altered or lost", linesName)}
	}
	if last.End.Changes != r.told.Changes || last.End.Photos != r.told.Photos {
		return r.badLine("tells of other numbers of changes or photos than there are")
	}
	if _, err := r.log.ReadByte(); !errors.Is(err, io.EOF) {
		return r.badLine("should be the last, but something follows")
	}
	r.ended = true
	return nil
}

// takePhotos writes every photo that was told of; no other may be there.
func (r *reading) takePhotos(inside map[string]*zip.File) error {
	for name, one := range r.photos {
		file := inside[photosName+"/"+name]
		if file == nil {
			return bad{fmt.Errorf("the photo %s is missing in it", name)}
		}
		if err := r.takePhoto(file, one); err != nil {
			return err
		}
		delete(inside, file.Name)
	}
	for name := range inside {
		return bad{fmt.Errorf("it holds %s, of which its %s says nothing", name, linesName)}
	}
	for _, name := range r.gone {
		if err := r.write(filepath.Join(removedFolder, name), strings.NewReader("")); err != nil {
			return err
		}
	}
	return nil
}

func (r *reading) takePhoto(file *zip.File, one line) error {
	from, err := file.Open()
	if err != nil {
		return bad{fmt.Errorf("the photo %s cannot be read (%w)", one.Photo, err)}
	}
	sum := sha256.New()
	whole := &counted{from: io.TeeReader(until{r.ctx, from}, sum)}
	err = r.write(filepath.Join(one.Photo[:2], one.Photo), whole)
	if err == nil || whole.err != nil {
		is, want := hex.EncodeToString(sum.Sum(nil)), one.Photo
		if one.SHA256 != "" {
			want = one.SHA256
			r.told.Damaged = append(r.told.Damaged, one.Photo)
		}
		if is != want || whole.n != one.Size || whole.err != nil {
			err = errors.Join(r.ctx.Err(), bad{fmt.Errorf("the photo %s in it is damaged or was altered", one.Photo)})
		}
	}
	_ = from.Close() // it only read
	return err
}

// counted tells how much was read, and what kept it from being read.
type counted struct {
	from io.Reader
	n    int64
	err  error
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.from.Read(p)
	c.n += int64(n)
	if err != nil && !errors.Is(err, io.EOF) {
		c.err = err
	}
	return n, err
}

// write writes a file among the photos and waits until the disk has it.
func (r *reading) write(name string, from io.Reader) (err error) {
	path := filepath.Join(r.dir, photosName, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	if _, err := io.Copy(file, from); err != nil {
		return err
	}
	return errors.Join(file.Sync(), disk.SyncFolder(filepath.Dir(path)))
}
