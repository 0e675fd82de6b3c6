package httpapi_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/server/httpapi"
	"corymb/server/store"
	"corymb/syncproto"
)

const unsentPhone = "aaaaaaaa-0000-4000-8000-000000000001"

// unsentFile is the file of a phone that counted into a cell of two visits and sent nothing yet.
func unsentFile(farm string, counts ...int64) string {
	text := fmt.Sprintf(`{"t":"unsent","version":1,"farm":%q,"device":"d","incarnation":%q,"before":%q,"unsent":%d,"refused":{}}`+"\n",
		farm, unsentPhone, syncproto.ChainStart(farm, unsentPhone), len(counts))
	for i, count := range counts {
		text += string(syncproto.Change{
			Incarnation: unsentPhone, Seq: int64(i) + 1, Stamp: syncproto.Stamp{L: int64(i) + 1}, Scope: syncproto.ScopeField,
			Op: syncproto.OpCount, Type: "visit", ID: fmt.Sprint("v", i), Field: "|0|1", Value: syncproto.Int(count),
		}.Canonical()) + "\n"
	}
	return text
}

// unsentDoor makes a handler on an empty farm. change (nil for none) alters how frames are appended.
func unsentDoor(t *testing.T, change func(*changelog.Intake)) (h http.Handler, farm string) {
	t.Helper()
	s, err := store.Open(t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return handler(t, newGround(), func(c *httpapi.Config) {
		c.Farm, c.Intake = s, changelog.Intake{Standing: s.Standing, Append: s.Append}
		if change != nil {
			change(&c.Intake)
		}
	}), s.Farm()
}

func post(h http.Handler, body io.Reader, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", "/api/unsent", body)
	r.Host = "shed.example:8420"
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestAFileOfUnsentChangesIsTakenInOnce(t *testing.T) {
	h, farm := unsentDoor(t, nil)
	file := unsentFile(farm, 5, 1000)
	refused := `"refused":[{"seq":2,"code":"count","text":"a count of 1000 is outside 0 to 999"}]}`
	for _, want := range []string{`{"already":0,"kept":1,` + refused, `{"already":1,"kept":0,` + refused} {
		if w := post(h, strings.NewReader(file)); w.Code != 200 || w.Body.String() != want {
			t.Errorf("%d %s, want %s", w.Code, w.Body, want)
		}
	}
	if w := post(h, strings.NewReader(unsentFile(farm))); w.Code != 200 || w.Body.String() != `{"already":0,"kept":0,"refused":[]}` {
		t.Errorf("a file of nothing: %d %s", w.Code, w.Body)
	}
}

func TestAFileThatIsNotTakenInIsAnsweredWithTheReason(t *testing.T) {
	append := func(results []changelog.Result, err error) func(*changelog.Intake) {
		return func(in *changelog.Intake) {
			in.Append = func(context.Context, []*changelog.Frame) ([]changelog.Result, error) { return results, err }
		}
	}
	breach := func(code syncproto.Code) []changelog.Result {
		return []changelog.Result{{Breach: syncproto.Breachf(code, "seq 2001 does not go on with the operation")}}
	}
	asIs := func(file string) io.Reader { return strings.NewReader(file) }
	tests := []struct {
		name   string
		door   func(*changelog.Intake)
		body   func(file string) io.Reader
		header []string
		status int
		says   string
	}{
		{"another farm's", nil, func(string) io.Reader { return strings.NewReader(unsentFile("f2", 5)) }, nil, 409, `{"error":{"code":"farm","text":"Line 1 `},
		{"cut off", nil, func(file string) io.Reader { return strings.NewReader(file[:len(file)-9]) }, nil, 400, `{"error":{"code":"malformed","text":"Line 2 `},
		{"of a newer form", nil, func(file string) io.Reader {
			return strings.NewReader(strings.Replace(file, `"version":1`, `"version":2`, 1))
		}, nil, 400, `{"error":{"code":"version","text":"Line 1 `},
		{"too large", nil, func(file string) io.Reader {
			return io.MultiReader(strings.NewReader(file), strings.NewReader(strings.Repeat("\n", 32<<20)))
		}, nil, 413, `{"error":{"code":"too_large","text":"The file is larger than 32 MiB.`},
		{"not come whole", nil, func(file string) io.Reader {
			return io.MultiReader(strings.NewReader(file), brokenLine{})
		}, nil, 400, `{"error":{"code":"malformed","text":"The file did not come whole.`},
		{"from a page of another site", nil, asIs, []string{"Sec-Fetch-Site", "cross-site"}, 403, `{"error":{"code":"origin",`},
		{"while nothing can be stored", append(breach(syncproto.CodeBusy), nil), asIs, nil, 503,
			`{"error":{"code":"busy","text":"The shed cannot store anything at the moment. What it took in of the file is safe. Keep the file and read it in again later`},
		{"that the log refuses", append(breach(syncproto.CodeSplit), nil), asIs, nil, 400,
			`{"error":{"code":"split","text":"Something in the file cannot be stored, so it was not taken in whole. What the shed took in is safe. Keep the file and leave`},
		{"while something is broken", append(nil, errDisk), asIs, nil, 500, `{"error":{"code":"failed","text":"The shed could not answer this. What was recorded is safe.`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h, farm := unsentDoor(t, tt.door)
			w := post(h, tt.body(unsentFile(farm, 5)), tt.header...)
			if w.Code != tt.status || !strings.HasPrefix(w.Body.String(), tt.says) || strings.Contains(w.Body.String(), "seq 2001") {
				t.Errorf("%d %s, want %d %s", w.Code, w.Body, tt.status, tt.says)
			}
		})
	}
}

// brokenLine is the rest of a body that never comes.
type brokenLine struct{}

func (brokenLine) Read([]byte) (int, error) { return 0, errors.New("the line broke") }
