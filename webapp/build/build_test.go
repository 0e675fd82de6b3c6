package build_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"corymb/webapp/build"
)

func TestRootIsFoundFromAnyDirectoryInside(t *testing.T) {
	top := t.TempDir()
	write(t, filepath.Join(top, "go.mod"), "module corymb\n", time.Now())
	deep := filepath.Join(top, "webapp", "src", "row")
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{top, filepath.Join(top, "webapp"), deep} {
		if got, err := build.Root(dir); err != nil || got != top {
			t.Errorf("from %s found %q (%v), want %s", dir, got, err, top)
		}
	}
	if _, err := build.Root(t.TempDir()); !errors.Is(err, build.ErrNoCheckout) {
		t.Errorf("outside a checkout: %v, want ErrNoCheckout", err)
	}
}

func TestStaleWheneverASourceIsNewerThanTheBuild(t *testing.T) {
	built := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	older, newer := built.Add(-time.Hour), built.Add(time.Hour)
	tests := []struct {
		name   string
		change func(t *testing.T, web string)
		want   bool
	}{
		{"nothing changed", func(*testing.T, string) {}, false},
		{"never built", func(t *testing.T, web string) { remove(t, filepath.Join(web, "dist", "index.html")) }, true},
		{"a source file is newer", func(t *testing.T, web string) {
			write(t, filepath.Join(web, "src", "row", "row.tsx"), "y", newer)
			age(t, filepath.Join(web, "src", "row"), older)
		}, true},
		{"a source file was removed", func(t *testing.T, web string) { remove(t, filepath.Join(web, "src", "row", "row.tsx")) }, true},
		{"the packages changed", func(t *testing.T, web string) { age(t, filepath.Join(web, "package-lock.json"), newer) }, true},
		{"something else changed", func(t *testing.T, web string) { write(t, filepath.Join(web, "notes"), "y", newer) }, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			web := t.TempDir()
			for _, name := range []string{"public/icon.svg", "src/row/row.tsx", "index.html", "package.json", "package-lock.json", "vite.config.ts", "tsconfig.json"} {
				write(t, filepath.Join(web, name), "x", older)
			}
			for _, dir := range []string{"public", "src/row", "src"} {
				age(t, filepath.Join(web, dir), older)
			}
			write(t, filepath.Join(web, "dist", "index.html"), "x", built)
			tt.change(t, web)
			if got, err := build.Stale(web); err != nil || got != tt.want {
				t.Errorf("stale = %v (%v), want %v", got, err, tt.want)
			}
		})
	}
}

func write(t *testing.T, path, text string, at time.Time) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	age(t, path, at)
}

func age(t *testing.T, path string, at time.Time) {
	t.Helper()
	if err := os.Chtimes(path, at, at); err != nil {
		t.Fatal(err)
	}
}

func remove(t *testing.T, path string) {
	t.Helper()
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
}
