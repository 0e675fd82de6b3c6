package httpapi_test

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"corymb/server/httpapi"
)

func exporting(write func(context.Context, io.Writer) error) func(*httpapi.Config) {
	return func(c *httpapi.Config) { c.Export = write }
}

func TestAnExportComesAsAFileToKeep(t *testing.T) {
	h := handler(t, newGround(), exporting(func(_ context.Context, w io.Writer) error {
		_, err := io.WriteString(w, "all of it")
		return err
	}))
	w := call(h, "GET", "/api/export")
	named := w.Header().Get("Content-Disposition")
	if w.Code != 200 || w.Body.String() != "all of it" || w.Header().Get("Content-Type") != "application/zip" || !strings.Contains(named, `attachment; filename="corymb-export-2`) {
		t.Errorf("%d %s %s", w.Code, w.Body, named)
	}
}

func TestAnExportThatFailsIsNoFile(t *testing.T) {
	t.Run("before it begins", func(t *testing.T) {
		h := handler(t, newGround(), exporting(func(context.Context, io.Writer) error { return errors.New("no room") }))
		if w := call(h, "GET", "/api/export"); w.Code != 500 || !strings.Contains(w.Body.String(), `"failed"`) || w.Header().Get("Content-Disposition") != "" {
			t.Errorf("%d %s", w.Code, w.Body)
		}
	})
	t.Run("halfway", func(t *testing.T) {
		h := handler(t, newGround(), exporting(func(_ context.Context, w io.Writer) error {
			_, err := io.WriteString(w, strings.Repeat("x", 1<<16))
			return errors.Join(err, errors.New("a disk fault"))
		}))
		served := httptest.NewServer(h)
		defer served.Close()
		request, err := http.NewRequest("GET", served.URL+"/api/export", nil)
		if err != nil {
			t.Fatal(err)
		}
		request.Host = "shed.example"
		answer, err := served.Client().Do(request)
		if err == nil {
			_, err = io.ReadAll(answer.Body)
			_ = answer.Body.Close()
		}
		if err == nil {
			t.Error("half a file came as a whole one")
		}
	})
}
