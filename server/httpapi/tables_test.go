package httpapi_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
)

func TestTablesComeAsCSV(t *testing.T) {
	h := handler(t, newGround(), nil)
	list := call(h, "GET", "/api/tables?lang=es")
	if list.Code != 200 || !strings.Contains(list.Body.String(), `{"name":"finca","rows":1,"table":"farm"}`) {
		t.Errorf("%d %s", list.Code, list.Body)
	}
	one := call(h, "GET", "/api/tables/farm.csv?lang=es")
	if one.Code != 200 || !strings.Contains(one.Body.String(), "Larkfield") || !strings.Contains(one.Header().Get("Content-Disposition"), `"corymb-finca-2026-06-01.csv"`) {
		t.Errorf("%d %s %s", one.Code, one.Body, one.Header())
	}
	for _, path := range []string{"/api/tables/none.csv", "/api/tables/farm", "/api/tables/finca.csv?lang=es"} {
		if w := call(h, "GET", path); w.Code != 404 {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	if w := call(h, "GET", "/api/tables?lang=fr"); w.Code != 400 {
		t.Errorf("an unknown language: %d", w.Code)
	}
}

func TestAllTablesComeInOneZIP(t *testing.T) {
	body := call(handler(t, newGround(), nil), "GET", "/api/tables/all.zip").Body.Bytes()
	z, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := csv.NewReader(r).ReadAll(); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
	if len(z.File) < 40 {
		t.Errorf("it holds %d files", len(z.File))
	}
}
