package main

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

var (
	largePlants = flag.Int("ages.plants", 5_000, "plants of the farm that BenchmarkAgesOfALargeFarm fits")
	largeKept   = flag.String("ages.keep", "", "a folder for that farm's plants.csv and cuts.csv, to fit elsewhere")
	besideR     = flag.Bool("ages.r", false, "fit the stems of that farm by R's glmmTMB and its grades by ordinal's clmm too; the latter takes some twenty minutes")
)

// BenchmarkAgesOfALargeFarm reads, fits and reports in one process of its own:
//
//	go test -run '^$' -bench AgesOfALargeFarm -benchtime 1x ./server
func BenchmarkAgesOfALargeFarm(b *testing.B) {
	dir := b.TempDir()
	if *largeKept != "" {
		dir = *largeKept
	}
	stems := writeLargeFarm(b, dir, *largePlants)
	for b.Loop() {
		measureProcess(b, "", program(b, "ages", "-plants", filepath.Join(dir, "plants.csv"), "-cuts", filepath.Join(dir, "cuts.csv")))
	}
	b.ReportMetric(float64(stems), "stems")
	if *besideR {
		for _, model := range []string{"stems", "grades"} {
			beside := exec.Command("Rscript", "-e", besideInR, model)
			beside.Dir = dir
			measureProcess(b, "r-"+model+"-", beside)
		}
	}
}

// besideInR is the nearest that R's packages fit of the same models.
const besideInR = `
what <- commandArgs(TRUE)[1]
plants <- read.csv("plants.csv"); cuts <- read.csv("cuts.csv"); last <- 2026
plants$first <- as.integer(substr(plants$planted, 1, 4)) + 1
if (what == "stems") {
  library(glmmTMB)
  seasons <- merge(plants, data.frame(year = 2023:last)); seasons <- seasons[seasons$year >= seasons$first, ]
  cut <- aggregate(stems ~ plant + year, transform(cuts, year = as.integer(substr(date, 1, 4))), sum)
  s <- merge(seasons, cut, all.x = TRUE); s$stems[is.na(s$stems)] <- 0
  s$age <- factor(s$year - s$first + 1); s$season <- factor(s$year)
  m <- glmmTMB(stems ~ age + (1 | plant) + (1 | bed) + (1 | season), dispformula = ~age, family = nbinom2, data = s)
  print(confint(m))
} else {
  library(ordinal)
  cuts$grade <- factor(cuts$grade, levels = c("out", "second", "first", "extra"), ordered = TRUE)
  cuts$age <- factor(cuts$age); cuts$flush <- factor(cuts$flush, levels = c("spring", "fall"))
  m <- clmm(grade ~ age + flush + (1 | plant) + (1 | bed), weights = stems, data = cuts)
  print(summary(m))
}`

func measureProcess(b *testing.B, name string, cmd *exec.Cmd) {
	b.Helper()
	begun := time.Now()
	said, err := cmd.Output()
	if err != nil || len(said) == 0 {
		b.Fatalf("%s: %v", cmd.Path, err)
	}
	b.ReportMetric(time.Since(begun).Seconds(), name+"wall-s")
	b.ReportMetric((cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), name+"cpu-s")
	b.ReportMetric(float64(cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss)/1024, name+"rss-MB")
}

// writeLargeFarm writes plants in beds of 200, a third of them set out in each of three falls, and what they
// gave in up to four seasons, stem by stem; it returns the number of stems.
func writeLargeFarm(b *testing.B, dir string, plants int) (stems int) {
	b.Helper()
	source := rand.New(rand.NewPCG(20260501, 0))
	var plantsFile, cutsFile strings.Builder
	fmt.Fprintln(&plantsFile, "plant,stock,bed,planted")
	fmt.Fprintln(&cutsFile, "date,plant,stock,bed,planted,age,flush,grade,length_cm,stems")
	bedEffect := 0.0
	for i := range plants {
		if i%200 == 0 {
			bedEffect = 0.2 * source.NormFloat64()
		}
		planted := 2022 + i/200%3
		about := fmt.Sprintf("p%05d,hill strain,bed %d,%d-10-01", i, i/200, planted)
		fmt.Fprintln(&plantsFile, about)
		effect, better := 0.3*source.NormFloat64(), 0.7*source.NormFloat64()
		for season := planted + 1; season <= 2026; season++ {
			age := season - planted
			mean := 12.4 * (1 - math.Exp(-0.9*float64(age))) * math.Exp(bedEffect+effect)
			for range countOfSizeFour(source, mean) {
				fmt.Fprintln(&cutsFile, oneStem(source, about, season, age, better))
				stems++
			}
		}
	}
	must(b, os.WriteFile(filepath.Join(dir, "plants.csv"), []byte(plantsFile.String()), 0o600))
	must(b, os.WriteFile(filepath.Join(dir, "cuts.csv"), []byte(cutsFile.String()), 0o600))
	return stems
}

// countOfSizeFour is negative binomial, being the sum of four geometric counts.
func countOfSizeFour(source *rand.Rand, mean float64) int {
	sum := 0
	for range 4 {
		sum += int(math.Log(source.Float64()) / math.Log(mean/(4+mean)))
	}
	return sum
}

// oneStem is a row of a stem of an age, of a plant whose heads are by so many logits better than others'.
func oneStem(source *rand.Rand, about string, season, age int, better float64) string {
	flush, month, shorter := "spring", 5, 0.0
	if source.IntN(3) == 0 {
		flush, month, shorter = "fall", 9, 6.0
	}
	u := source.Float64()
	logistic := math.Log(u / (1 - u))
	quality := 0.4*float64(age-1) - shorter/12 + better + logistic
	grade := 0
	for _, threshold := range []float64{-1.5, 0, 1.2} {
		if quality > threshold {
			grade++
		}
	}
	length := 45 + 5*float64(age) - shorter + 2*float64(grade) + 3*better + 6*source.NormFloat64()
	class := 10 * int(max(1, math.Floor(length/10)))
	return fmt.Sprintf("%d-%02d-%02d,%s,%d,%s,%s,%d,1", season, month, 1+source.IntN(28), about, age, flush,
		[]string{"out", "second", "first", "extra"}[grade], class)
}
