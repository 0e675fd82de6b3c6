package main

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"
)

// saying is a step that says two lines, and between them tells that it has begun and waits for another to begin.
func saying(name string, begun, other chan bool) step {
	return step{name, func(log io.Writer) error {
		fmt.Fprintf(log, "%s begins\n", name)
		close(begun)
		<-other
		fmt.Fprintf(log, "%s passed\n", name)
		return nil
	}}
}

var seconds = regexp.MustCompile(`: \d+ s`)

func TestStepsRunAtTheSameTimeAndAreToldOneAfterTheOther(t *testing.T) {
	first, second := make(chan bool), make(chan bool)
	var told strings.Builder
	err := sideBySide(&told, []step{saying("Go", first, second)}, []step{saying("web", second, first)})
	want := "== Go\nGo begins\nGo passed\n== Go\n== web\nweb begins\nweb passed\n== web\n"
	if got := seconds.ReplaceAllString(told.String(), ""); err != nil || got != want {
		t.Errorf("told %q and %v, want %q", got, err, want)
	}
}

func TestAfterAFailureNoStepBeginsAndThoseThatRunAreToldWhole(t *testing.T) {
	failed := errors.New("it failed")
	running, over := make(chan bool), make(chan bool)
	never := step{"never", func(io.Writer) error { t.Error("a step began after a failure"); return nil }}
	fails := step{"fails", func(log io.Writer) error {
		<-running
		defer close(over)
		fmt.Fprintln(log, "1 failed")
		return failed
	}}
	var told strings.Builder
	err := sideBySide(&told, []step{fails, never}, []step{saying("long", running, over)})
	want := "== fails\n1 failed\n== long\nlong begins\nlong passed\n== long\n"
	if got := seconds.ReplaceAllString(told.String(), ""); !errors.Is(err, failed) || got != want {
		t.Errorf("told %q and %v, want %q", got, err, want)
	}
}

func TestTheFirstIsToldAtOnce(t *testing.T) {
	var told strings.Builder
	o := &outputs{to: &told}
	first, second, third := o.add(), o.add(), o.add()
	for _, step := range []struct {
		do   func()
		want string
	}{
		{func() { fmt.Fprint(second, "2") }, ""},
		{func() { fmt.Fprint(first, "1") }, "1"},
		{third.end, "1"},
		{first.end, "12"},
		{func() { fmt.Fprint(second, "2") }, "122"},
		{second.end, "122"},
	} {
		if step.do(); told.String() != step.want {
			t.Errorf("told %q, want %q", told.String(), step.want)
		}
	}
}
