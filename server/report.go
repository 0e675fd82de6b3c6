package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"time"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/report"
	"corymb/internal/report/pages"
	"corymb/server/about"
	"corymb/server/answers"
	"corymb/server/httpapi"
	"corymb/server/store"
)

// reportCommand writes the report of one season of a farm that nobody serves at the moment, as PDF.
func reportCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("report")
	data := dataFlag(set)
	season := set.Int("season", 0, "the `year` of the season's spring, like 2027")
	language := set.String("language", string(report.English), "the `language` of the report: en or es")
	paper := set.String("paper", "a4", "what it is printed on: a4 or letter")
	to := set.String("out", "", "the PDF `file` to write, which is not there yet")
	if err := parse(set, args); err != nil {
		return err
	}
	asked := httpapi.ReportAsked{Season: crop.Season(*season), Language: report.Language(*language), Paper: *paper}
	_, known := pages.Papers[*paper]
	switch {
	case *to == "":
		return wrongUsage(set, "name the file to write: -out report.pdf")
	case *season == 0:
		return wrongUsage(set, "name the season by the year of its spring: -season 2027")
	case !asked.Language.Known():
		return wrongUsage(set, "-language %s is not known: use en or es", *language)
	case !known:
		return wrongUsage(set, "-paper %s is not known: use a4 or letter", *paper)
	}
	if _, err := os.Lstat(*to); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s is there already, and nothing is written over it: name another file with -out", *to)
	}
	pdf, err := reportOf(ctx, *data, asked)
	if err != nil {
		return err
	}
	if err := writeNew(*to, pdf); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s holds the report of season %d.\n", *to, *season)
	return nil
}

// reportOf opens a farm and makes its report.
func reportOf(ctx context.Context, data string, asked httpapi.ReportAsked) (pdf []byte, err error) {
	if _, err := os.Stat(filepath.Join(data, store.FileName)); err != nil {
		return nil, fmt.Errorf("there is no farm to report on in %s: name its folder with -data", data)
	}
	farm, err := store.Open(data, time.Now)
	var inUse *store.InUse
	if errors.As(err, &inUse) {
		return nil, fmt.Errorf("the farm in %s is being served: take its report from the Money page, or stop Corymb there first", data)
	}
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, farm.Close()) }()
	reports := httpapi.NewReports(httpapi.Config{
		Farm: farm, Ages: fitAges, Colours: judgeColours, Forecast: forecastAhead, Divide: division.Of, Kept: answers.In(farm.Dir(), about.Build()),
		Now: time.Now, Logger: slog.New(slog.NewTextHandler(os.Stderr, nil)),
	})
	pdf, _, err = reports.Make(ctx, asked)
	return pdf, err
}

// writeNew writes a file that is not there yet.
func writeNew(path string, content []byte) (err error) {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("making %s: %w; name another file with -out", path, err)
	}
	_, err = file.Write(content)
	if err = errors.Join(err, file.Close()); err != nil {
		return errors.Join(fmt.Errorf("writing %s: %w; name another file with -out", path, err), removeIfThere(path))
	}
	return nil
}
