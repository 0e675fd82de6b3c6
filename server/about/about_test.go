package about

import (
	"bytes"
	"runtime"
	"strings"
	"testing"
)

func TestEveryDependencyHasAVersionAndItsLicenceInFull(t *testing.T) {
	all := Dependencies()
	if len(all) == 0 {
		t.Fatal("none is listed")
	}
	for i, d := range all {
		if d.Name == "" || d.Version == "" || d.Licence == "" || len(d.Text) < 200 {
			t.Errorf("%q %q has licence %q and a text of %d letters", d.Name, d.Version, d.Licence, len(d.Text))
		}
		if i > 0 && strings.ToLower(all[i-1].Name) >= strings.ToLower(d.Name) {
			t.Errorf("%s stands after %s", d.Name, all[i-1].Name)
		}
	}
}

func TestTheLanguageAndTheTypefaceAreListedToo(t *testing.T) {
	var text bytes.Buffer
	if err := WriteLicences(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"\nGo " + strings.TrimPrefix(runtime.Version(), "go") + " (BSD-3-Clause)\n",
		"\n@fontsource-variable/atkinson-hyperlegible-next ", " (OFL-1.1)\n", "SIL OPEN FONT LICENSE",
	} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is not said", want)
		}
	}
}

func TestAReleaseSaysTheVersionItWasGiven(t *testing.T) {
	defer func(was string) { version = was }(version)
	version = "1.2.0"
	if got := Version(); got != "1.2.0" {
		t.Errorf("it says %q", got)
	}
	version = ""
	if got := Version(); got == "" {
		t.Error("without one it says nothing")
	}
}

func TestABrokenListIsAnError(t *testing.T) {
	if _, err := Read([]byte("{")); err == nil {
		t.Error("it was read")
	}
}
