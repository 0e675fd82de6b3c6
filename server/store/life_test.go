package store

import (
	"strings"
	"testing"
)

func TestALifeThatCannotBeNotedIsToldOnce(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	if err := s.orm.Exec("ALTER TABLE lives RENAME TO gone").Error; err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	s, err := Open(dir, fixed)
	if err == nil {
		closeStore(t, s)
		t.Fatal("it opened")
	}
	if n := strings.Count(err.Error(), "lives"); n != 1 {
		t.Errorf("the error tells %d times what is wrong: %v", n, err)
	}
}
