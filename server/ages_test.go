package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// flatReference is what R makes of the two files beside it; fit.json names the packages, and fit.R is how.
type flatReference struct {
	Stems map[string]struct {
		Mean  float64 `json:"mean"`
		Size  float64 `json:"size"`
		Error float64 `json:"se_log_mean"`
	} `json:"stems"`
	StemsLogLik   float64            `json:"stems_loglik"`
	Grades        map[string]float64 `json:"grades"`
	GradesLogLik  float64            `json:"grades_loglik"`
	Lengths       map[string]float64 `json:"lengths"`
	LengthsLogLik float64            `json:"lengths_loglik"`
}

func TestTheFlatModelsOfTwoFilesAreThoseOfR(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("..", "testdata", "reference", "ages_flat"))
	if err != nil {
		t.Fatal(err)
	}
	var want flatReference
	written, err := os.ReadFile(filepath.Join(folder, "fit.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(written, &want); err != nil {
		t.Fatal(err)
	}
	out, errs, ok := said(t, "ages", "-plants", filepath.Join(folder, "plants.csv"), "-cuts", filepath.Join(folder, "cuts.csv"), "-prior", "flat")
	if !ok {
		t.Fatal(errs)
	}
	var got yield.Report
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	const wald = 1.6448536269514722 // the normal's 95 % point
	for _, a := range got.Ages {
		r := want.Stems[fmt.Sprint(a.Age)]
		near(t, fmt.Sprint("mean of age ", a.Age), float64(a.Stems.Mean), r.Mean, 1e-5)
		near(t, fmt.Sprint("size of age ", a.Age), float64(a.Stems.Size)/r.Size, 1, 1e-5)
		near(t, fmt.Sprint("hi of age ", a.Age), float64(a.Stems.Hi)/(r.Mean*math.Exp(wald*r.Error)), 1, 1e-4)
	}
	near(t, "stems' log-likelihood", got.StemsModel.LogLik, want.StemsLogLik, 1e-6)
	// R's clmm stopped within some 2e-5 of the maximum.
	for cut, value := range got.GradeModel.Thresholds {
		near(t, cut, float64(value), want.Grades[cut], 1e-4)
	}
	near(t, "grades of age 2", float64(got.GradeModel.Age["2"]), want.Grades["age2"], 1e-4)
	near(t, "grades of age 3", float64(got.GradeModel.Age["3"]), want.Grades["age3"], 1e-4)
	near(t, "grades in fall", float64(got.GradeModel.Flush[crop.FlushFall]), want.Grades["fall"], 1e-4)
	near(t, "grades' sd of plants", float64(got.GradeModel.PlantSD), want.Grades["plant_sd"], 1e-4)
	near(t, "grades' log-likelihood", got.GradeModel.LogLik, want.GradesLogLik, 1e-4)
	near(t, "lengths of age 2", float64(got.LengthModel.Age["2"]), want.Lengths["age2"], 1e-6)
	near(t, "lengths in fall", float64(got.LengthModel.Flush[crop.FlushFall]), want.Lengths["fall"], 1e-6)
	near(t, "lengths' sd", float64(got.LengthModel.SD), want.Lengths["sd"], 1e-6)
	near(t, "lengths' log-likelihood", got.LengthModel.LogLik, want.LengthsLogLik, 1e-6)
	spring := got.Ages[1].LengthCM[crop.FlushSpring]
	near(t, "length of age 2 in spring", float64(spring.Mean), want.Lengths["(Intercept)"]+want.Lengths["age2"], 1e-5)
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.10g, want %.10g within %g", what, got, want, tolerance)
	}
}
