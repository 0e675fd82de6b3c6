package archtest

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const root = "../.."

// mayImport lists what each package may import of ours. Dependencies point one way: pure domain at
// the bottom, transport and storage outside, and only server knows everything.
var mayImport = map[string][]string{
	"internal/archtest":        {},
	"internal/crop":            {"internal/colour"},
	"internal/stats":           {},
	"internal/colour":          {},
	"syncproto":                {},
	"internal/changelog":       {"syncproto"},
	"internal/farm":            {"syncproto", "internal/crop", "internal/changelog"},
	"internal/sheets":          {"internal/crop", "internal/tables/formula"},
	"internal/tables":          {"internal/changelog", "internal/crop", "internal/farm", "internal/selling", "internal/tables/formula"},
	"internal/tables/formula":  {},
	"internal/tags":            {"internal/crop", "internal/colour"},
	"internal/simnet":          {"syncproto", "internal/changelog"}, // for tests alone: no other line names it
	"internal/yield":           {"internal/crop", "internal/stats"},
	"internal/drift":           {"internal/crop", "internal/colour"},
	"internal/selling":         {"internal/crop", "internal/packing"},
	"internal/forecast":        {"internal/crop", "internal/degreedays", "internal/stats", "internal/yield"},
	"internal/division":        {"internal/crop", "internal/division/choose", "internal/selling", "internal/stats", "internal/yield"},
	"internal/division/choose": {},
	"internal/money":           {"internal/crop", "internal/selling", "internal/stats", "internal/yield"},
	"internal/report":          {"internal/crop", "internal/division", "internal/drift", "internal/forecast", "internal/money", "internal/selling", "internal/yield"},
	"internal/report/pages":    {"internal/crop", "internal/report"},
	"internal/degreedays":      {"internal/crop"},
	"internal/packing":         {"internal/packing/assign"},
	"internal/packing/assign":  {},
	"internal/counting":        {"internal/crop", "internal/stats", "internal/yield"},
	"internal/demo":            {"syncproto", "internal/colour", "internal/crop", "internal/changelog", "internal/farm", "internal/tags"},
	"server/store":             {"syncproto", "internal/access", "internal/crop", "internal/changelog", "internal/farm", "internal/tags"},
	"internal/access":          {"syncproto", "internal/crop", "internal/farm"},
	"server/about":             {},
	"server/disk":              {},
	"server/answers":           {},
	"server/certs":             {"server/disk"},
	"server/joining":           {"internal/access"},
	"server/door":              {},
	"server/found":             {},
	"server/pages":             {},
	"server/backup":            {"internal/crop", "internal/farm", "server/disk", "server/store"},
	"server/export":            {"syncproto", "server/disk", "server/store"},
	"server/billing":           {"syncproto", "internal/crop", "internal/changelog", "internal/farm", "internal/selling"},
	"server/live":              {"syncproto", "internal/changelog"},
	"server/photos":            {"server/disk"},
	"server/httpapi":           {"syncproto", "internal/access", "internal/crop", "internal/changelog", "internal/farm", "internal/tags", "internal/yield", "internal/division", "internal/drift", "internal/forecast", "internal/money", "internal/report", "internal/report/pages", "internal/selling", "server/joining", "server/photos", "internal/tables"},
	"server/release":           {"server/about", "webapp/build"},
	"webapp":                   {},
	"webapp/build":             {},
	"webapp/check":             {"webapp/build"},
	"server": {
		"syncproto", "internal/access", "internal/crop", "internal/changelog", "internal/farm", "internal/sheets",
		"internal/tags", "internal/yield", "internal/counting", "internal/degreedays", "internal/division", "internal/drift", "internal/forecast", "internal/money", "internal/packing", "internal/report", "internal/report/pages", "internal/selling", "internal/demo", "server/about", "server/answers", "server/store", "server/live", "server/httpapi", "server/joining", "internal/tables",
		"server/backup", "server/billing", "server/certs", "server/door", "server/found", "server/pages", "server/photos", "server/export",
		"webapp", "webapp/build",
	},
}

// onlyFor keeps a library where its purpose is.
var onlyFor = []struct{ library, owner, because string }{
	{"gorm.io/", "server/store", "storage has one owner, so that a farm can move to another database"},
	{"database/sql", "server/store", "storage has one owner"},
	{"github.com/gorilla/websocket", "server/live", "the session logic must run without sockets"},
	{"github.com/gin-gonic/gin", "server/httpapi", "handlers are the only code that knows of HTTP routes"},
	{"golang.org/x/image/", "server/photos", "pictures that nobody vouches for are decoded in one place, one at a time"},
	{"gonum.org/", "internal/stats", "the numerical core is one package"},
	{"github.com/pion/", "server/found", "one package speaks to the networks around"},
	{"rsc.io/qr", "server/found", "one package draws codes to scan on a screen"},
	{"codeberg.org/go-pdf/", "internal/tags", "what is printed is drawn in one place"},
}

// Tests may reach further, to drive one layer through another.
func TestImportsPointOneWay(t *testing.T) {
	for dir, files := range goFiles(t, false) {
		allowed, known := mayImport[dir]
		if !known {
			t.Errorf("package %s has no line in mayImport: say what it may import", dir)
			continue
		}
		for _, imp := range importsOf(t, files) {
			if ours, ok := strings.CutPrefix(imp, "corymb/"); ok && !slices.Contains(allowed, ours) {
				t.Errorf("%s imports %s; it may import %v", dir, ours, allowed)
			}
			for _, rule := range onlyFor {
				if strings.HasPrefix(imp, rule.library) && dir != rule.owner && !excused(dir, imp) {
					t.Errorf("%s imports %s, which is for %s alone: %s", dir, imp, rule.owner, rule.because)
				}
			}
		}
	}
}

// exceptions are what others than its owner may import of a library: the made-up farm and the model draw
// from gonum's distributions; what colours do is three numbers at once, in blocks that no other model has; the forecast draws
// each thing in its turn, which no other model does; plans of divisions draw what comes of each plant; printed tags are set in type that is part of the program, which decodes no
// picture, and have QR codes made of shapes, which are no screen's; the season's report is pages of its own, in the same type.
var exceptions = map[string][]string{
	"internal/demo":         {"gonum.org/"},
	"internal/yield":        {"gonum.org/"},
	"internal/drift":        {"gonum.org/"},
	"internal/forecast":     {"gonum.org/"},
	"internal/division":     {"gonum.org/"},
	"internal/report/pages": {"codeberg.org/go-pdf/", "golang.org/x/image/font"},
	"internal/tags":         {"golang.org/x/image/font", "golang.org/x/image/math/fixed", "rsc.io/qr/coding"},
}

func excused(dir, imp string) bool {
	return slices.ContainsFunc(exceptions[dir], func(library string) bool { return strings.HasPrefix(imp, library) })
}

func TestEveryPackageSaysItsPurposeInASentence(t *testing.T) {
	for dir, files := range goFiles(t, false) {
		var docs []string
		for _, file := range files {
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.PackageClauseOnly|parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			if parsed.Doc != nil {
				docs = append(docs, parsed.Doc.Text())
			}
		}
		if len(docs) != 1 {
			t.Errorf("%s has %d package comments, want one", dir, len(docs))
			continue
		}
		sentence := docs[0]
		opens := strings.HasPrefix(sentence, "Package ") || strings.HasPrefix(sentence, "Command ")
		if !opens || !strings.Contains(sentence, ".") {
			t.Errorf("the comment of %s does not say its purpose in a sentence: %q", dir, sentence)
		}
	}
}

func TestNoPackageIsADrawerForEverything(t *testing.T) {
	for dir := range goFiles(t, true) {
		for _, name := range []string{"util", "utils", "helper", "helpers", "common", "misc", "manager"} {
			if filepath.Base(dir) == name {
				t.Errorf("%s: a package has one purpose; name it", dir)
			}
		}
	}
}

// goFiles lists the Go files of each package directory, relative to the root.
func goFiles(t *testing.T, tests bool) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && (name == "node_modules" || name == "testdata" || strings.HasPrefix(name, ".") && path != root) {
			return filepath.SkipDir
		}
		if strings.HasSuffix(name, ".go") && (tests || !strings.HasSuffix(name, "_test.go")) {
			dir, err := filepath.Rel(root, filepath.Dir(path))
			if err != nil {
				return err
			}
			found[filepath.ToSlash(dir)] = append(found[filepath.ToSlash(dir)], path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) == 0 {
		t.Fatal("no Go files found")
	}
	return found
}

func importsOf(t *testing.T, files []string) []string {
	t.Helper()
	var imports []string
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range parsed.Imports {
			imports = append(imports, strings.Trim(imp.Path.Value, `"`))
		}
	}
	return imports
}

func TestTheTopLevelHoldsWhatWasAgreed(t *testing.T) {
	agreed := []string{"server", "webapp", "internal", "syncproto", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(agreed, e.Name()) {
			t.Errorf("%s stands at the top level beyond %v", e.Name(), agreed)
		}
	}
}

func TestEveryVectorFileIsRunByGo(t *testing.T) {
	known := []string{"ahead.json", "batch.json", "canonical.json", "card.json", "classes.json", "clock.json", "codes.json", "colour.json", "commission.json", "delivered.json", "discount.json", "forecast_draws.json", "invalid.json", "merge.json", "money.json", "names.json", "payments.json", "plan.json", "random.json", "sales.json", "seasons.json", "tax.json", "weather.json"}
	entries, err := os.ReadDir(root + "/testdata/vectors")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains(known, e.Name()) {
			t.Errorf("no Go test runs testdata/vectors/%s", e.Name())
		}
	}
}
