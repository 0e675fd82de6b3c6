package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"time"

	"corymb/internal/packing"
)

// started is when the process began, as nearly as it can know.
var started = time.Now()

// packTime is how long the plan may be looked for where all of it may take so many seconds: the process had to begin, and
// has to print and end.
func packTime(seconds float64) time.Duration {
	const share, least = 0.06, 0.05
	return time.Duration(max(seconds*(1-share)-least, seconds/2) * float64(time.Second))
}

// packCommand plans which stems go to which buyers.
func packCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("pack")
	in := set.String("in", "", "the day, a JSON file; - reads it from standard input")
	seconds := set.Float64("seconds", 5, "how long all of it may take; past that the best plan so far is printed, with how much better another could be")
	format := set.String("format", "json", "how to print it: json, or text for what a person reads")
	if err := parse(set, args); err != nil {
		return err
	}
	switch {
	case *format != "json" && *format != "text":
		return wrongUsage(set, "-format %s is not known: use json or text", *format)
	case *in == "":
		return wrongUsage(set, "say with -in which day to plan")
	case !(*seconds > 0) || *seconds > 1e6:
		return wrongUsage(set, "-seconds %v is no time: use a number above 0", *seconds)
	}
	day, notes, err := readDay(*in)
	warn(notes)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithDeadline(ctx, started.Add(packTime(*seconds)))
	defer cancel()
	plan, err := packing.Solve(ctx, day, packing.Options{OneMore: true})
	if err != nil {
		return err
	}
	warn(plan.Warnings)
	plan.Warnings = append(notes, plan.Warnings...)
	plan.Seconds = float64(time.Since(started).Milliseconds()) / 1000
	if *format == "text" {
		_, err := io.WriteString(out, plan.Text())
		return err
	}
	printer := json.NewEncoder(out)
	printer.SetIndent("", " ")
	return printer.Encode(plan)
}

// warn tells what is odd; the plan has it too.
func warn(notes []packing.Note) {
	for _, note := range notes {
		fmt.Fprintf(os.Stderr, "corymb: %s\n", note.Text)
	}
}

// readDay reads a day, and what is odd about it.
func readDay(path string) (packing.Day, []packing.Note, error) {
	from := io.Reader(os.Stdin)
	if path != "-" {
		text, err := os.ReadFile(path)
		if err != nil {
			return packing.Day{}, nil, fmt.Errorf("reading the day: %w", err)
		}
		from = bytes.NewReader(text)
	}
	return packing.Read(from)
}
