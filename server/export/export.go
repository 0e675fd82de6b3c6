// Package export writes a farm's records into one file that other programs can read too, and makes the same farm of
// such a file again. What it leaves out, and a backup holds, is who may come, keys, and settings of the shed.
//
// The file is a ZIP. It holds the photos, each as "photos/" and its SHA-256, and farm.jsonl: UTF-8, one JSON object a
// line, lines ended by "\n", in this order.
//
//	{"corymb_export":1,"farm":UUID}          the version of this format, and the farm's id
//	{"incarnation":{"id","device","seq","stamp":[l,c],"chain"}}
//	                                         how far each was settled; chain is of PROTOCOL.md, section 1
//	{"change":[…],"order":[l,c]}             each kept change in the order of its arrival, the first as number 1: its
//	                                         canonical bytes (section 1) and its order (section 2), which is left out
//	                                         where it is the change's own stamp
//	{"not_kept":{"incarnation","seq","sha256","code","text","held"}}
//	                                         a change that was refused, or was held already as "held"
//	{"codes":{"block","epoch","device","leased"}}, {"series":{"series","epoch","opened"}}
//	                                         tag codes and invoice numbers that were given out; times are ms since 1970
//	{"photo":SHA-256,"size":n}               each photo in the file; with "sha256" where its bytes are damaged and are
//	                                         no longer those that it is named by
//	{"removed_photo":SHA-256}                a photo that was removed, and is not to come back
//	{"end":{"changes":n,"photos":n},"sha256":…}
//	                                         the SHA-256 of everything before this line
//
// The same farm always gives the same bytes.
package export

import (
	"archive/zip"
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"corymb/server/store"
	"corymb/syncproto"
)

// version of the format.
const version = 1

const (
	linesName  = "farm.jsonl"
	photosName = "photos" // in the file, and in a data folder
	// removedFolder is that among the photos of a data folder which holds an empty file for each that was removed.
	removedFolder = "removed"
)

// Told is what an export holds.
type Told struct {
	Farm    string
	Changes int64
	Photos  int64
	Damaged []string // photos whose bytes are not those that they are named by; they are there as they were found
}

// first is the first line.
type first struct {
	Version int    `json:"corymb_export"`
	Farm    string `json:"farm"`
}

// line is any other.
type line struct {
	store.Record
	Photo   string `json:"photo,omitempty"`
	Size    int64  `json:"size,omitempty"`
	Removed string `json:"removed_photo,omitempty"`
	End     *end   `json:"end,omitempty"`
	// SHA256 is of a damaged photo, or of all lines before the last.
	SHA256 string `json:"sha256,omitempty"`
}

type end struct {
	Changes int64 `json:"changes"`
	Photos  int64 `json:"photos"`
}

// Write writes an open farm to a file or a line, of which it holds little in memory at a time. Appending goes on
// meanwhile: the changes are those of one moment, and all photos that they speak of and that had come by then are there.
// It takes the room of the changes among the system's temporary files meanwhile.
func Write(ctx context.Context, farm *store.Store, to io.Writer) (told Told, err error) {
	spool, err := os.CreateTemp("", "corymb-export-")
	if err != nil {
		return told, fmt.Errorf("making a temporary file: %w", err)
	}
	defer func() { err = errors.Join(err, spool.Close(), os.Remove(spool.Name())) }()
	w := writing{ctx: ctx, farm: farm, sum: sha256.New(), told: Told{Farm: farm.Farm()}}
	w.lines = bufio.NewWriterSize(io.MultiWriter(spool, w.sum), 1<<16)
	buffered := bufio.NewWriterSize(to, 1<<16)
	w.zip = zip.NewWriter(buffered)
	if err := errors.Join(w.log(), w.photos(), w.end()); err != nil {
		return told, err
	}
	if err := w.putLines(spool); err != nil {
		return told, err
	}
	if err := w.zip.Close(); err != nil {
		return told, err
	}
	return w.told, buffered.Flush()
}

type writing struct {
	ctx   context.Context
	farm  *store.Store
	lines *bufio.Writer
	sum   hash.Hash
	zip   *zip.Writer
	told  Told
	text  []byte // of a line
}

// log writes the lines of the log, which are kept aside until the photos are known.
func (w *writing) log() error {
	if err := w.put(first{Version: version, Farm: w.farm.Farm()}); err != nil {
		return err
	}
	err := w.farm.CarryOut(w.ctx, func(r store.Record) error {
		if r.Change == nil {
			return w.put(r)
		}
		w.told.Changes++
		return w.change(r.Change, r.Order)
	})
	return err
}

// change is put for what there is most of.
func (w *writing) change(canonical []byte, order *syncproto.Stamp) error {
	w.text = append(append(w.text[:0], `{"change":`...), canonical...)
	if order != nil {
		w.text = fmt.Appendf(w.text, `,"order":[%d,%d]`, order.L, order.C)
	}
	w.text = append(w.text, "}\n"...)
	_, err := w.lines.Write(w.text)
	return err
}

func (w *writing) put(one any) error {
	encoder := json.NewEncoder(w.lines)
	encoder.SetEscapeHTML(false)
	return encoder.Encode(one)
}

// photos writes those that lie in the data folder, two folders deep under their SHA-256, and which were removed: one of
// these may still lie there, where it could not be deleted yet.
func (w *writing) photos() error {
	dir := filepath.Join(w.farm.Dir(), photosName)
	gone, err := names(filepath.Join(dir, removedFolder))
	if err != nil {
		return err
	}
	removed := map[string]bool{}
	for _, name := range gone {
		removed[name] = true
	}
	folders, err := names(dir)
	if err != nil {
		return err
	}
	for _, folder := range folders {
		inside, err := names(filepath.Join(dir, folder))
		if err != nil || folder == removedFolder {
			continue // a file that is no folder, say
		}
		for _, name := range inside {
			if !photoName.MatchString(name) || folder != name[:2] || removed[name] {
				continue
			}
			if err := w.photo(filepath.Join(dir, folder, name), name); err != nil {
				return err
			}
		}
	}
	for _, name := range gone {
		if photoName.MatchString(name) {
			if err := w.put(line{Removed: name}); err != nil {
				return err
			}
		}
	}
	return nil
}

var photoName = regexp.MustCompile(`^[0-9a-f]{64}$`)

// names are what lies in a folder, in order; none where it is not there.
func names(dir string) (all []string, err error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all, err
}

// photo writes one, unless it went away meanwhile.
func (w *writing) photo(path, name string) (err error) {
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	to, err := w.zip.CreateHeader(&zip.FileHeader{Name: photosName + "/" + name, Method: zip.Store})
	if err != nil {
		return err
	}
	sum := sha256.New()
	size, err := io.Copy(io.MultiWriter(to, sum), until{w.ctx, file})
	if err != nil {
		return err
	}
	w.told.Photos++
	one := line{Photo: name, Size: size}
	if is := hex.EncodeToString(sum.Sum(nil)); is != name {
		one.SHA256 = is
		w.told.Damaged = append(w.told.Damaged, name)
	}
	return w.put(one)
}

// end writes the last line.
func (w *writing) end() error {
	if err := w.lines.Flush(); err != nil {
		return err
	}
	return errors.Join(w.put(line{End: &end{w.told.Changes, w.told.Photos}, SHA256: hex.EncodeToString(w.sum.Sum(nil))}), w.lines.Flush())
}

func (w *writing) putLines(spool *os.File) error {
	if _, err := spool.Seek(0, io.SeekStart); err != nil {
		return err
	}
	to, err := w.zip.CreateHeader(&zip.FileHeader{Name: linesName, Method: zip.Deflate})
	if err == nil {
		_, err = io.Copy(to, until{w.ctx, spool})
	}
	return err
}

// until reads until a context ends.
type until struct {
	ctx  context.Context
	from io.Reader
}

func (u until) Read(p []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.from.Read(p)
}
