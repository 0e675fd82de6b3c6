package tags

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// inked is where a line's letters may leave a mark.
func (l line) inked() box {
	return box{l.x - l.face.descent*l.size, l.y, l.face.height() * l.size, l.face.width(l.text) * l.size}
}

func (b box) overlaps(o box) bool {
	const touch = 1e-6
	return b.x+b.width > o.x+touch && o.x+o.width > b.x+touch && b.y+b.height > o.y+touch && o.y+o.height > b.y+touch
}

// anyTag is a tag with texts of any length.
func anyTag(random *rand.Rand) Tag {
	letters := []rune("aiIW0 -é·MñŐж")
	text := func(most int) string {
		var b strings.Builder
		for n := random.IntN(most + 1); b.Len() < n; {
			b.WriteRune(letters[random.IntN(len(letters))])
		}
		return b.String()
	}
	code := "x" + text(MostCodeBytes-4)
	return Tag{Code: code, Stock: text(120), Bed: text(120), Line: random.IntN(3) * random.IntN(400), Number: random.IntN(100_000)}
}

func TestNothingOfATagOverlapsOrLeavesIt(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	for range 2000 {
		tag := anyTag(random)
		laid, err := layOut(tag)
		if err != nil {
			t.Fatal(err)
		}
		module, border := symbolPlace(len(laid.symbol))
		side := module * float64(len(laid.symbol)+2*quiet)
		parts := []box{{border - quiet*module, border - quiet*module, side, side}}
		code := ""
		for _, l := range laid.lines {
			parts = append(parts, l.inked())
			if l.face == codeFace() {
				code += l.text
			}
		}
		for i, a := range parts {
			if a.x < 0 || a.y < 0 || a.x+a.width > tagWidth || a.y+a.height > ground {
				t.Fatalf("%+v: part %d lies at %+v, beyond what is above the ground", tag, i, a)
			}
			for j, b := range parts[:i] {
				if a.overlaps(b) {
					t.Fatalf("%+v: parts %d and %d lie on each other: %+v, %+v", tag, j, i, b, a)
				}
			}
		}
		if code != shown(tag.Code) {
			t.Fatalf("%q was set as %q", tag.Code, code)
		}
	}
}

func TestACodeIsSetAsLargeAsThereIsRoom(t *testing.T) {
	point := 25.4 / 72
	tests := []struct {
		code  string
		lines int
		least float64 // points
	}{
		{"7", 1, 28},
		{"N-01", 1, 25},
		{"Gate-0147", 1, 18},
		{"gate-2025-01471", 1, 11},
		{"gate-2025-0147-b", 2, 11},
		{strings.Repeat("W", 40), 3, 8},
		{strings.Repeat("W", MostCodeBytes), 5, 5.5},
	}
	for _, tt := range tests {
		lines := codeLines(tt.code)
		if got := lines[0].size / point; len(lines) != tt.lines || got < tt.least {
			t.Errorf("%s: %d lines of %.1f points, want %d of %g at least", tt.code, len(lines), got, tt.lines, tt.least)
		}
	}
}

func TestWhatIsShortenedEndsInAnEllipsis(t *testing.T) {
	long := strings.Repeat("behind the greenhouse ", 5)
	tests := []struct {
		tag  Tag
		want string
	}{
		{Tag{}, ""},
		{Tag{Bed: "East"}, "East"},
		{Tag{Line: 1, Number: 2}, "L1 · 2"},
		{Tag{Bed: "East", Line: 1, Number: 2}, "East · L1 · 2"},
		{Tag{Bed: "East", Number: 2}, "East"},
		{Tag{Bed: long}, "behind the greenhouse be…"},
		{Tag{Bed: long, Line: 12, Number: 345}, "behind the gre… · L12 · 345"},
		{Tag{Bed: "E\u0301ast"}, "Éast"},
		{Tag{Bed: " north strip\nby the well "}, "north strip by the well"},
	}
	for _, tt := range tests {
		if got := placeText(tt.tag); got != tt.want {
			t.Errorf("%+v: %q, want %q", tt.tag, got, tt.want)
		}
	}
}

func TestSheetsHoldWholeTagsWithinTheMargin(t *testing.T) {
	for name, paper := range Papers {
		g := paper.grid()
		right, bottom := paper.Width-g.left-float64(g.columns)*tagWidth, paper.Height-g.top-float64(g.rows)*tagLength
		for side, margin := range map[string]float64{"left": g.left, "top": g.top, "right": right, "bottom": bottom} {
			if margin < leastMargin-step {
				t.Errorf("%s: the margin %s is %.2f mm", name, side, margin)
			}
		}
		if got := fmt.Sprint(paper.Sheets(0), paper.Sheets(1), paper.Sheets(paper.PerSheet()), paper.Sheets(paper.PerSheet()+1)); got != "0 1 1 2" {
			t.Errorf("%s: sheets %s", name, got)
		}
	}
}
