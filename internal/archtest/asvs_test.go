package archtest

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// levelOne are the requirements of level 1 of OWASP ASVS 5.0.0, from its CSV at commit
// 5cf9b032440be53ce345ab3c130fda46ba1ce7a2 of github.com/OWASP/ASVS.
const levelOne = `1.2.1 1.2.2 1.2.3 1.2.4 1.2.5 1.3.1 1.3.2 1.5.1 2.1.1 2.2.1 2.2.2 2.3.1 3.2.1 3.2.2 3.3.1 3.4.1
3.4.2 3.5.1 3.5.2 3.5.3 4.1.1 4.4.1 5.2.1 5.2.2 5.3.1 5.3.2 6.1.1 6.2.1 6.2.2 6.2.3 6.2.4 6.2.5 6.2.6 6.2.7
6.2.8 6.3.1 6.3.2 6.4.1 6.4.2 7.2.1 7.2.2 7.2.3 7.2.4 7.4.1 7.4.2 8.1.1 8.2.1 8.2.2 8.3.1 9.1.1 9.1.2 9.1.3
9.2.1 10.4.1 10.4.2 10.4.3 10.4.4 10.4.5 11.3.1 11.3.2 11.4.1 12.1.1 12.2.1 12.2.2 13.4.1 14.2.1 14.3.1
15.1.1 15.2.1 15.3.1`

var (
	asvsRow  = regexp.MustCompile(`(?m)^\| (\d+\.\d+\.\d+) \| ([12]) \| ([^|]+) \| (.+) \|$`)
	quoted   = regexp.MustCompile("`([^`]+)`")
	testName = regexp.MustCompile(`^(Test|Fuzz)[A-Z]\w+$`)
	fileName = regexp.MustCompile(`^([\w/.-]+\.(?:go|ts|md))(?::(\w+))?$`)
)

func TestTheSecurityListHasEveryRowOfLevelOne(t *testing.T) {
	rows := map[string]string{}
	for _, row := range asvsRows(t) {
		id, level, asks := row[1], row[2], row[3]
		if _, twice := rows[id]; twice {
			t.Errorf("%s stands twice", id)
		}
		rows[id] = level
		if n := len(strings.Fields(asks)); n > 12 {
			t.Errorf("%s is told in %d words: say it in 12", id, n)
		}
	}
	for _, id := range strings.Fields(levelOne) {
		if rows[id] != "1" {
			t.Errorf("%s is of level 1 and stands there with level %q", id, rows[id])
		}
		delete(rows, id)
	}
	for id, level := range rows {
		if level == "1" {
			t.Errorf("%s is not of level 1", id)
		}
	}
}

func TestTheSecurityListNamesWhatThereIs(t *testing.T) {
	tests := testNames(t)
	names := 0
	for _, row := range asvsRows(t) {
		for _, quote := range quoted.FindAllStringSubmatch(row[4], -1) {
			switch name := quote[1]; {
			case testName.MatchString(name):
				names++
				if !tests[name] {
					t.Errorf("%s names %s, which is no test", row[1], name)
				}
			case fileName.MatchString(name):
				names++
				if problem := noSuchPlace(t, name); problem != "" {
					t.Errorf("%s names %s: %s", row[1], name, problem)
				}
			}
		}
	}
	if names == 0 {
		t.Error("no names were found")
	}
}

func asvsRows(t *testing.T) [][]string {
	t.Helper()
	text, err := os.ReadFile(root + "/server/ASVS.md")
	if err != nil {
		t.Fatal(err)
	}
	return asvsRow.FindAllStringSubmatch(string(text), -1)
}

// noSuchPlace tells what is wrong with a name of a file, or of something declared in one.
func noSuchPlace(t *testing.T, name string) string {
	t.Helper()
	parts := fileName.FindStringSubmatch(name)
	file, declared := parts[1], parts[2]
	text, err := os.ReadFile(filepath.Join(root, "server", file))
	if err != nil {
		text, err = os.ReadFile(filepath.Join(root, file))
	}
	if err != nil {
		return "there is no such file"
	}
	at := regexp.MustCompile(`(?m)^(\t|func |func \([^)]*\) |type |const |var |export (const|function|class) )` + declared + `\b`)
	if declared != "" && !at.Match(text) {
		return "the file declares nothing of that name"
	}
	return ""
}

func testNames(t *testing.T) map[string]bool {
	t.Helper()
	declared := regexp.MustCompile(`(?m)^func ((?:Test|Fuzz)\w+)\(`)
	found := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && d.Name() == "node_modules" {
			if err == nil {
				err = filepath.SkipDir
			}
			return err
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		text, err := os.ReadFile(path)
		for _, m := range declared.FindAllStringSubmatch(string(text), -1) {
			found[m[1]] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
