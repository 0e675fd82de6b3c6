package backup

import (
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"corymb/server/store"
)

// execute alters a database behind the back of the store.
func execute(path, text string) (err error) {
	db, err := sql.Open(store.DriverName, "file:"+path+"?_busy_timeout=5000")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	_, err = db.Exec(text)
	return err
}

// logOf reads the log of a data folder up to an arrival number, a text a segment.
func logOf(t testing.TB, dir string, upTo int64) (segments []string) {
	t.Helper()
	db, err := sql.Open(store.DriverName, "file:"+filepath.Join(dir, store.FileName)+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query("SELECT first, n, incarnation, first_seq, scopes, batch FROM segments WHERE first <= ? ORDER BY first", upTo)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var first, n, incarnation, seq, scopes int64
		var batch []byte
		if err := rows.Scan(&first, &n, &incarnation, &seq, &scopes, &batch); err != nil {
			t.Fatal(err)
		}
		segments = append(segments, fmt.Sprintf("%d %d %d %d %d %x", first, n, incarnation, seq, scopes, batch))
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return segments
}
