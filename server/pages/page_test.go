package pages

import (
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

func TestTheLanguageIsThePersonsOwnChoiceThenTheirBrowsers(t *testing.T) {
	p := newPages(t, ofFarm(t))
	tests := []struct{ query, accepts, want string }{
		{"", "", "en"},
		{"", "es", "es"},
		{"", "es-MX,es;q=0.9,en;q=0.8", "es"},
		{"", "en-GB,en;q=0.9,es;q=0.1", "en"},
		{"", "fr,es;q=0.5", "es"},
		{"", "fr", "en"},
		{"", ";;;", "en"},
		{"?lang=es", "en", "es"},
		{"?lang=en", "es", "en"},
		{"?lang=fr", "es", "es"},
	}
	for _, tt := range tests {
		for _, url := range every {
			body := ask(p, http.MethodGet, url+tt.query, map[string]string{"Accept-Language": tt.accepts}).Body.String()
			other := map[string]string{"en": "es", "es": "en"}[tt.want]
			if !strings.Contains(body, `<html lang="`+tt.want+`">`) || !strings.Contains(body, `<a href="?lang=`+other+`"`) {
				t.Errorf("%s%s is not in %s for %q, with a way to %s", url, tt.query, tt.want, tt.accepts, other)
			}
		}
	}
}

var value = regexp.MustCompile(`\{[a-z]*\}`)

func TestBothCataloguesSayTheSame(t *testing.T) {
	for key, text := range en {
		other, ok := es[key]
		if !ok {
			t.Errorf("Spanish has no %q", key)
			continue
		}
		if !slices.Equal(value.FindAllString(text, -1), value.FindAllString(other, -1)) {
			t.Errorf("%q has other values in Spanish: %s", key, other)
		}
		if text == "" || text == other {
			t.Errorf("%q is not translated: %s", key, text)
		}
	}
	if len(es) != len(en) {
		t.Errorf("Spanish has %d texts, English %d", len(es), len(en))
	}
}

func TestEveryTextIsUsed(t *testing.T) {
	var sources strings.Builder
	for _, pattern := range []string{"templates/*.html", "pages.go", "page.go", "authority.go"} {
		for name, text := range files(t, pattern) {
			if strings.HasSuffix(name, ".html") || strings.HasSuffix(name, ".go") {
				sources.WriteString(text)
			}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(en)) {
		if !strings.Contains(sources.String(), `"`+key+`"`) {
			t.Errorf("%q is used nowhere", key)
		}
	}
}

// names are the same in every language, and so are commands.
var names = []string{"Corymb", "Windows", "macOS", "Linux"}

func TestNoTextStandsInATemplate(t *testing.T) {
	action := regexp.MustCompile(`\{\{[^}]*\}\}`)
	letters := regexp.MustCompile(`\p{L}{2,}`)
	for name, text := range files(t, "templates/*.html") {
		tokens := html.NewTokenizer(strings.NewReader(action.ReplaceAllString(text, "")))
		command := false
		for tokens.Next() != html.ErrorToken {
			token := tokens.Token()
			switch {
			case token.Data == "code":
				command = token.Type == html.StartTagToken
			case token.Type == html.TextToken && !command:
				for _, word := range letters.FindAllString(token.Data, -1) {
					if !slices.Contains(names, word) {
						t.Errorf("%s says %q", name, word)
					}
				}
			}
			for _, a := range token.Attr {
				if slices.Contains([]string{"alt", "title", "aria-label", "placeholder"}, a.Key) && letters.MatchString(a.Val) {
					t.Errorf("%s says %s=%q", name, a.Key, a.Val)
				}
			}
		}
	}
}

// The pages look like the app; their colours have its contrast, which its own test holds.
func TestTheValuesOfTheStyleAreThoseOfTheApp(t *testing.T) {
	app, err := os.ReadFile("../../webapp/src/ui/tokens.css")
	if err != nil {
		t.Fatal(err)
	}
	light, dark, found := strings.Cut(string(app), "[data-theme='dark']")
	if !found {
		t.Fatal("the app has no dark values")
	}
	ourLight, ourDark, found := strings.Cut(string(style), "prefers-color-scheme: dark")
	if !found {
		t.Fatal("the pages have no dark values")
	}
	for name, pair := range map[string][2]string{"light": {light, ourLight}, "dark": {dark, ourDark}} {
		theirs, ours := properties(pair[0]), properties(pair[1])
		if len(ours) < 11 {
			t.Errorf("%s: only %d values", name, len(ours))
		}
		for property, value := range ours {
			if theirs[property] != value {
				t.Errorf("%s: %s is %s here and %s in the app", name, property, value, theirs[property])
			}
		}
	}
}

func properties(css string) map[string]string {
	all := map[string]string{}
	for _, m := range regexp.MustCompile(`(--[a-z0-9-]+): ([^;]+);`).FindAllStringSubmatch(css, -1) {
		all[m[1]] = m[2]
	}
	return all
}

func files(t *testing.T, pattern string) map[string]string {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) == 0 {
		t.Fatalf("no %s (%v)", pattern, err)
	}
	all := map[string]string{}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		all[path] = string(text)
	}
	return all
}
