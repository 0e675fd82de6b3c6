package archtest

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// webMayImport lists what each folder of webapp/src may import of the others. Places never import
// each other; the log is pure. The notebook is told of the shed's door, so that sync knows no page.
var webMayImport = map[string][]string{
	"messages":   {"crop"},
	"crop":       {"log", "colour"},
	"log":        {},
	"db":         {"crop", "log"},
	"sync":       {"crop", "log", "db"},
	"photos":     {"crop", "db", "sync"},
	"ui":         {"crop", "log", "sync", "photos", "messages"},
	"scan":       {"crop", "ui", "messages"},
	"colour":     {},
	"colourcard": {"colour"},
	"measuring":  {"crop", "log", "sync", "db", "photos", "ui", "messages", "scan", "colour", "colourcard"},
	"work":       {"crop", "log", "sync", "db", "ui", "messages"},
	"row":        {"work", "colour", "measuring", "crop", "log", "sync", "db", "ui", "messages", "scan"},
	"join":       {"crop", "log", "sync", "ui", "messages"},
	"orders":     {"crop", "log", "sync", "db", "photos", "ui", "messages"},
	"cooler":     {"crop", "log", "sync", "db", "photos", "ui", "messages"},
	"packing":    {"crop", "log", "sync", "db", "photos", "ui", "messages"},
	"papers":     {"crop", "log", "sync", "db", "photos", "ui", "messages"},
	// The weather of a spreadsheet is planned as the season's own file of it is.
	"sheets": {"season", "crop", "log", "sync", "ui", "messages"},
	// The shed tells of promises that clash, which the forecast finds.
	"shed":     {"forecast", "orders", "cooler", "packing", "papers", "work", "colour", "colourcard", "measuring", "crop", "log", "sync", "db", "photos", "ui", "messages", "join", "sheets"},
	"beds":     {"colour", "measuring", "crop", "log", "sync", "db", "photos", "ui", "messages", "scan"},
	"forecast": {"crop", "log", "sync", "ui", "messages"},
	"promise":  {"forecast", "crop", "log", "sync", "db", "photos", "ui", "messages"},
	"division": {"forecast", "crop", "log", "sync", "db", "photos", "ui", "messages"},
	"season":   {"forecast", "crop", "log", "sync", "db", "photos", "ui", "messages"},
	"ahead":    {"forecast", "promise", "division", "season", "crop", "log", "sync", "db", "photos", "ui", "messages"},
	"money":    {"crop", "log", "sync", "db", "ui", "messages"},
	// The start page tells of every place what today asks of it.
	"start": {"row", "shed", "forecast", "crop", "log", "sync", "db", "photos", "ui", "messages"},
	"sw":    {},
	"app":   {"start", "measuring", "row", "shed", "beds", "ahead", "money", "forecast", "join", "crop", "log", "sync", "db", "photos", "ui", "messages", "sw"},
}

var (
	importFrom = regexp.MustCompile(`(?m)(?:from|import)\s*\(?\s*'(\.[^']*)'`)
	// "window" is left out: a counting window is a noun of the crop.
	domGlobals = regexp.MustCompile(`\b(document|globalThis|navigator|indexedDB|localStorage|setTimeout|setInterval)\b[.(]`)
	// What makes markup or a program of a text. A text from another phone is shown as a text.
	markupSinks = regexp.MustCompile(`\b(innerHTML|outerHTML|insertAdjacentHTML|dangerouslySetInnerHTML|srcdoc|document\.write|eval|new Function)\b|javascript:`)
	anyType     = regexp.MustCompile(`(:|<|\bas)\s*any\b`)
)

func TestWebImportsPointOneWay(t *testing.T) {
	eachWebFile(t, func(folder, path, text string) {
		allowed, known := webMayImport[folder]
		if !known {
			t.Errorf("folder src/%s has no line in webMayImport", folder)
		}
		for _, m := range importFrom.FindAllStringSubmatch(text, -1) {
			target, err := filepath.Rel(filepath.Join(root, "webapp", "src"), filepath.Join(filepath.Dir(path), m[1]))
			if err != nil {
				t.Fatal(err)
			}
			to, _, _ := strings.Cut(filepath.ToSlash(target), "/")
			if to != folder && !slices.Contains(allowed, to) {
				t.Errorf("%s imports %s; src/%s may import %v", path, m[1], folder, allowed)
			}
		}
	})
}

func TestWhatIsPureKnowsNoBrowser(t *testing.T) {
	eachWebFile(t, func(folder, path, text string) {
		if folder != "log" && folder != "crop" && folder != "colour" {
			return
		}
		if found := domGlobals.FindString(text); found != "" {
			t.Errorf("%s uses %s; src/%s is pure", path, found, folder)
		}
	})
}

func TestNoTextBecomesMarkupOrAProgram(t *testing.T) {
	eachWebFile(t, func(_, path, text string) {
		if found := markupSinks.FindString(text); found != "" {
			t.Errorf("%s says %q: let Preact show the text", path, found)
		}
	})
}

func TestTypeScriptSaysItsTypes(t *testing.T) {
	eachWebFile(t, func(_, path, text string) {
		if found := anyType.FindString(text); found != "" {
			t.Errorf("%s says %q: name the type", path, found)
		}
	})
}

func eachWebFile(t *testing.T, visit func(folder, path, text string)) {
	t.Helper()
	src := filepath.Join(root, "webapp", "src")
	files := 0
	err := filepath.WalkDir(src, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".ts") && !strings.HasSuffix(path, ".tsx") || strings.Contains(path, ".test.") {
			return err
		}
		rel, err := filepath.Rel(src, path)
		if err != nil {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		folder, _, _ := strings.Cut(filepath.ToSlash(rel), "/")
		files++
		visit(folder, path, string(text))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files == 0 {
		t.Fatal("no TypeScript files found")
	}
}
