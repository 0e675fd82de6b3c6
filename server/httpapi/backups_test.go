package httpapi_test

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"corymb/server/httpapi"
)

// shelf is where backups stand.
type shelf struct {
	state httpapi.BackupState
	err   error
	asked int
}

func (s *shelf) State() httpapi.BackupState { return s.state }

func (s *shelf) MakeNow() error {
	if s.err == nil {
		s.asked++
		s.state.Running = true
	}
	return s.err
}

func (s *shelf) Turn(on bool) error {
	if s.err == nil {
		s.state.On = on
	}
	return s.err
}

func TestPagesAreToldOfBackups(t *testing.T) {
	s := &shelf{state: httpapi.BackupState{
		Folder: "/usb", On: true, Next: 5, Files: []httpapi.BackupFile{{File: "corymb-x-2026-11-29-0300.zip", Made: 3, Size: 9}},
		Good:    &httpapi.GoodBackup{Made: 3, Path: "/usb/corymb-x-2026-11-29-0300.zip", Size: 9, Arrival: 21, There: true, LeftOut: []string{}},
		Failure: &httpapi.BackupFailure{When: 4, Code: "no_room", Text: "There is no room."},
	}}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Backups = s })
	want := `{"folder":"/usb","on":true,"running":false,"next":5,` +
		`"last_good":{"made":3,"path":"/usb/corymb-x-2026-11-29-0300.zip","size":9,"arrival":21,"there":true,"damaged":0,"left_out":[]},` +
		`"last_failure":{"when":4,"code":"no_room","text":"There is no room."},` +
		`"files":[{"file":"corymb-x-2026-11-29-0300.zip","made":3,"size":9}]}`
	if w := call(h, "GET", "/api/backups"); w.Code != 200 || w.Body.String() != want {
		t.Errorf("%d %s, want %s", w.Code, w.Body, want)
	}
}

func TestPagesHaveBackupsMade(t *testing.T) {
	tests := []struct {
		name, body string
		err        error
		header     []string
		status     int
		says       string
	}{
		{"now", `{"do":"now"}`, nil, nil, 202, `"running":true`},
		{"off", `{"do":"off"}`, nil, nil, 200, `"on":false`},
		{"on", `{"do":"on"}`, nil, nil, 200, `"on":true`},
		{"something else", `{"do":"delete"}`, nil, nil, 400, "must be"},
		{"nothing", ``, nil, nil, 400, "cannot be read"},
		{"a folder of their own", `{"folder":"/etc"}`, nil, nil, 400, "must be"},
		{"where no folder was chosen", `{"do":"now"}`, httpapi.ErrNoBackupFolder, nil, 409, "at the shed"},
		{"where the disk fails", `{"do":"on"}`, errors.New("the disk is gone"), nil, 500, "is safe"},
		{"from another site", `{"do":"now"}`, nil, []string{"Sec-Fetch-Site", "cross-site"}, 403, "another site"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := &shelf{err: tt.err}
			h := handler(t, newGround(), func(c *httpapi.Config) { c.Backups = s })
			w := postTo(h, "/api/backups", tt.body, tt.header...)
			if w.Code != tt.status || !strings.Contains(w.Body.String(), tt.says) {
				t.Errorf("%d %s, want %d %q", w.Code, w.Body, tt.status, tt.says)
			}
			if made := s.asked == 1; made != (tt.status == 202) {
				t.Errorf("asked for %d backups", s.asked)
			}
		})
	}
}

func postTo(h http.Handler, path, body string, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", path, strings.NewReader(body))
	r.Host = "shed.example:8420"
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}
