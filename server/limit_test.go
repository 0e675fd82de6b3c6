package main

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"sync"
	"testing"

	"github.com/gorilla/websocket"

	"corymb/server/store"
)

// The raw limit that the sync is measured against: a plain websocket, and prepared SQLite inserts of
// the same facts as JSON rows, 2,000 a transaction, each commit on disk. It merges nothing, checks
// nothing and resumes nothing.

const limitFrame = 2_000

// fact is a count as plain JSON.
type fact struct {
	Incarnation string `json:"inc"`
	Seq         int64  `json:"seq"`
	L           int64  `json:"l"`
	C           int64  `json:"c"`
	Plant       string `json:"plant"`
	Date        string `json:"date"`
	Cell        string `json:"cell"`
	Stems       int64  `json:"stems"`
}

type limit struct {
	*httptest.Server
	db     *sql.DB
	insert *sql.Stmt
	rows   *sql.Stmt

	mu    sync.Mutex
	conns []*websocket.Conn
}

func startLimit(tb testing.TB) *limit {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "limit.db")
	db, err := sql.Open(store.DriverName, "file:"+path+"?_journal_mode=WAL&_synchronous=FULL")
	must(tb, err)
	db.SetMaxOpenConns(1)
	_, err = db.Exec("CREATE TABLE facts (id INTEGER PRIMARY KEY, fact TEXT NOT NULL)")
	must(tb, err)
	l := &limit{db: db}
	l.insert, err = db.Prepare("INSERT INTO facts (fact) VALUES (?)")
	must(tb, err)
	l.rows, err = db.Prepare("SELECT fact FROM facts ORDER BY id")
	must(tb, err)
	upgrader := websocket.Upgrader{ReadBufferSize: 4096, WriteBufferSize: 4096}
	l.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		socket, err := upgrader.Upgrade(w, r, nil)
		if err != nil {
			return // the upgrader has answered
		}
		defer func() { _ = socket.Close() }()
		l.mu.Lock()
		l.conns = append(l.conns, socket)
		l.mu.Unlock()
		for {
			_, data, err := socket.ReadMessage()
			if err != nil {
				return
			}
			if err := l.answer(socket, data); err != nil {
				tb.Error(err)
				return
			}
		}
	}))
	tb.Cleanup(func() {
		l.Close()
		_ = db.Close()
	})
	return l
}

func (l *limit) answer(socket *websocket.Conn, data []byte) error {
	if string(data) == "pull" {
		return l.sendAll(socket)
	}
	var facts []json.RawMessage
	if err := json.Unmarshal(data, &facts); err != nil {
		return err
	}
	if err := l.store(facts); err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, other := range l.conns {
		if other == socket {
			continue
		}
		if err := other.WriteMessage(websocket.TextMessage, data); err != nil {
			return err
		}
	}
	return socket.WriteMessage(websocket.TextMessage, fmt.Appendf(nil, `{"ack":%d}`, len(facts)))
}

func (l *limit) store(facts []json.RawMessage) error {
	tx, err := l.db.BeginTx(context.Background(), nil)
	if err != nil {
		return err
	}
	insert := tx.Stmt(l.insert)
	for _, f := range facts {
		if _, err := insert.Exec([]byte(f)); err != nil {
			return err
		}
	}
	return tx.Commit()
}

func (l *limit) sendAll(socket *websocket.Conn) error {
	rows, err := l.rows.Query()
	if err != nil {
		return err
	}
	defer rows.Close()
	frame, n := []byte("["), 0
	flush := func() error {
		data := append(frame, ']')
		frame, n = frame[:1], 0
		return socket.WriteMessage(websocket.TextMessage, data)
	}
	for rows.Next() {
		var f sql.RawBytes
		if err := rows.Scan(&f); err != nil {
			return err
		}
		if n > 0 {
			frame = append(frame, ',')
		}
		frame = append(frame, f...)
		if n++; n == limitFrame {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	if n > 0 {
		return flush()
	}
	return rows.Err()
}

func must(tb testing.TB, err error) {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
}
