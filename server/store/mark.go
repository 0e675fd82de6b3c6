package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/google/uuid"
)

// mark is a small file beside the database that says how far it had come. It is written after a
// commit and before anyone hears of it, so a database that is behind its mark is an older copy. A new
// epoch tells the phones so at once, and they fill in what it lacks; without, they find out one by one.
type mark struct {
	file *os.File
}

const (
	markName   = "corymb.mark"
	markLayout = "%36s %20d\n" // epoch, newest arrival
)

// openMark compares the database with its mark and gives it a new epoch where it is an older copy
// or came without its mark.
func (s *Store) openMark(dir string, farm farmRow) (farmRow, error) {
	file, err := os.OpenFile(filepath.Join(dir, markName), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return farm, err
	}
	s.mark = &mark{file: file}
	newest := farm.NextArrival - 1
	opened, err := openedBefore(s.orm, farm)
	if err != nil {
		return farm, err
	}
	epoch, marked, err := s.mark.read()
	s.restored = opened && (err != nil || epoch != farm.Epoch) || epoch == farm.Epoch && marked > newest
	if s.restored {
		farm.Epoch = uuid.NewString()
		found := map[string]any{"epoch": farm.Epoch, "restored": s.now().UnixMilli()}
		if err := s.orm.Model(&farm).Updates(found).Error; err != nil {
			return farm, err
		}
	}
	return farm, s.mark.write(farm.Epoch, newest)
}

func (m *mark) read() (epoch string, newest int64, err error) {
	text := make([]byte, 128)
	n, _ := m.file.ReadAt(text, 0) // a short file fails to scan
	_, err = fmt.Sscanf(string(text[:n]), "%s %d", &epoch, &newest)
	return epoch, newest, err
}

// write does not wait for the disk: after a power cut the mark may be behind, never ahead.
func (m *mark) write(epoch string, newest int64) error {
	_, err := m.file.WriteAt(fmt.Appendf(nil, markLayout, epoch, newest), 0)
	return err
}

func (m *mark) close() error {
	if m == nil {
		return nil
	}
	return errors.Join(m.file.Sync(), m.file.Close())
}
