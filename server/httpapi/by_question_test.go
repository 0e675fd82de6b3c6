package httpapi

import (
	"context"
	"testing"
)

func TestTheQuestionsAskedLastKeepTheirAnswers(t *testing.T) {
	questions := byQuestion[string]{most: 2}
	worked := map[string]int{}
	ask := func(asked string) {
		t.Helper()
		run := func() (string, error) { worked[asked]++; return asked, nil }
		answer, err := questions.of(asked, run).get(context.Background(), func(string) bool { return true })
		if err != nil || answer != asked {
			t.Fatalf("asked %s: %s, %v", asked, answer, err)
		}
	}
	for _, asked := range []string{"a", "b", "a", "c", "a", "b"} {
		ask(asked)
	}
	// When c came, b had been asked before a: so it was b that went.
	if worked["a"] != 1 || worked["b"] != 2 || worked["c"] != 1 {
		t.Errorf("worked out %v", worked)
	}
}
