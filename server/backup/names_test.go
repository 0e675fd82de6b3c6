package backup

import (
	"strings"
	"testing"
	"time"
)

func TestNamesOfBackupsAreGoodOnEverySystem(t *testing.T) {
	tests := []struct{ farm, want string }{
		{"Larkfield", "corymb-larkfield-2026-11-29-0300.zip"},
		{"Jardín de Ñandú", "corymb-jardin-de-nandu-2026-11-29-0300.zip"},
		{"  Beds & Bunches: <No. 1>  ", "corymb-beds-bunches-no-1-2026-11-29-0300.zip"},
		{"../../etc/passwd", "corymb-etc-passwd-2026-11-29-0300.zip"},
		{"CON", "corymb-con-2026-11-29-0300.zip"},
		{"花の畑", "corymb-farm-f0a1b2c3-2026-11-29-0300.zip"},
		{"", "corymb-farm-f0a1b2c3-2026-11-29-0300.zip"},
		{strings.Repeat("long ", 40), "corymb-long-long-long-long-long-long-long-long-2026-11-29-0300.zip"},
	}
	for _, tt := range tests {
		m := Manifest{Farm: "f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2", Name: tt.farm, Made: night.UTC()}
		name := nameOf(m, night.Location())
		if name != tt.want || !ours.MatchString(name) || !ours.MatchString(numbered(name, 2)) {
			t.Errorf("%q: %s, want %s", tt.farm, name, tt.want)
		}
		if ours.MatchString(faultyName(m)) {
			t.Errorf("%s looks like a good one", faultyName(m))
		}
	}
}

func TestNamesOfBackupsSortByTime(t *testing.T) {
	m := Manifest{Farm: "f1", Name: "Larkfield", Made: night}
	before := ""
	for range 500 {
		name := nameOf(m, night.Location())
		if name <= before {
			t.Fatalf("%s comes after %s", name, before)
		}
		before, m.Made = name, m.Made.Add(7*time.Hour)
	}
}
